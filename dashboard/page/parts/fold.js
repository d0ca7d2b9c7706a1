// A part of the page under a plain heading, folded away until it is pressed.
/** @import { Page, Fold } from "../messages" */
/** @param {Page<Fold>} page */
export function render({ model, el }) {
  const folded = document.createElement("details");
  const heading = document.createElement("summary");
  heading.textContent = model.heading;
  folded.append(heading, model.get_child("inside"));
  folded.open = model.open;
  folded.addEventListener("toggle", () => { if (folded.open !== model.open) model.send_msg({ open: folded.open }); }); // some is made only then
  model.on("open", () => { folded.open = model.open; });
  el.append(folded);
}
