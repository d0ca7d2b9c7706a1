// The running order: a name to keep this view by, the list with its presses, a file out and a file in. Every text is set as text.
/** @import { Page, RunningOrder, RunningTold, RunningAct } from "../messages" */

/** @type {(tag: string, set?: object, ...inside: (string | Node)[]) => any} */
const make = (tag, set = {}, ...inside) => {
  const at = Object.assign(document.createElement(tag), set);
  at.append(...inside);
  return at;
};

/** @param {Page<RunningOrder>} page */
export function render({ model, el }) {
  /** @type {(message: RunningAct) => void} */
  const send = (message) => model.send_msg(message);
  const button = (text, message, label) => {
    const at = make("button", { type: "button", textContent: text });
    if (label) at.setAttribute("aria-label", label);
    at.addEventListener("click", () => send(message));
    return at;
  };

  const name = make("input", { type: "text", maxLength: 200, autocomplete: "off" });
  const keep = make("button", { type: "submit", textContent: "Keep it" });
  const naming = make("form", { className: "line" }, make("label", {}, make("span", { textContent: "name of this view" }), name), keep);
  naming.addEventListener("submit", (event) => {
    event.preventDefault();
    send({ act: "keep", name: name.value });
    name.dataset.sent = name.value;
  });
  const alert = make("div", { className: "faults" });
  alert.setAttribute("role", "alert");
  const list = make("ol");
  const back = button("‹ Previous view", { act: "walk", by: -1 });
  const next = button("Next view ›", { act: "walk", by: 1 });
  const save = button("Save the list", { act: "save" });
  const steps = make("div", { className: "line" }, back, next, save);
  const file = make("input", { type: "file", accept: ".toml" });
  file.addEventListener("change", async () => {
    const brought = await window.files.brought(file);
    if (brought) send({ act: "bring", ...brought });
  });
  const opening = make("label", { className: "opening" }, make("span", { textContent: "Open a list (.toml, at most 120 kB); it takes the place of this one" }), file);
  el.append(
    make("h2", { textContent: "Prepared views" }),
    make("p", { textContent: "Name what you want to show, in the order you want to show it, and step through it here or, with N and P, in the hall view. Over the tabs a view is kept, and stepped to, under any of them. The list is yours: it is in no link. This tab of the browser keeps it over a reload; save it to keep it longer." }),
    naming, alert, list, steps, opening,
  );

  function row(text, place, count, here) {
    const open = button(text, { act: "open", place });
    open.className = "open";
    if (here) open.setAttribute("aria-current", "true");
    const up = button("▲", { act: "move", place, by: -1 }, `Move up: ${text}`);
    const down = button("▼", { act: "move", place, by: 1 }, `Move down: ${text}`);
    const off = button("×", { act: "off", place }, `Take off: ${text}`);
    up.disabled = place === 0;
    down.disabled = place === count - 1;
    return make("li", { className: here ? "here" : "" }, open, make("span", { className: "presses" }, up, down, off));
  }

  let heard = 0;
  function draw() {
    /** @type {RunningTold} */
    const now = JSON.parse(model.told);
    if (!now.names) return;
    // A press makes the rows anew; the focus goes where the same press stands now, so that keys can go on.
    const focused = /** @type {ShadowRoot} */ (el.getRootNode()).activeElement?.getAttribute("aria-label");
    list.replaceChildren(...now.names.map((text, place) => row(text, place, now.names.length, place === now.at)));
    if (focused) [...list.querySelectorAll("button:enabled")].find((at) => at.getAttribute("aria-label") === focused)?.focus();
    list.hidden = steps.hidden = !now.names.length;
    back.disabled = now.at <= 0;
    next.disabled = now.at === now.names.length - 1;
    alert.replaceChildren(...now.faults.map((fault) => make("p", { textContent: fault })));
    if (now.heard > heard && !now.faults.length && name.dataset.sent === name.value) name.value = "";
    heard = now.heard;
  }
  draw();
  model.on("told", draw);
  model.on("saved", () => {
    if (!model.saved) return;
    const { file: called, text } = JSON.parse(model.saved);
    window.files.taken(el, called, text, "application/toml");
  });
}
