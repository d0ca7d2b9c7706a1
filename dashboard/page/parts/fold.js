// A part of the page under a plain heading, folded away until it is pressed.
/** @import { Page, Fold } from "../messages" */
/** @param {Page<Fold>} page */
export function render({ model, el }) {
  const folded = document.createElement("details");
  const heading = document.createElement("summary");
  heading.textContent = model.heading;
  folded.append(heading, model.get_child("inside"));
  folded.addEventListener("toggle", () => { if (folded.open) model.send_msg({}); }); // some is made only then
  el.append(folded);
}
