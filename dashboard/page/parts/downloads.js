// Buttons for files to take home, and a word while one is made. Every text is set as text.
/** @import { Page, Downloads } from "../messages" */
/** @param {Page<Downloads>} page */
export function render({ model, el }) {
  const line = document.createElement("div");
  line.className = "files";
  const word = document.createElement("p");
  word.setAttribute("role", "status");
  const buttons = model.labels.map((textContent, place) => {
    const button = Object.assign(document.createElement("button"), { type: "button", className: "outlined", textContent });
    button.addEventListener("click", () => model.send_msg({ make: place }));
    return button;
  });
  const stop = Object.assign(document.createElement("button"), { type: "button", className: "text stop", textContent: "Stop" });
  stop.addEventListener("click", () => model.send_msg({ stop: true }));
  line.append(...buttons);
  el.append(line, word, stop);
  function draw() {
    word.textContent = model.told;
    stop.hidden = !model.busy;
    buttons.forEach((button) => button.setAttribute("aria-disabled", String(model.busy)));
  }
  draw();
  model.on(["told", "busy"], draw);
  model.on("msg:custom", (made) => window.files.taken(el, made.file, made.content));
}
