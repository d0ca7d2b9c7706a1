// The keys: what each does, the strip at the foot where each is a button, the sentences under "?", and what is heard of the keyboard.
import { make } from "./made.js";

/** @typedef {{ now(): any, served(): boolean, dark(): boolean, free(): boolean, waits(): boolean, shelf(): number, above(): number, notes: HTMLElement }} Asked what stands
 *  @typedef {Record<"find" | "encode" | "help" | "leave" | "turn" | "escape", () => void> & { scroll(way: number): void, send(message: import("../messages").HallAct): void }} Acts */

/** @param {Asked} asked @param {Acts} act */
export function keys(asked, act) {
  const { now, served } = asked, { send } = act;
  const sends = (message) => () => send(message);
  // In the order of the strip: key as shown, keys as pressed, word in the strip, sentence under "?"; what it does, and when it may.
  const rows = /** @type {any[][]} */ ([
    ["↑", ["ArrowUp"], "raise", "the limit that is held: higher", sends({ act: "move", by: 1 }), () => served() && now().limiting],
    ["↓", ["ArrowDown"], "lower", "the limit that is held: lower", sends({ act: "move", by: -1 }), () => served() && now().limiting],
    ["←", ["ArrowLeft"], "before", "the cultivar before in the ranking", sends({ act: "step", by: -1 }), served],
    ["→", ["ArrowRight"], "next", "the next cultivar of the ranking", sends({ act: "step", by: 1 }), served],
    ["F", ["f"], "find", "find a cultivar by part of its name", act.find, served],
    ["S", ["s"], "my slate", "put it on my slate, or take it off", sends({ act: "keep" }), served],
    ["T", ["t"], "traits", "the next of three pictures: size, firmness and sugar against each other", sends({ act: "picture" }), served],
    ["V", ["v"], "against", "two set against each other in one sentence: the first two side by side, else this one and the next", sends({ act: "against" }), served],
    ["L", ["l"], "limit", "hold a limit of the market, or the next one: up and down move it, Escape lets go", sends({ act: "limit" }), () => served() && now().bounded],
    ["U", ["u"], "undo", "take the last choice back", sends({ act: "undo" }), () => served() && now().undo],
    ["R", ["r"], "redo", "make it again", sends({ act: "redo" }), () => served() && now().redo],
    ["P", ["p"], "view before", "the prepared view before", sends({ act: "view", by: -1 }), () => served() && now().at > 0],
    ["N", ["n"], "next view", "the next prepared view", sends({ act: "view", by: 1 }), () => served() && now().at < now().views - 1],
    ["Home", ["Home"], "first view", "the first prepared view", sends({ act: "first" }), () => served() && now().views > 0 && now().at !== 0],
    ["M", ["m"], "my notes", "your notes for this view, on the screen and off it", () => { asked.notes.hidden = !asked.notes.hidden; }, () => now().note],
    ["C", ["c"], "code", "a code with which a phone opens this view", act.encode, () => served() || now().code],
    ["D", ["d"], "dark", "for a dark room: light letters on dark paper, and back; this browser keeps it", act.turn, asked.free],
    ["↓", ["ArrowDown", "PageDown"], "down", "further down, where not all fits on the screen", () => act.scroll(1), () => asked.shelf() > 1],
    ["↑", ["ArrowUp", "PageUp"], "up", "up again", () => act.scroll(-1), () => asked.above() > 0],
    ["?", ["?"], "keys", "these keys", act.help],
    ["H", ["h"], "leave", "leave the hall view; Escape does it, too", act.leave],
  ]).map(([shown, pressed, word, sentence, does, may = () => true]) => ({ shown, pressed, word, sentence, does, may, button: null }));

  const help = make("div", { className: "over help", hidden: true }, make("h2", { textContent: "Keys" }),
    make("dl", {}, ...rows.map(({ shown, sentence }) => make("div", {}, make("dt", { textContent: shown }), make("dd", { textContent: sentence })))));
  const view = make("span", { className: "view" });
  const strip = make("div", { className: "strip", role: "toolbar", ariaLabel: "Keys" }, view);
  for (const one of rows) {
    one.button = make("button", { type: "button", ariaLabel: `${one.word} (${one.shown})` }, make("kbd", { textContent: one.shown }), make("span"));
    one.button.addEventListener("click", () => one.does());
    strip.insertBefore(one.button, view);
  }

  /** Those that have something to do stand in the strip. */
  function offer() {
    const words = { S: now().listed ? `my slate (${now().listed})` : "my slate", D: asked.dark() ? "light" : "dark" };
    for (const one of rows) {
      one.button.disabled = !one.may();
      const word = words[one.shown] ?? one.word;
      if (one.button.lastChild.textContent !== word) one.button.lastChild.textContent = word;
    }
    const { views, at, strayed, view: named } = now();
    view.textContent = views ? (at >= 0 ? `${at + 1} of ${views}${strayed ? ", changed" : ""}: ${named}` : `${views} prepared views`) : "";
  }

  function press(event) {
    if (!now().open || event.ctrlKey || event.altKey || event.metaKey) return;
    if (event.key === "Escape") {
      event.preventDefault();
      act.escape();
    } else if (event.composedPath()[0].tagName !== "INPUT") {
      const named = rows.filter((one) => one.pressed.includes(event.key.length === 1 ? event.key.toLowerCase() : event.key));
      if (!named.length) return;
      const one = named.find((row) => row.may()) ?? named[0];
      event.preventDefault();
      if (one.may() && !(event.repeat && asked.waits())) one.does(); // a key held down waits for each answer
    }
  }
  return { strip, help, offer, press };
}
