// The hall: large letters, one picture, one cultivar, and keys for everything. Every text goes in as text; only the drawing of the
// fruit and the code, which the server draws, go in as pictures. It lies over the page as a dialog and gives it back when it is left.
/** @import { Page, Hall, HallAct } from "../messages" */
/** @type {(tag: string, set?: object, ...inside: (string | Node)[]) => any} */
const make = (tag, set = {}, ...inside) => {
  const at = Object.assign(document.createElement(tag), set);
  at.append(...inside);
  return at;
};
const RESTS = 3000; // milliseconds without the mouse after which the buttons fade into the strip of keys
const PATIENCE = 2000; // milliseconds after which an answer is no longer waited for

/** @param {Page<Hall>} page */
export function render({ model, el }) {
  let now = { open: false };
  let waiting = 0;
  let alone = false; // the connection is lost: only what needs no server goes on
  let leaving = false;
  let before; // who was spoken of before
  /** @type {(message: HallAct) => void} */
  const send = (message) => {
    waiting = performance.now();
    if (!alone) model.send_msg(message);
  };

  // What a key does, in the order of the strip: key as shown, keys as pressed, word in the strip, sentence under "?"; and when it may.
  const here = () => location.origin + location.pathname;
  const served = () => !alone;
  const ACTS = /** @type {any[][]} */ ([
    ["↑", ["ArrowUp"], "raise", "the limit that is held: higher", () => send({ act: "move", by: 1 }), () => served() && now.limiting],
    ["↓", ["ArrowDown"], "lower", "the limit that is held: lower", () => send({ act: "move", by: -1 }), () => served() && now.limiting],
    ["←", ["ArrowLeft"], "before", "the cultivar before in the ranking", () => send({ act: "step", by: -1 }), served],
    ["→", ["ArrowRight"], "next", "the next cultivar of the ranking", () => send({ act: "step", by: 1 }), served],
    ["F", ["f"], "find", "find a cultivar by part of its name", () => find(), served],
    ["S", ["s"], "shortlist", "put it on my slate, or take it off", () => send({ act: "keep" }), served],
    ["T", ["t"], "other traits", "the next of three pictures: size, firmness and sugar against each other", () => send({ act: "picture" }), served],
    ["V", ["v"], "against", "two set against each other in one sentence: the first two side by side, else this one and the next", () => send({ act: "against" }), served],
    ["L", ["l"], "limit", "hold a limit of the market, or the next one: up and down move it, Escape lets go", () => send({ act: "limit" }), () => served() && now.bounded],
    ["U", ["u"], "undo", "take the last choice back", () => send({ act: "undo" }), () => served() && now.undo],
    ["R", ["r"], "redo", "make it again", () => send({ act: "redo" }), () => served() && now.redo],
    ["P", ["p"], "view before", "the prepared view before", () => send({ act: "view", by: -1 }), () => served() && now.at > 0],
    ["N", ["n"], "next view", "the next prepared view", () => send({ act: "view", by: 1 }), () => served() && now.at < now.views - 1],
    ["Home", ["Home"], "first view", "the first prepared view", () => send({ act: "first" }), () => served() && now.views > 0 && now.at !== 0],
    ["M", ["m"], "my notes", "your notes for this view, on the screen and off it", () => { notes.hidden = !notes.hidden; }, () => now.note],
    ["C", ["c"], "code", "a code with which a phone opens this view", () => encode(), () => served() || now.code],
    ["↓", ["ArrowDown", "PageDown"], "down", "further down, where not all fits on the screen", () => scroll(1), () => left() > 1],
    ["↑", ["ArrowUp", "PageUp"], "up", "up again", () => scroll(-1), () => scrolling().scrollTop > 0],
    ["?", ["?"], "keys", "these keys", () => help()],
    ["H", ["h"], "leave", "leave the hall view; Escape does it, too", () => leave()],
  ]).map(([shown, keys, word, sentence, act, may = () => true]) => ({ shown, keys, word, sentence, act, may, button: null }));

  const asked = make("p", { className: "question" });
  const [slate, limiting, notes] = ["slate", "limiting", "notes"].map((className) => make("p", { className }));
  [limiting.role, notes.hidden] = ["status", true];
  const notices = make("div", { className: "notices" });
  notices.setAttribute("role", "alert");
  const [across, up, legend, key] = ["across", "up", "legend", "key"].map((className) => make("span", { className }));
  const picture = make("div", { className: "picture" });
  const whole = make("div", { className: "whole" }, make("p", { className: "head" }, up, key), picture, make("p", { className: "foot" }, legend, across));
  picture.setAttribute("role", "img");
  const name = make("h2", { className: "name" });
  const kept = make("span", { className: "kept" });
  const place = make("p", { className: "place" });
  const fruit = make("div", { className: "fruit" });
  const figures = make("dl", { className: "figures" });
  const stands = make("dl", { className: "stands" });
  const why = make("p", { className: "why" });
  const picked = make("p", { className: "picked" });
  const rests = make("p", { className: "rests" });
  const spot = make("section", { className: "spot" }, name, place, why, make("div", { className: "beside" }, fruit, figures), stands, picked, rests);
  spot.setAttribute("aria-live", "polite");
  const form = make("section", { className: "form" });
  const stage = make("div", { className: "stage" }, whole, form, spot);
  const against = make("div", { className: "over against", hidden: true, ariaLive: "polite" });
  const finding = make("div", { className: "over finding", hidden: true });
  const lost = make("div", { className: "lost" });
  const code = make("div", { className: "over code", hidden: true });
  const keys = make("div", { className: "over help", hidden: true }, make("h2", { textContent: "Keys" }),
    make("dl", {}, ...ACTS.map(({ shown, sentence }) => make("div", {}, make("dt", { textContent: shown }), make("dd", { textContent: sentence })))));
  const view = make("span", { className: "view" });
  const strip = make("div", { className: "strip" }, view);
  strip.setAttribute("role", "toolbar");
  strip.setAttribute("aria-label", "Keys");
  for (const one of ACTS) {
    one.button = make("button", { type: "button" }, make("kbd", { textContent: one.shown }), make("span", { textContent: one.word }));
    one.button.setAttribute("aria-label", `${one.word} (${one.shown})`);
    one.button.addEventListener("click", () => one.act());
    strip.insertBefore(one.button, view);
  }
  const dialog = make("dialog", { tabIndex: -1 }, make("div", { className: "asked" }, asked, slate, limiting, notes), notices, stage, against, finding, code, keys, lost, strip);
  dialog.setAttribute("aria-label", "Hall view");
  el.append(dialog);

  const field = () => finding.firstElementChild?.shadowRoot?.querySelector("input");
  function find() {
    keys.hidden = true;
    uncode();
    finding.hidden = !finding.hidden;
    if (finding.hidden) return dialog.focus();
    const begin = () => (field() ? field().focus() : finding.hidden || requestAnimationFrame(begin));
    begin();
  }
  dialog.addEventListener("taken", () => {
    finding.hidden = true;
    dialog.focus();
  });
  // What is scrolled: what lies over the picture, else what is told of the cultivar, on a narrow screen all of it.
  const scrolling = () => [keys, code, finding, against].find((one) => !one.hidden) ?? (now.form && !now.form.beside && getComputedStyle(form).overflowY === "auto" ? form :getComputedStyle(spot).overflowY === "auto" ? spot : dialog);
  const left = () => scrolling().scrollHeight - scrolling().clientHeight - scrolling().scrollTop;
  function scroll(way) {
    scrolling().scrollBy({ top: way * 0.7 * scrolling().clientHeight });
    offerKeys();
  }
  function help() {
    uncode();
    finding.hidden = true;
    keys.hidden = !keys.hidden;
    offerKeys();
  }
  // One thing at a time lies over the picture.
  const uncode = () => now.code && encode();
  function encode() {
    send({ act: "code", at: here() });
    if (!alone) return;
    now.code = null;
    drawCode();
    offerKeys();
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
    offerKeys();
    if (leaving) leaveAlone();
  }
  addEventListener("connection-lost", loseConnection);
  model.on("remove", () => removeEventListener("connection-lost", loseConnection));

  function escape() {
    if (!finding.hidden) find();
    else if (!keys.hidden) help();
    else if (now.code) encode();
    else if (now.against) send({ act: "against" });
    else if (now.limiting) send({ act: "limit", off: true });
    else leave();
  }
  const onKey = (event) => {
    if (!now.open || event.ctrlKey || event.altKey || event.metaKey) return;
    if (event.key === "Escape") {
      event.preventDefault();
      escape();
    } else if (event.composedPath()[0].tagName !== "INPUT") {
      const named = ACTS.filter((act) => act.keys.includes(event.key.length === 1 ? event.key.toLowerCase() : event.key));
      if (!named.length) return;
      const one = named.find((act) => act.may()) ?? named[0];
      event.preventDefault();
      const busy = event.repeat && waiting && performance.now() - waiting < PATIENCE; // a key held down waits for each answer
      if (one.may() && !busy) one.act();
    }
  };
  document.addEventListener("keydown", onKey);
  model.on("remove", () => document.removeEventListener("keydown", onKey));
  dialog.addEventListener("cancel", (event) => event.preventDefault()); // Escape is a key of ours
  dialog.addEventListener("close", () => { if (now.open) leave(); });
  let moved;
  dialog.addEventListener("mousemove", () => {
    dialog.classList.add("pointed");
    clearTimeout(moved);
    moved = setTimeout(() => dialog.classList.remove("pointed"), RESTS);
  });

  // The shell dresses every picture for a desk when it is drawn; here its letters are those of the hall.
  function dress() {
    const { color, fontSize } = getComputedStyle(dialog);
    const looks = { major_label_text_color: color, major_label_text_font_size: fontSize,
      axis_line_color: color, axis_line_alpha: 1, axis_line_width: 2 };
    for (const figure of window.Bokeh.documents[0].all_models) {
      if (figure.type !== "Figure" || figure.name !== "spotlit") continue;
      for (const axis of [...figure.below, ...figure.left]) if (axis.major_label_text_font_size !== fontSize) axis.setv(looks);
    }
  }

  const pairs = (list, rows) => list.replaceChildren(...rows.map(([label, value, more]) =>
    make("div", {}, make("dt", { textContent: label }), make("dd", {}, make("b", { textContent: value }), ...(more ? [make("span", { textContent: more })] : [])))));

  function draw() {
    now = JSON.parse(model.told);
    waiting = 0;
    leaving = false;
    if (!now.open) {
      keys.hidden = finding.hidden = true;
      if (dialog.open) dialog.close();
      return;
    }
    if (!dialog.open) {
      dialog.showModal();
      dialog.focus();
    }
    dress();
    asked.replaceChildren(now.empty || now.asked, make("span", { className: "limits", textContent: now.limits }));
    across.textContent = `${now.axes[0]} →`;
    up.textContent = `↑ ${now.axes[1]}`;
    legend.textContent = now.legend;
    key.replaceChildren(...now.marks.map(([look, meaning]) => make("span", {}, make("span", { className: `mark ${look}` }), ` ${meaning}`)));
    [slate.textContent, limiting.textContent, notes.textContent] = [now.slate, now.limiting, now.note];
    notes.hidden ||= !now.note;
    drawForm();
    notices.replaceChildren(...now.notices.map((text) => make("p", { textContent: text })));
    const said = now.spot;
    spot.classList.toggle("nobody", !said);
    if (said) {
      name.replaceChildren(said.name, kept);
      name.classList.toggle("long", said.name.length > 14);
      name.classList.toggle("longer", said.name.length > 28);
      name.classList.toggle("longest", said.name.length > 80);
      kept.textContent = said.kept ? "★" : "";
      kept.setAttribute("aria-label", said.kept ? "on my slate" : "");
      place.textContent = `${said.place} · ${said.kind}`;
      // eslint-disable-next-line no-restricted-syntax -- drawn and escaped by the server
      fruit.innerHTML = said.fruit;
      fruit.append(make("p", { className: "scale", textContent: said.scale }));
      pairs(figures, said.figures.map(({ label, value, between }) => [label, value, between]));
      pairs(stands, said.stands);
      why.textContent = said.why;
      picked.textContent = `Picked: ${said.picked}`;
      Object.assign(rests, { textContent: [said.rests, said.caution].filter(Boolean).join(". ") }).style.setProperty("--seasons", said.seasons);
      picture.setAttribute("aria-label", `${now.axes.join(" and ")} of all that pass; ${said.name} is ringed`);
    } else {
      name.textContent = "No cultivar to speak of";
      for (const part of [place, why, picked, rests, fruit, figures, stands]) part.replaceChildren();
    }
    view.textContent = now.views ? (now.at >= 0 ? `${now.at + 1} of ${now.views}${now.strayed ? ", changed" : ""}: ${now.view}` : `${now.views} prepared views`) : "";
    spot.scrollTop = said?.name === before ? spot.scrollTop : 0;
    before = said?.name;
    drawCode();
    offerKeys();
  }
  function drawForm() {
    [form.hidden, whole.hidden, spot.hidden] = [!now.form, Boolean(now.form), Boolean(now.form) && !now.form.beside];
    const drawn = make("div", { className: "drawn" });
    // eslint-disable-next-line no-restricted-syntax -- drawn and escaped by the server
    drawn.innerHTML = now.form?.drawn ?? "";
    if (now.form) form.replaceChildren(make("h2", { textContent: now.form.title }), make("p", { textContent: now.form.said }), drawn);
    stage.className = `stage ${now.form ? "formed" : ""} ${spot.hidden ? "wide" : ""}`;
    against.hidden = !now.against;
    against.replaceChildren(...(now.against ?? []).map((text) => make("p", { textContent: text })));
  }
  function offerKeys() {
    for (const one of ACTS) {
      one.button.disabled = !one.may();
      if (one.shown === "S") one.button.lastChild.textContent = now.listed ? `${one.word} (${now.listed})` : one.word;
    }
  }
  for (const one of [spot, dialog, keys, code, finding, form, against]) one.addEventListener("scroll", offerKeys);

  function drawCode() {
    code.hidden = !now.code;
    if (!now.code) code.replaceChildren();
    if (now.code) {
      const told = now.code;
      code.replaceChildren(make("p", { className: told.why ? "why" : "", textContent: told.why || "This view on your phone:" }));
      if (told.picture) {
        const drawn = make("div", { className: "drawn" });
        // eslint-disable-next-line no-restricted-syntax -- numbers alone
        drawn.innerHTML = told.picture;
        code.append(drawn, make("p", { className: "address", textContent: told.address }));
      }
    }
  }
  picture.append(model.get_child("picture"));
  finding.append(model.get_child("finder"));
  const start = () => (el.isConnected ? draw() : requestAnimationFrame(start));
  start();
  model.on("told", draw);
  const again = () => {
    if (!now.open) return;
    dress();
    offerKeys();
  };
  model.on("after_layout", again);
  window.addEventListener("resize", again);
  model.on("remove", () => window.removeEventListener("resize", again));
}
