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
  const about = make("div");
  el.append(
    make("h2", { textContent: "Prepared views" }),
    about, naming, alert, list, steps, opening,
  );

  const folded = new Set(); // names whose notes stand open
  function row(text, note, place, count, now) {
    const here = place === now.at;
    const open = button(text, { act: "open", place });
    open.className = "open";
    if (here) open.setAttribute("aria-current", "true");
    const up = button("▲", { act: "move", place, by: -1 }, `Move up: ${text}`);
    const down = button("▼", { act: "move", place, by: 1 }, `Move down: ${text}`);
    const over = button("Write over", { act: "over", place }, `Write over with what the page shows now: ${text}`);
    const off = button("×", { act: "off", place }, `Take off: ${text}`);
    up.disabled = place === 0;
    down.disabled = place === count - 1;
    const field = (tag, label, value, longest, act) => {
      const at = make(tag, { value, maxLength: longest });
      at.setAttribute("aria-label", `${label}: ${text}`);
      at.dataset.was = value;
      at.addEventListener("change", () => send(act(at.value)));
      return at;
    };
    const called = field("input", "Name", text, 200, (name) => ({ act: "rename", place, name }));
    const notes = field("textarea", "Notes", note, now.longest, (written) => ({ act: "note", place, note: written }));
    const more = make("details", { open: folded.has(text) }, make("summary", { textContent: note ? `Notes: ${note.slice(0, 80)}` : "Name and notes" }), called, notes);
    more.addEventListener("toggle", () => (more.open ? folded.add(text) : folded.delete(text)));
    return make("li", { className: here ? "here" : "" }, open, make("span", { className: "presses" }, up, down, over, off), more);
  }
  // What is being written stays as it is while the rows are made anew.
  function held() {
    /** @type {any} */
    const at = /** @type {ShadowRoot} */ (el.getRootNode()).activeElement;
    const label = at?.getAttribute("aria-label");
    const typed = at?.dataset.was !== undefined && at.value !== at.dataset.was ? [at.value, at.selectionStart] : null;
    return () => {
      /** @type {any[]} */
      const all = [...list.querySelectorAll("button:enabled, input, textarea")];
      const again = label && all.find((one) => one.getAttribute("aria-label") === label);
      if (!again) return;
      if (typed) again.value = typed[0];
      again.focus();
      if (typed) again.setSelectionRange(typed[1], typed[1]);
    };
  }

  let heard = 0;
  function draw() {
    /** @type {RunningTold} */
    const now = JSON.parse(model.told);
    if (!now.names) return;
    // A press makes the rows anew; the focus goes where the same press stands now, so that keys can go on.
    const again = held();
    about.replaceChildren(...now.about.map((text) => make("p", { textContent: text })));
    list.replaceChildren(...now.names.map((text, place) => row(text, now.notes[place], place, now.names.length, now)));
    again();
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
