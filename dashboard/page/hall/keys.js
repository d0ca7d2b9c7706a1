// The keys: what each does, the strip at the foot where each is a button, the sentences under "?", and what is heard of the keyboard.
import { make } from "./made.js";

/** @typedef {{ now(): any, served(): boolean, dark(): boolean, free(): boolean, waits(): boolean, covered(): boolean, pages(): boolean, shelf(): number, above(): number, notes: HTMLElement }} Asked what stands
 *  @typedef {Record<"find" | "help" | "leave" | "turn" | "escape", () => void> & { scroll(way: number): void, type(key: string): boolean, lay(what: string): void, bring(message: import("../messages").HallAct): void,
 *    send(message: import("../messages").HallAct): void }} Acts */

/** @param {Asked} asked @param {Acts} act */
export function keys(asked, act) {
  const { now, served } = asked, { send, bring } = act;
  const sends = (message) => () => send(message), brings = (message) => () => bring(message), lays = (what) => () => act.lay(what);
  // The server names those whose doing is seen on this screen; where something of the browser's own lies over it, only those that bring another.
  const answers = (key) => (asked.covered() ? now().everywhere : now().keys)?.includes(key) ?? false;
  const seen = (key, more = () => true) => () => served() && answers(key) && more();
  const laid = (what) => () => (served() ? answers(what) : Boolean(now()[what]));
  // In the order of the strip: key as shown, keys as pressed, word in the strip, sentence under "?"; what it does, and when it may.
  const rows = /** @type {any[][]} */ ([
    ["↑", ["ArrowUp"], "raise", "the limit that is held: higher", sends({ act: "move", by: 1 }), seen("move")],
    ["↓", ["ArrowDown"], "lower", "the limit that is held: lower", sends({ act: "move", by: -1 }), seen("move")],
    ["←", ["ArrowLeft"], "before", "the cultivar before in the ranking", sends({ act: "step", by: -1 }), seen("step")],
    ["→", ["ArrowRight"], "next", "the next cultivar of the ranking", sends({ act: "step", by: 1 }), seen("step")],
    ["F", ["f"], "find", "find a cultivar by part of its name; Esc leads back to the view", act.find, seen("find")],
    ["S", ["s"], "my slate", "put it on my slate, or take it off", sends({ act: "keep" }), seen("keep")],
    ["T", ["t"], "traits", "the next traits: of the picture or, after V, of the two", sends({ act: "traits" }), seen("traits")],
    ["V", ["v"], "against", "two set against each other in one sentence: the first two side by side, else this one and the best by your buyer's first wish; F names the second, F again both", lays("against"), laid("against")],
    ["W", ["w"], "who", "who they are: the names behind the counts, by rank; F finds one of them", lays("names"), laid("names")],
    ["L", ["l"], "limit", "hold a limit of the market, or the next one: up and down move it, or type a number and Enter; Esc lets go", sends({ act: "limit" }), seen("limit")],
    ["K", ["k"], "chill", "hold the winter chill that may be needed, in hours, then in portions: up and down move it, or type a number and Enter", sends({ act: "chill" }), seen("chill")],
    ["X", ["x"], "filters off", "take all filters off, but for the chill that is held; U brings them back", sends({ act: "clear" }), seen("clear")],
    ["U", ["u"], "undo", "take the last choice back", sends({ act: "undo" }), seen("undo")],
    ["R", ["r"], "redo", "make it again", sends({ act: "redo" }), seen("redo")],
    ["P", ["p"], "view before", "the prepared view before", brings({ act: "view", by: -1 }), seen("view", () => now().at > 0)],
    ["N", ["n"], "next view", "the next prepared view", brings({ act: "view", by: 1 }), seen("view", () => now().at < now().views - 1)],
    ["Home", ["Home"], "first view", "the first prepared view", brings({ act: "first" }), seen("first", () => now().at !== 0)],
    ["M", ["m"], "my notes", "your notes for this view, on the screen and off it", () => { asked.notes.hidden = !asked.notes.hidden; }, () => answers("notes")],
    ["E", ["e"], "evidence", "what all of this rests on, what the records do not say, and the cautions", lays("evidence"), laid("evidence")],
    ["C", ["c"], "code", "a code with which a phone opens this view", lays("code"), laid("code")],
    ["D", ["d"], "dark", "for a dark room: light letters on dark paper, and back; this browser keeps it", act.turn, asked.free],
    ["←", ["ArrowLeft", "ArrowUp", "PageUp"], "page before", "the page before of a calendar", () => act.scroll(-1), () => asked.pages() && asked.above() > 0],
    ["→", ["ArrowRight", "ArrowDown", "PageDown"], "next page", "the next page of a calendar that is higher than the screen", () => act.scroll(1), () => asked.pages() && asked.shelf() > 1],
    ["↓", ["ArrowDown", "PageDown"], "down", "further down, where not all fits on the screen", () => act.scroll(1), () => !asked.pages() && asked.shelf() > 1],
    ["↑", ["ArrowUp", "PageUp"], "up", "up again", () => act.scroll(-1), () => !asked.pages() && asked.above() > 0],
    ["Esc", ["Escape"], "back", "back to what stood here before", act.escape, () => answers("close") && (now().on_top || !answers("back"))],
    ["B", ["b"], "my view", "back to my view from one that was found; Esc does it too", brings({ act: "back" }), seen("back")],
    ["?", ["?"], "keys", "these keys", act.help],
    ["H", ["h"], "leave", "leave the hall view; Esc does it too, where nothing lies over the view", act.leave],
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
    const words = { F: now().against ? "the second" : "find", T: now().against ? "traits" : "picture", S: now().listed ? `my slate (${now().listed})` : "my slate", D: asked.dark() ? "light" : "dark" };
    for (const one of rows) {
      one.button.disabled = !one.may();
      const word = words[one.shown] ?? one.word;
      if (one.button.lastChild.textContent !== word) one.button.lastChild.textContent = word;
    }
    const { views, at, strayed, view: named } = now();
    view.textContent = views ? (at >= 0 ? `${strayed ? "changed since " : ""}${at + 1} of ${views}: ${named}` : `${views} prepared views`) : "";
  }

  function press(event) {
    const held = event.ctrlKey || event.metaKey, writes = event.composedPath()[0].tagName === "INPUT";
    if (!now().open || event.altKey || (held && event.key.toLowerCase() !== "z")) return;
    if (event.key === "Escape") {
      event.preventDefault();
      act.escape();
    } else if (!writes) {
      const key = held ? (event.shiftKey ? "r" : "u") : event.key.length === 1 ? event.key.toLowerCase() : event.key;
      if (answers("move") && !asked.covered() && served() && /^([\d.]|Enter|Backspace)$/.test(key) && act.type(key)) return event.preventDefault();
      const named = rows.filter((one) => one.pressed.includes(key));
      if (!named.length) return;
      const one = named.find((row) => row.may()) ?? named[0];
      event.preventDefault();
      if (one.may() && !(event.repeat && asked.waits())) one.does(); // a key held down waits for each answer
    }
  }
  return { strip, help, offer, press };
}
