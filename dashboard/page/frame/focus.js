/** What has the focus, however deep it lies. @returns {any} */
export function focused() {
  let at = document.activeElement;
  while (at?.shadowRoot?.activeElement) at = at.shadowRoot.activeElement;
  return at;
}
