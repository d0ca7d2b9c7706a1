// A button that copies the page's address, or says where it is to be copied from.
export function render({ el }) {
  const button = document.createElement("button");
  button.type = "button";
  button.className = "contained";
  const first = "Copy the link to this view";
  button.textContent = first;
  const say = (text) => { button.textContent = text; };
  button.addEventListener("click", async () => {
    try {
      await navigator.clipboard.writeText(location.href); // there is none on a page that came without encryption
      say("Copied");
      setTimeout(() => say(first), 4000); // another view has another address
    } catch {
      say("Copy it from the address bar");
    }
  });
  el.append(button);
}
