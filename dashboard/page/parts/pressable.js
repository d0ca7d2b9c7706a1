// Words of the server's with buttons in them: a press on one that has `data-keep` or `data-open` tells which cultivar is meant.
/** @import { Page, Pressable } from "../messages" */
/** @param {Page<Pressable>} page */
export function render({ model, el }) {
  const root = document.createElement("div");
  el.append(root);
  root.addEventListener("click", (event) => {
    const at = /** @type {Element} */ (event.target).closest("button");
    if (!at) return;
    if (at.dataset.keep !== undefined) model.send_msg({ keep: at.dataset.keep });
    else if (at.dataset.open !== undefined) model.send_msg({ open: at.dataset.open });
  });

  // What the server wrote it has escaped; a document that is only parsed runs nothing.
  function draw() {
    const shadow = /** @type {ShadowRoot} */ (root.getRootNode());
    const held = /** @type {HTMLElement | null} */ (shadow.activeElement);
    const { keep, open } = held && root.contains(held) ? held.dataset : {};
    const unfolded = [...root.querySelectorAll("details")].map((one) => one.open);
    root.replaceChildren(...new DOMParser().parseFromString(model.words, "text/html").body.childNodes);
    root.querySelectorAll("details").forEach((one, place) => { one.open = unfolded[place] || one.open; });
    if (keep === undefined && open === undefined) return;
    const same = [...root.querySelectorAll("button")].find((one) => one.dataset.keep === keep && one.dataset.open === open);
    same?.focus();
  }
  draw();
  model.on("words", draw);
  // What was asked for further down is answered here: it is brought under the top line, once all that goes has gone.
  model.on("msg:custom", () => setTimeout(() => {
    if (el.getBoundingClientRect().top >= 52) return;
    el.style.scrollMarginTop = "52px";
    el.scrollIntoView();
  }, 60));
}
