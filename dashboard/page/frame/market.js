// The limits and wishes of one market as figures, sliders and tick boxes. Inputs are made once for each limit or wish and
// are never made anew under the visitor's hand; every text goes in as text. While a slider moves, at most one message goes
// out a frame and none before the last was answered; the last value always goes out.
/** @import { Page, MarketEditor, MarketTold, MarketPart } from "../messages" */
const SHAPES = [["larger", "the larger the better"], ["smaller", "the smaller the better"], ["target", "best at an ideal"]];
const HINTS = {
  larger: ({ from, to }) => `Nothing up to ${from}, fully from ${to}.`,
  smaller: ({ from, to }) => `Fully up to ${from}, nothing from ${to}.`,
  target: ({ from, ideal, to }) => `Fully at ${ideal}, nothing up to ${from} or from ${to}.`,
};
const PATIENCE = 3000; // milliseconds after which an answer is no longer waited for

/** @type {(tag: string, set?: object, ...inside: (string | Node)[]) => any} */
const make = (tag, set = {}, ...inside) => {
  const at = Object.assign(document.createElement(tag), set);
  at.append(...inside);
  return at;
};
const button = (text, act, label) => {
  const b = make("button", { type: "button", textContent: text });
  if (label) b.setAttribute("aria-label", label);
  b.addEventListener("click", act);
  return b;
};

