// A plain button.
/** @import { Page, Button } from "../messages" */
/** @param {Page<Button>} page */
export function render({ model, el }) {
  const button = document.createElement("button");
  button.type = "button";
  button.addEventListener("click", () => model.send_msg({}));
  function draw() {
    button.textContent = model.label;
    button.className = model.variant;
    button.disabled = model.disabled;
  }
  draw();
  model.on(["label", "variant", "disabled"], draw);
  el.append(button);
}
