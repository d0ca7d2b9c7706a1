// One page at a time takes what is typed: of two that write the same sample at once, one would lose it. Whose turn it is stands in both
// places that keep the samples: between pages that were opened from the disk, localStorage alone is not always passed on.

const OFTEN = 1000; // milliseconds: a browser that is busy may not tell at once of another page

/** The page that was opened last, or was told to go on, is the one. `turned` is called when this page stops being it, `stake` writes its
 * number to the disk. @param {string} name @param {() => void} turned @param {(page: string) => void} stake */
export function alone(name, turned, stake) {
  const me = `${Date.now()}.${Math.random()}`;
  let here = true;
  /** @param {string | null | undefined} whose */
  function heard(whose) {
    if (!here || !whose || whose === me) return;
    here = false;
    turned();
  }
  function claim() {
    here = true;
    try { localStorage.setItem(name, me); } catch { /* the disk may take it */ }
    stake(me);
  }
  addEventListener("storage", (event) => { if (event.key === name) heard(event.newValue); });
  setInterval(() => { try { heard(localStorage.getItem(name)); } catch { /* the disk may tell */ } }, OFTEN);
  claim();
  return { claim, heard, here: () => here };
}
