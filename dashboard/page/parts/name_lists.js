// A list of names brought along: a field to paste into, a file, lists that stand ready; then what was found, what was not, and a press for
// each spelling that may have been meant. Every text is set as text.
/** @import { Page, NameLists, NameListsTold, NameListsAct } from "../messages" */
const LARGEST = 120000; // bytes; a longer text is told, not sent

/** @type {(tag: string, set?: object, ...inside: (string | Node)[]) => any} */
const make = (tag, set = {}, ...inside) => {
  const at = Object.assign(document.createElement(tag), set);
  at.append(...inside);
  return at;
};

/** @param {Page<NameLists>} page */
export function render({ model, el }) {
  /** @type {(message: NameListsAct) => void} */
  const send = (message) => model.send_msg(message);
  const button = (textContent, act) => {
    const at = make("button", { type: "button", textContent });
    at.addEventListener("click", act);
    return at;
  };

  const title = make("summary");
  const field = make("textarea", { rows: 4, spellcheck: false, autocomplete: "off" });
  const find = button("Find these names", () => {
    const size = new TextEncoder().encode(JSON.stringify(field.value)).length; // as it travels
    send({ act: "paste", size, text: size > LARGEST ? "" : field.value });
  });
  const file = make("input", { type: "file", accept: ".txt,.csv,.xlsx" });
  file.addEventListener("change", async () => {
    const brought = await window.files.brought(file);
    if (brought) send({ act: "bring", ...brought });
  });
  const ready = make("div", { className: "line" });
  const said = make("div");
  said.setAttribute("role", "status");
  const alert = make("div", { className: "faults" });
  alert.setAttribute("role", "alert");
  const list = make("ul");
  const more = make("p", { className: "more" });
  el.append(make("details", {}, title,
    make("label", {}, make("span", { textContent: "Names, one a line or parted by commas, semicolons or tabs; or a link to a slate" }), field),
    make("div", { className: "line" }, find),
    make("label", {}, make("span", { textContent: "Or open a file (.txt, .csv, .xlsx, a handout; at most 120 kB)" }), file),
    ready, alert, said, list, more,
  ));

  function missed({ text, near, at }) {
    const presses = near.map((name) => button(`use ${name}`, () => send({ act: "use", at, name })));
    return make("li", {}, make("span", { textContent: text + (near.length ? "" : "; nothing is spelled like it") }), ...presses);
  }
  function draw() {
    /** @type {NameListsTold} */
    const now = JSON.parse(model.told);
    if (!now.title) return;
    title.textContent = now.title;
    ready.replaceChildren(...now.ready.map((text, at) => button(text, () => send({ act: "ready", at }))));
    alert.replaceChildren(...now.faults.map((textContent) => make("p", { textContent })));
    said.replaceChildren(...now.said.map((textContent) => make("p", { textContent })));
    list.replaceChildren(...now.missed.map(missed));
    more.textContent = now.more;
    ready.hidden = !now.ready.length;
    list.hidden = !now.missed.length;
    more.hidden = !now.more;
  }
  draw();
  model.on("told", draw);
}
