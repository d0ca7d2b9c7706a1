// Undo, redo, start afresh, the hall: small buttons, and two keys where no text is being written.
// The running order of this tab of the browser is kept over a reload, and nowhere else.
const KEPT = "orchard-slate running order";
const WRITES = /^(text|search|number|email|url|tel|password|date|time|month|week|datetime-local)$/;

function writing() {
  let at = document.activeElement;
  while (at?.shadowRoot?.activeElement) at = at.shadowRoot.activeElement;
  return Boolean(at) && (at.isContentEditable || at.tagName === "TEXTAREA" || (at.tagName === "INPUT" && WRITES.test(at.type)));
}

export function render({ model, el }) {
  const press = (act) => () => model.send_msg({ act });
  const button = (label, act, title) => {
    const at = Object.assign(document.createElement("button"), { type: "button", textContent: label, title });
    at.addEventListener("click", press(act));
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
  line.append(undo, redo, afresh, hall);
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
  }
  draw();
  model.on(["behind", "ahead", "changed"], draw);
  model.on("kept", () => {
    try { model.kept ? sessionStorage.setItem(KEPT, model.kept) : sessionStorage.removeItem(KEPT); } catch { /* a browser may forbid it */ }
  });
  // What is sent while the page is being built is lost: it is said again until it is answered.
  let tries = 20;
  const bring = () => {
    if (model.kept || !tries--) return;
    model.send_msg({ kept });
    setTimeout(bring, 500);
  };
  let kept = null;
  try { kept = sessionStorage.getItem(KEPT); } catch { /* a browser may forbid it */ }
  if (kept) setTimeout(bring, 100);
}
