// A button that copies the page's address, or says where it is to be copied from.
export function render({ el }) {
  const button = document.createElement("button");
  button.type = "button";
  button.className = "contained";
  button.textContent = "Copy the link to this view";
  const say = (text) => { button.textContent = text; };
  button.addEventListener("click", async () => {
    try {
      await navigator.clipboard.writeText(location.href); // there is none on a page that came without encryption
      say("Copied");
    } catch {
      say("Copy it from the address bar");
    }
  });
  el.append(button);
}
