// The hall: large letters, one picture, one cultivar, and keys for everything. Every text goes in as text; only what the server draws goes
// in as a picture. It lies over the page as a dialog and gives it back when it is left.
import { make } from "./made.js";
import { spokenOf } from "./spoken_of.js";
import { over } from "./over.js";
import { looks } from "./looks.js";
import { keys } from "./keys.js";
/** @import { Page, Hall, HallAct } from "../messages" */
const RESTS = 3000; // milliseconds without the mouse after which the buttons fade into the strip of keys
const PATIENCE = 2000; // milliseconds after which an answer is no longer waited for

/** @param {Page<Hall>} page */
export function render({ model, el }) {
  /** @type {any} */
  let now = { open: false };
  let waiting = 0;
  let alone = false; // the connection is lost: only what needs no server goes on
  let leaving = false;
  let typed = ""; // of a number for the limit that is held
  /** @type {(message: HallAct) => void} */
  const send = (message) => {
    waiting = performance.now();
    if (!alone) model.send_msg(message);
  };

  const asked = make("p", { className: "question" });
  const [leads, slate, limiting, notes] = ["leads", "slate", "limiting", "notes"].map((className) => make("p", { className }));
  [limiting.role, notes.hidden] = ["status", true];
  const notices = make("div", { className: "notices", role: "alert" });
  const [across, up, legend, key] = ["across", "up", "legend", "key"].map((className) => make("span", { className }));
  const picture = make("div", { className: "picture", role: "img" }), days = make("div", { className: "days" });
  const whole = make("div", { className: "whole" }, make("p", { className: "head" }, up, key), picture, make("p", { className: "foot" }, legend, across), days);
  const { form, listed, calendar, parts, showForm, showOver } = over((name) => send({ act: "speak", name }));
  const { spot, show } = spokenOf();
  const stage = make("div", { className: "stage" }, whole, form, spot);
  const finding = make("div", { className: "over finding", hidden: true });
  const lost = make("div", { className: "lost" });
  const working = make("p", { className: "working", role: "status" });
  const dialog = make("dialog", { tabIndex: -1, ariaLabel: "Hall view" });
  el.append(dialog);
  const { dress, turn, free, isDark } = looks(el, dialog);
  const { strip, help, offer, press } = keys(
    {
      now: () => now, served: () => !alone, dark: isDark, free, notes, covered, shelf: left, above, pages: () => turning() === calendar,
      waits: () => waiting > 0 && performance.now() - waiting < PATIENCE,
    },
    { send, bring, find, lay, leave, scroll, type, escape, help: explain, turn: () => { turn(); offer(); } },
  );
  dialog.append(make("div", { className: "asked" }, leads, asked, slate, limiting, notes), notices, stage, ...parts, finding, help, lost, strip, working);

  const field = () => finding.firstElementChild?.shadowRoot?.querySelector("input");
  // One thing at a time lies over the picture.
  function covered() {
    return !help.hidden || !finding.hidden;
  }
  function uncover() {
    help.hidden = finding.hidden = true;
    if (!parts.every((one) => one.hidden)) close();
  }
  function find() {
    const opens = finding.hidden;
    if (!now.against) uncover(); // over two that are set against each other the second is found
    help.hidden = true;
    finding.hidden = !opens;
    offer();
    if (!opens) return dialog.focus();
    const begin = () => (field() ? field().focus() : finding.hidden || requestAnimationFrame(begin));
    begin();
  }
  dialog.addEventListener("taken", () => {
    finding.hidden = true;
    offer();
    dialog.focus();
  });
  // What is scrolled: what lies over the picture, else what is told of the cultivar, on a narrow screen all of it.
  function scrolling() {
    const over = [help, finding, ...parts].find((one) => !one.hidden);
    const part = now.form && !now.form.speaks ? form : spot;
    return over ?? (getComputedStyle(part).overflowY === "auto" ? part : dialog);
  }
  function left() {
    if (turning()) return turning().left() ? 2 : 0;
    return scrolling().scrollHeight - scrolling().clientHeight - scrolling().scrollTop;
  }
  // Names are turned page by page, and so is a calendar that is higher than its room.
  function turning() {
    if (covered()) return null;
    if (!listed.at.hidden) return listed;
    return calendar.pages() && parts.every((one) => one.hidden) ? calendar : null;
  }
  function above() {
    return turning()?.above() ?? scrolling().scrollTop;
  }
  function scroll(way) {
    if (turning()) turning().turn(way);
    else scrolling().scrollBy({ top: way * 0.7 * scrolling().clientHeight });
    offer();
  }
  // A number for the limit that is held: it stands there as it is typed, and Enter sends it. Whether the key meant anything.
  function type(key) {
    if (key === "Enter" && !typed) return false;
    if (key === "Enter") send({ act: "move", to: typed });
    typed = key === "Backspace" ? typed.slice(0, -1) : /^[\d.]$/.test(key) ? (typed + key).slice(0, 8) : "";
    limiting.textContent = typed ? `${now.limiting} → ${typed}` : now.limiting;
    return true;
  }
  function explain() {
    const opens = help.hidden;
    uncover();
    help.hidden = !opens;
    offer();
  }
  /** What brings something else to the screen is not covered by what lay there. @param {HallAct} message */
  function bring(message) {
    help.hidden = finding.hidden = true;
    send(message);
  }
  function lay(what) {
    if (alone) return close();
    bring(/** @type {HallAct} */ ({ act: "over", what, at: location.origin + location.pathname }));
  }
  function close() {
    send({ act: "close" });
    if (!alone) return;
    [now.against, now.code, now.evidence, now.names] = [null, null, null, null];
    showOver(null);
    offer();
  }
  function leave() {
    leaving = true;
    send({ act: "leave" });
    if (alone) leaveAlone();
  }
  // Without a server the page under the hall is as it was left; the address, from which it comes back, asks for the page.
  function leaveAlone() {
    now = { open: false };
    dialog.close();
    const query = location.search.replace(/([?&])look=hall(&|$)/, (_, before, after) => (after ? before : ""));
    history.replaceState(history.state, "", location.pathname + query);
    const bar = lost.firstElementChild;
    if (!bar) return;
    bar.append(" Until then it is as it was before the hall view.");
    document.body.append(bar);
  }
  function loseConnection() {
    if (!now.open) return;
    alone = true;
    lost.append(document.getElementById("connection-lost"));
    finding.hidden = true;
    offer();
    if (leaving) leaveAlone();
  }
  function escape() {
    if (typed) type("");
    else if (!finding.hidden) find();
    else if (!help.hidden) explain();
    else if (alone ? !parts.every((one) => one.hidden) : now.keys.includes("close")) close();
    else leave();
  }

  // The page says what is worked on in a line that lies under the hall: it is said here, too.
  const line = document.getElementById("working");
  const work = () => { working.textContent = line && !line.hidden ? line.textContent : ""; };
  const worked = new MutationObserver(work);
  if (line) worked.observe(line, { attributes: true, attributeFilter: ["hidden"] });

  const again = () => {
    if (!now.open) return;
    dress();
    listed.refit();
    calendar.refit();
    offer();
  };
  const heard = /** @type {[EventTarget, string, (event: any) => void][]} */ ([[document, "keydown", press], [window, "connection-lost", loseConnection], [window, "resize", again]]);
  for (const [at, name, act] of heard) at.addEventListener(name, act, true); // before the page under it: a key is heard once
  model.on("remove", () => {
    worked.disconnect();
    for (const [at, name, act] of heard) at.removeEventListener(name, act, true);
  });
  dialog.addEventListener("cancel", (event) => event.preventDefault()); // Escape is a key of ours
  dialog.addEventListener("close", () => { if (now.open) leave(); });
  let moved;
  dialog.addEventListener("mousemove", () => {
    dialog.classList.add("pointed");
    clearTimeout(moved);
    moved = setTimeout(() => dialog.classList.remove("pointed"), RESTS);
  });
  for (const one of [spot, dialog, help, finding, form, ...parts]) one.addEventListener("scroll", offer);

  function draw() {
    now = JSON.parse(model.told);
    typed = "";
    waiting = 0;
    leaving = false;
    if (!now.open) {
      help.hidden = finding.hidden = true;
      if (dialog.open) dialog.close();
      return;
    }
    if (!dialog.open) {
      dialog.showModal();
      dialog.focus();
    }
    asked.replaceChildren(now.empty || now.asked, make("span", { className: "limits", textContent: now.limits }));
    across.textContent = `${now.axes[0]} →`;
    up.textContent = `↑ ${now.axes[1]}`;
    legend.textContent = now.legend;
    key.replaceChildren(...now.marks.map(([look, meaning]) => make("span", {}, make("span", { className: `mark ${look}` }), ` ${meaning}`)));
    [leads.textContent, slate.textContent, limiting.textContent, notes.textContent] = [now.found, now.slate, now.limiting, now.note];
    notes.hidden ||= !now.note;
    notices.replaceChildren(...now.notices.map((text) => make("p", { textContent: text })));
    [whole.hidden, spot.hidden, days.hidden] = [Boolean(now.form), Boolean(now.form) && !now.form.speaks, !now.slate];
    stage.className = `stage ${now.form ? "formed" : ""} ${spot.hidden ? "wide" : ""}`;
    picture.setAttribute("aria-label", `${now.axes.join(" and ")} of all that pass${now.spot ? `; ${now.spot.name} is ringed` : ""}`);
    showForm(now.form);
    showOver(now);
    show(now.spot);
    dress();
    calendar.show(JSON.stringify(now.form));
    offer();
  }
  picture.append(model.get_child("picture"));
  days.append(model.get_child("days"));
  finding.append(model.get_child("finder"));
  const start = () => (el.isConnected ? draw() : requestAnimationFrame(start));
  start();
  model.on("told", draw);
  model.on("after_layout", again);
}
