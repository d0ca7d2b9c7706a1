// Undo, redo, start afresh, the hall: small buttons, and two keys where no text is being written.
// The running order of this tab of the browser is kept over a reload, and nowhere else.
/** @import { Page, Steering } from "../messages" */
const KEPT = "orchard-slate running order";
const WRITES = /^(text|search|number|email|url|tel|password|date|time|month|week|datetime-local)$/;

function writing() {
  /** @type {any} */
  let at = document.activeElement;
  while (at?.shadowRoot?.activeElement) at = at.shadowRoot.activeElement;
  return Boolean(at) && (at.isContentEditable || at.tagName === "TEXTAREA" || (at.tagName === "INPUT" && WRITES.test(at.type)));
}

/** @param {Page<Steering>} page */
export function render({ model, el }) {
  function naming() {
    name.hidden = !name.hidden;
    name.value = "";
    if (!name.hidden) name.focus();
  }
  const press = (act) => () => model.send_msg({ act });
  const button = (label, act, title) => {
    const at = Object.assign(document.createElement("button"), { type: "button", textContent: label, title });
    at.addEventListener("click", act ? press(act) : naming);
    return at;
  };
  const undo = button("Undo", "undo", "Take the last choice back (Ctrl+Z)");
  const redo = button("Redo", "redo", "Make it again (Ctrl+Shift+Z)");
  const afresh = button("Start afresh", "afresh", "Everything as on a first visit; Undo takes it back");
  const hall = button("Hall view", "hall", "Large, for a projector, with keys");
  hall.className = "hall";
  const line = Object.assign(document.createElement("div"), { className: "steering" });
  line.setAttribute("role", "group");
  line.setAttribute("aria-label", "Choices");
  const keep = button("Keep this view", "", "By a name, among your prepared views (under Shortlist)");
  const before = button("‹", "before", "The prepared view before");
  before.setAttribute("aria-label", "Previous prepared view");
  const next = button("›", "next", "The next prepared view");
  next.setAttribute("aria-label", "Next prepared view");
  const place = Object.assign(document.createElement("span"), { className: "place" });
  const name = Object.assign(document.createElement("input"), { type: "text", maxLength: 200, autocomplete: "off", placeholder: "its name, then Enter" });
  name.setAttribute("aria-label", "Name to keep this view by");
  name.hidden = true;
  name.addEventListener("keydown", (event) => {
    if (event.key !== "Enter" && event.key !== "Escape") return;
    event.preventDefault();
    if (event.key === "Enter") model.send_msg({ name: name.value });
    name.hidden = true;
    keep.focus();
  });
  line.append(undo, redo, afresh, hall, keep, name, before, place, next);
  el.append(line);

  const onKey = (event) => {
    if (!(event.ctrlKey || event.metaKey) || event.altKey || event.key.toLowerCase() !== "z" || writing()) return;
    event.preventDefault();
    const way = event.shiftKey ? redo : undo;
    if (!way.disabled) way.click();
  };
  document.addEventListener("keydown", onKey);
  model.on("remove", () => document.removeEventListener("keydown", onKey));

  function draw() {
    undo.disabled = !model.behind;
    redo.disabled = !model.ahead;
    afresh.disabled = !model.changed;
    before.hidden = next.hidden = place.hidden = !model.views;
    before.disabled = model.at <= 0;
    next.disabled = model.at >= model.views - 1;
    place.textContent = model.at >= 0 ? `view ${model.at + 1} of ${model.views}${model.strayed ? ", changed" : ""}` : `${model.views} ${model.views === 1 ? "view" : "views"}`;
  }
  draw();
  model.on(["behind", "ahead", "changed", "strayed", "views", "at"], draw);
  model.on("kept", () => {
    try { model.kept ? sessionStorage.setItem(KEPT, model.kept) : sessionStorage.removeItem(KEPT); } catch { /* a browser may forbid it */ }
  });
  let kept = null;
  try { kept = sessionStorage.getItem(KEPT); } catch { /* a browser may forbid it */ }
  if (kept) model.send_msg({ kept });
}
