// The prepared views in the browser's own storage, a list for each title of records. Where two pages write it, the server puts both
// together: what one page took off or wrote over is not brought back by the other, and what was added on either stays.
/** @import { Page, KeptViews } from "../messages" */

/** @param {Page<KeptViews>} page */
export function render({ model, el }) {
  el.style.display = "none";
  const key = `orchard-slate views: ${model.title}`;
  let known = ""; // what the storage held when this page last read or wrote it
  const stored = () => {
    try { return localStorage.getItem(key) ?? ""; } catch { return known; } // a browser may forbid it
  };
  function take() {
    const theirs = stored();
    if (theirs === known) return false;
    model.send_msg({ theirs, base: known });
    known = theirs;
    return true;
  }
  function keep() {
    if (take() || model.text === known) return;
    try {
      model.text ? localStorage.setItem(key, model.text) : localStorage.removeItem(key);
      known = model.text;
    } catch { /* full, or forbidden */ }
  }
  const changed = (event) => { if (event.key === key || event.key === null) take(); };
  addEventListener("storage", changed);
  model.on("remove", () => removeEventListener("storage", changed));
  model.on(["text", "said"], keep);
  take();
}
