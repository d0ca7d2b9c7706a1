// One page at a time takes what is typed: of two that write the same sample at once, one would lose it.

const OFTEN = 1000; // milliseconds: a browser that is busy may not tell at once of another page

/** The page that was opened last, or was told to go on, is the one. `turned` is called when this page stops being it.
 * @param {string} name @param {() => void} turned */
export function alone(name, turned) {
  const me = `${Date.now()}.${Math.random()}`;
  let here = true;
  /** @param {string | null} whose */
  function heard(whose) {
    if (!here || !whose || whose === me) return;
    here = false;
    turned();
  }
  function claim() {
    here = true;
    try { localStorage.setItem(name, me); } catch { /* then no other page sees what this one keeps */ }
  }
  addEventListener("storage", (event) => { if (event.key === name) heard(event.newValue); });
  setInterval(() => { try { heard(localStorage.getItem(name)); } catch { /* as above */ } }, OFTEN);
  claim();
  return { claim, here: () => here };
}
