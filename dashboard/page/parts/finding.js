// A field with the names that it finds under it. Arrows move among them, Enter takes the one that is marked, Escape takes none.
// Whoever presses Enter before the answer is there is given the first name that holds what was typed, once it is.
/** @import { Page, Finder, FinderTold } from "../messages" */
/** @type {(tag: string, set?: object, ...inside: (string | Node)[]) => any} */
const make = (tag, set = {}, ...inside) => {
  const at = Object.assign(document.createElement(tag), set);
  at.append(...inside);
  return at;
};

/** @param {Page<Finder>} page */
export function render({ model, el }) {
  const field = make("input", { type: "text", id: "field", autocomplete: "off", spellcheck: false, maxLength: 200 });
  const label = make("label", { htmlFor: "field" });
  const note = make("p", { className: "note" });
  const list = make("ul", { id: "found" });
  const more = make("p", { className: "more" });
  const found = make("div", { className: "found", hidden: true }, note, list, more);
  const search = make("div", { className: "search" }, label, field, found);
  for (const [name, value] of [["role", "combobox"], ["aria-autocomplete", "list"], ["aria-controls", "found"]]) field.setAttribute(name, value);
  list.setAttribute("role", "listbox");
  list.setAttribute("aria-label", "Cultivars found");
  for (const said of [note, more]) said.setAttribute("role", "status");
  el.append(search);

  let at = 0; // the place of the marked name
  let open = false;
  let awaited = false; // Enter was pressed before the answer came
  /** @type {() => FinderTold} */
  const now = () => JSON.parse(model.told);
  const answered = () => now().part === field.value;

  function mark(place) {
    at = Math.max(0, Math.min(place, list.children.length - 1));
    [...list.children].forEach((one, n) => one.setAttribute("aria-selected", String(n === at)));
    const marked = list.children[at];
    marked?.scrollIntoView({ block: "nearest" });
    marked ? field.setAttribute("aria-activedescendant", marked.id) : field.removeAttribute("aria-activedescendant");
  }
  function close() {
    open = awaited = false;
    draw();
  }
  function take(name) {
    model.send_msg({ take: name });
    field.value = model.value;
    close();
    el.dispatchEvent(new CustomEvent("taken", { bubbles: true, composed: true }));
  }
  function draw() {
    const told = now();
    const shown = open && told.part === field.value && field.value.trim() !== "";
    found.hidden = !shown;
    field.setAttribute("aria-expanded", String(shown));
    list.replaceChildren(...(shown ? told.hits : []).map(([name, about], n) => {
      const called = make("span", { className: "name", id: `name${n}`, textContent: name });
      const known = make("span", { className: "about", id: `about${n}`, textContent: about });
      const one = make("li", { id: `hit${n}` }, called, known);
      for (const [key, value] of [["role", "option"], ["aria-labelledby", called.id], ["aria-describedby", known.id]]) one.setAttribute(key, value);
      one.addEventListener("pointerdown", (event) => event.preventDefault()); // the field keeps the focus
      one.addEventListener("click", () => take(name));
      return one;
    }));
    list.hidden = !list.children.length;
    note.textContent = told.note ?? "";
    note.hidden = !told.note;
    more.textContent = told.more ? `and ${told.more.toLocaleString()} more: type on` : "";
    more.hidden = !told.more;
    mark(0);
  }
  function arrived() {
    draw();
    if (!awaited || !answered()) return;
    awaited = false;
    const { held, hits } = now();
    if (held) take(hits[0][0]);
  }
  field.addEventListener("input", () => {
    open = field.value.trim() !== "";
    awaited = false;
    if (open && !answered()) model.send_msg({ find: field.value });
    draw();
  });
  field.addEventListener("keydown", (event) => {
    if (event.key === "Enter") {
      event.preventDefault();
      if (!open) return;
      if (answered()) list.children[at]?.click();
      else awaited = true;
    } else if (event.key === "ArrowDown" || event.key === "ArrowUp") {
      event.preventDefault();
      mark(at + (event.key === "ArrowDown" ? 1 : -1));
    } else if (event.key === "Escape") {
      field.value = model.value;
      close();
    }
  });
  field.addEventListener("focus", () => field.select());
  field.addEventListener("blur", () => {
    field.value = model.value;
    close();
  });
  function stand() {
    label.textContent = model.label;
    field.disabled = model.disabled;
    search.classList.toggle("large", model.large);
    field.placeholder = model.large ? model.label : ""; // there the label is for ears alone
    if (!open) field.value = model.value;
  }
  stand();
  draw();
  model.on("told", arrived);
  model.on(["label", "value", "large", "disabled"], stand);
}
