// Buttons for files to take home, and a word while one is made. Every text is set as text.
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
  line.append(...buttons);
  el.append(line, word);
  function draw() {
    word.textContent = model.told;
    buttons.forEach((button) => button.setAttribute("aria-disabled", model.busy));
  }
  draw();
  model.on(["told", "busy"], draw);
  model.on("msg:custom", (made) => {
    const link = Object.assign(document.createElement("a"), { href: URL.createObjectURL(new Blob([made.content])), download: made.file });
    el.append(link);
    link.click();
    link.remove();
    setTimeout(() => URL.revokeObjectURL(link.href), 10000);
  });
}