/** @param {Page<MarketEditor>} page */
export function render({ model, el }) {
  let sent = 0; // messages sent; an answer to an earlier one must not take back what was done since
  let answered = 0; // the last one that what is told now answers
  let since = 0; // when the last one went out
  let framed = false;
  const waiting = new Map(); // what was changed and not yet sent: the last value of each field
  const shown = new Map(); // by id: the element of a limit or wish, and what brings it up to date

  const settled = () => answered >= sent && waiting.size === 0;
  function send(more) {
    const set = [...waiting.values()];
    waiting.clear();
    sent += 1;
    since = performance.now();
    model.send_msg({ tick: sent, set, ...more });
  }
  function flush() {
    framed = false;
    if (!waiting.size) return;
    if (answered >= sent || performance.now() - since > PATIENCE) send();
    else setTimeout(soon, PATIENCE); // only if no answer comes: an answer flushes by itself
  }
  function soon() {
    if (framed || !waiting.size) return;
    framed = true;
    requestAnimationFrame(flush);
  }
  function put(part, field, value) {
    waiting.set(part + " " + field, [part, field, value]);
    soon();
  }

  // A box for text. What is being typed stays until it is done with; then it is sent, good or not.
  function box(label, part, field, set = {}) {
    const input = make("input", { type: "text", autocomplete: "off", ...set });
    input.setAttribute("aria-label", label);
    input.dataset.field = field;
    let typing = false;
    input.addEventListener("input", () => { typing = true; });
    input.addEventListener("change", () => { typing = false; put(part, field, input.value); });
    return { input, show: (text) => { if (!typing && settled() && input.value !== text) input.value = text; } };
  }

  function figure(part, [field, label]) {
    const { input, show } = box(`${part.place}, ${label}`, part.id, field, { inputMode: "decimal" });
    const unit = make("span", { className: "unit" });
    const row = make("label", { className: "figure" }, make("span", { textContent: label.replace(" of fruit", "") }), input, unit);
    const update = (text, symbol) => { show(text); unit.textContent = symbol; };
    if (field !== "weight") return { row, input, update };
    const slider = make("input", { type: "range", min: 0.5, max: 10, step: 0.5 });
    slider.setAttribute("aria-label", `${part.place}, weight, slider`);
    slider.addEventListener("input", () => { input.value = slider.value; put(part.id, field, slider.value); });
    input.addEventListener("change", () => { slider.value = input.value; });
    row.classList.add("weight");
    row.append(slider);
    return {
      row, input,
      update: (text) => { show(text); if (settled() && slider.value !== text) slider.value = text; },
    };
  }

  /** @param {MarketPart} part */
  function made(part) {
    const alert = make("p", { className: "fault" });
    alert.setAttribute("role", "alert");
    const rows = make("div", { className: "rows" });
    const name = make("span");
    const away = button("×", () => send({ act: "remove", part: part.id }), `Remove: ${part.place}`);
    away.className = "away";
    const root = make("div", { className: "part" }, make("div", { className: "head" }, name, away), rows, alert);
    root.setAttribute("role", "group");
    root.setAttribute("aria-label", part.place);
    root.dataset.id = part.id;
    const fields = new Map();
    const words = new Map();
    const shape = make("select");
    const hint = make("p", { className: "hint" });
    if (part.words) {
      part.words.forEach(([word]) => {
        const input = make("input", { type: "checkbox" });
        input.addEventListener("change", () => put(part.id, "word " + word, input.checked));
        words.set(word, input);
        rows.append(make("label", { className: "option" }, input, make("span", { textContent: word })));
      });
      rows.classList.add("words");
    } else if (part.what === "wish") {
      shape.append(...SHAPES.map(([value, textContent]) => make("option", { value, textContent })));
      shape.setAttribute("aria-label", `${part.place}, which way`);
      shape.addEventListener("change", () => put(part.id, "shape", shape.value));
      root.insertBefore(shape, rows);
      root.insertBefore(hint, alert);
    }

    function update(now, fault) {
      name.textContent = now.unit ? `${now.title} (${now.unit})` : now.title;
      (now.words || []).forEach(([word, on]) => { if (settled()) words.get(word).checked = on; });
      const wanted = new Set((now.fields || []).map(([field]) => field));
      fields.forEach((made, field) => { made.row.hidden = !wanted.has(field); });
      (now.fields || []).forEach(([field, label, text], place) => {
        if (!fields.has(field)) {
          const made = figure(now, [field, label]);
          fields.set(field, made);
          const next = [...rows.children].filter((row) => !row.hidden)[place];
          rows.insertBefore(made.row, next || null);
        }
        const at = fields.get(field);
        at.update(text, field === "share" ? "%" : "");
        const bad = Boolean(fault) && fault.field === field;
        at.input.setAttribute("aria-invalid", String(bad));
      });
      if (now.shape && settled()) shape.value = now.shape;
      if (now.what === "wish") {
        const said = Object.fromEntries(now.fields.map(([field, , text]) => [field, text || "…"]));
        hint.hidden = Boolean(fault); // it would tell the figures that cannot be followed
        hint.textContent = HINTS[now.shape](said) + (now.note ? ` (${now.note})` : "");
      }
      const told = fault ? fault.text : "";
      if (alert.textContent !== told) alert.textContent = told;
    }
    return { root, update };
  }

  // What stands on the page whatever the market is.
  const title = make("summary");
  const standing = make("p", { className: "standing" });
  const alert = make("p", { className: "fault" });
  alert.setAttribute("role", "alert");
  const back = button("", () => send({ act: "back" }));
  const lists = {};
  const sections = [["limit", "Limits: must hold", "Add a limit"], ["wish", "Wishes: are weighed", "Add a wish"]].map(
    ([what, heading, label]) => {
      const list = make("div", { className: "list" });
      const select = make("select");
      select.setAttribute("aria-label", `${label} on`);
      const add = button(label, () => { if (select.value) send({ act: "add", what, key: select.value }); });
      lists[what] = { list, select, add, offered: "" };
      return make("section", {}, make("h2", { textContent: heading }), list, make("div", { className: "add" }, select, add));
    },
  );
  const called = box("Name of the copy", "", "name", { maxLength: 200 });
  const about = box("What the copy is for", "", "summary", { maxLength: 1000 });
  const save = button("Save a copy", () => send({ act: "save" }));
  const file = make("input", { type: "file", accept: ".toml" });
  file.addEventListener("change", async () => {
    const brought = await window.files.brought(file);
    if (brought) send({ act: "open", ...brought });
  });
  const keeping = make("section", {}, make("h2", { textContent: "Take it home, bring one along" }),
    make("label", { className: "called" }, make("span", { textContent: "name" }), called.input),
    make("label", { className: "called" }, make("span", { textContent: "what it is for" }), about.input), save);
  const opening = make("label", { className: "opening" }, make("span", { textContent: "Open a profile (.toml, at most 120 kB)" }), file);
  const body = make("div", { className: "body" }, standing, back, ...sections, keeping, opening, alert);
  el.append(make("details", {}, title, body));

  function draw() {
    /** @type {MarketTold} */
    const now = JSON.parse(model.told);
    if (!now.parts) return;
    answered = now.tick;
    title.textContent = now.title;
    standing.textContent = now.standing;
    back.textContent = now.back;
    back.hidden = !now.back;
    keeping.hidden = !now.saves;
    called.show(now.name);
    about.show(now.summary);
    const fault = now.fault || { part: "", text: "" };
    const here = now.note || (fault.part ? "" : fault.text);
    if (alert.textContent !== here) alert.textContent = here;
    const there = new Set(now.parts.map((part) => part.id));
    const held = answered >= sent; // an older answer makes nothing and takes nothing away
    shown.forEach((part, id) => {
      if (there.has(id) || !held) return;
      if (part.root.contains(/** @type {ShadowRoot} */ (el.getRootNode()).activeElement)) lists[id.split("-")[0]].select.focus();
      part.root.remove();
      shown.delete(id);
    });
    const places = { limit: 0, wish: 0 };
    now.parts.forEach((part) => {
      if (!shown.has(part.id)) shown.set(part.id, made(part));
      const { root, update } = shown.get(part.id);
      const { list } = lists[part.what];
      const standing = list.children[places[part.what]++];
      if (standing !== root) list.insertBefore(root, standing ?? null);
      update(part, fault.part === part.id ? fault : null);
    });
    if (now.added && shown.has(now.added)) shown.get(now.added).root.querySelector("input, select")?.focus();
    Object.entries(lists).forEach(([what, { select, add }]) => {
      const missing = JSON.stringify(now.missing[what]);
      if (missing === lists[what].offered) return;
      lists[what].offered = missing;
      select.replaceChildren(...now.missing[what].map(([value, textContent]) => make("option", { value, textContent })));
      add.disabled = select.disabled = !now.missing[what].length;
    });
  }
  function download() {
    if (!model.saved) return;
    const { file: name, text } = JSON.parse(model.saved);
    window.files.taken(el, name, text, "application/toml");
  }
  draw();
  model.on("told", () => { draw(); soon(); });
  model.on("saved", download);
}
