// A button that copies an address, or says where it is to be copied from.
/** @import { Page, Copying } from "../messages" */
/** @param {Page<Copying>} page */
export function render({ model, el }) {
  const button = document.createElement("button");
  button.type = "button";
  button.className = "contained";
  const say = (text) => { button.textContent = text; };
  button.addEventListener("click", async () => {
    try {
      await navigator.clipboard.writeText(new URL(model.query || location.href, location.href).href); // there is none on a page that came without encryption
      say("Copied");
      setTimeout(draw, 4000); // another view has another address
    } catch {
      say("Copy it from the address bar");
    }
  });
  function draw() { say(model.label); }
  draw();
  model.on("label", draw);
  el.append(button);
}
