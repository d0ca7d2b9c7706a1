// The line at the top: undo by button and by key, the prepared view that stands, the two sheets, units. A press beside an open sheet, or Escape, closes it.
import { focused } from "./focus.js";
/** @import { Page, Header } from "../messages" */
const WRITES = /^(text|search|number|email|url|tel|password|date|time|month|week|datetime-local)$/;

function writing() {
  const at = focused();
  return Boolean(at) && (at.isContentEditable || at.tagName === "TEXTAREA" || (at.tagName === "INPUT" && WRITES.test(at.type)));
}

/** @param {Page<Header>} page */
export function render({ model, el }) {
  /** @type {(tag: string, set?: object, ...inside: (string | Node)[]) => any} */
  const make = (tag, set = {}, ...inside) => {
    const at = Object.assign(document.createElement(tag), set);
    at.append(...inside);
    return at;
  };
  const button = (text, className, title, press) => {
    const at = make("button", { type: "button", className, title, textContent: text });
    at.addEventListener("click", press);
    return at;
  };
  const press = (act) => () => model.send_msg({ act });
  const sheet = (name, text, title) => {
    const at = button(text, "open", title, () => model.send_msg({ sheet: model.sheet === name ? "" : name, at: location.href }));
    at.setAttribute("aria-haspopup", "dialog");
    at.setAttribute("aria-label", text); // without the arrow that is drawn behind it
    return at;
  };
  const undo = button("↶", "undo", "Take the last choice back (Ctrl+Z)", press("undo"));
  undo.append(make("span", { textContent: " Undo" }));
  const redo = button("↷ Redo", "redo", "Make it again (Ctrl+Shift+Z)", press("redo"));
  undo.setAttribute("aria-label", "Undo");
  redo.setAttribute("aria-label", "Redo");
  const before = button("‹", "walk", "The prepared view before", press("before"));
  before.setAttribute("aria-label", "Previous prepared view");
  const next = button("›", "walk", "The next prepared view", press("next"));
  next.setAttribute("aria-label", "Next prepared view");
  const place = make("span", { className: "place walk" });
  const sheets = { share: sheet("share", "Share", "Link, code, files, pictures"), present: sheet("present", "Present", "The hall, and your prepared views") };
  const units = make("select", {}, ...model.offered.map(([value, text]) => make("option", { value, textContent: text })));
  units.setAttribute("aria-label", "Units");
  units.addEventListener("change", () => model.send_msg({ units: units.value }));
  const acts = make("div", { className: "acts" }, undo, redo, before, place, next, sheets.share, sheets.present, units);
  const whose = make("span", { className: "whose", textContent: model.whose, title: model.whose });
  const madeUp = make("span", { className: "made-up", textContent: model.invented });
  el.append(make("div", { className: "line" }, make("div", { className: "name" }, make("h1", { textContent: model.title }), whose, madeUp), acts));

  const close = () => model.send_msg({ sheet: "" });
  const onKey = (event) => {
    if (event.key === "Escape" && model.sheet && !event.defaultPrevented) {
      sheets[model.sheet].focus();
      return close();
    }
    if (!(event.ctrlKey || event.metaKey) || event.altKey || event.key.toLowerCase() !== "z" || writing() || event.defaultPrevented) return;
    event.preventDefault();
    const way = event.shiftKey ? redo : undo;
    if (!way.disabled) way.click();
  };
  const onPress = (event) => {
    if (!model.sheet) return;
    const path = event.composedPath();
    if (!path.includes(el) && !path.some((at) => at instanceof Element && at.classList.contains("sheet"))) close();
  };
  document.addEventListener("keydown", onKey);
  document.addEventListener("pointerdown", onPress);
  model.on("remove", () => {
    document.removeEventListener("keydown", onKey);
    document.removeEventListener("pointerdown", onPress);
  });

  function draw() {
    undo.disabled = !model.behind;
    redo.disabled = !model.ahead;
    before.hidden = next.hidden = place.hidden = !model.views;
    before.disabled = model.at <= 0;
    next.disabled = model.at >= model.views - 1;
    place.textContent = model.at >= 0 ? `view ${model.at + 1} of ${model.views}${model.strayed ? ", changed" : ""}` : `${model.views} ${model.views === 1 ? "view" : "views"}`;
    for (const [key, at] of Object.entries(sheets)) at.setAttribute("aria-expanded", String(model.sheet === key));
    units.value = model.units;
  }
  draw();
  model.on(["behind", "ahead", "strayed", "views", "at", "sheet", "units"], draw);
}
