// In a narrow window the choices lie beside the page: they come over it when they are asked for, and go by this button, Escape, or a press beside them.
export function render({ model, el }) {
  const shut = Object.assign(document.createElement("button"), { type: "button", className: "contained", textContent: "Show the cultivars" });
  el.append(shut);
  let opener = null;
  const sides = () => {
    const column = /** @type {any} */ (el.getRootNode()).host;
    return { column, body: column.getRootNode().host };
  };
  const stands = () => sides().body.classList.contains("choosing");
  function close() {
    if (!stands()) return;
    sides().body.classList.remove("choosing");
    opener?.focus();
  }
  function open(event) {
    opener = document.activeElement;
    while (opener?.shadowRoot?.activeElement) opener = opener.shadowRoot.activeElement;
    const { column, body } = sides();
    body.classList.add("choosing");
    column.scrollTop = 0;
    const find = (root) => [...root.querySelectorAll("*")].reduce((found, at) => found ?? (at.dataset?.field === event.detail ? at : at.shadowRoot ? find(at.shadowRoot) : null), null);
    // Past who buys, where the filters are meant.
    if (!event.detail) [...column.shadowRoot.querySelectorAll("*")].at(-1)?.scrollIntoView?.({ block: "nearest" });
    const field = event.detail && find(column.shadowRoot);
    (field?.querySelector("input") ?? shut).focus({ preventScroll: !field });
  }
  const onKey = (event) => { if (event.key === "Escape" && stands()) { event.preventDefault(); close(); } };
  const onPress = (event) => { if (stands() && !event.composedPath().includes(sides().column)) { event.preventDefault(); close(); } };
  shut.addEventListener("click", close);
  addEventListener("choices", open);
  document.addEventListener("keydown", onKey);
  document.addEventListener("pointerdown", onPress);
  model.on("remove", () => {
    removeEventListener("choices", open);
    document.removeEventListener("keydown", onKey);
    document.removeEventListener("pointerdown", onPress);
  });
}
