// The bench: ten fruit down, their readings across, a large keypad; what is odd is said at once.
/** @import { Known, Field, Place, Store, Sample } from "./bench" */
import { END, NOTE, fields, following, measured } from "./cells.js";
import { doubts } from "./doubts.js";
import { unsaved } from "./filed.js";
import { counted, dayLabel, made } from "./drawn.js";
import { entering } from "./entry.js";
import { leading, mark, named, reading } from "./typed.js";

const ORDERS = {
  fruit: "Both diameters of every fruit, then both cheeks of every fruit, then sugar.",
  row: "The first diameter of every fruit, then the second, then cheeks and sugar.",
};

let sound = null;
/** For eyes that are on the fruit: a buzz, and a short low tone where the browser lets it sound. */
function alarm() {
  navigator.vibrate?.(150);
  try {
    sound ??= new AudioContext();
    const tone = sound.createOscillator();
    tone.frequency.value = 220;
    tone.connect(sound.destination);
    tone.start();
    tone.stop(sound.currentTime + 0.15);
  } catch { /* it is on the screen, too */ }
}

/** @param {HTMLElement} section @param {Known} known @param {Store} store @param {{ leave: () => void }} page */
export function measuring(section, known, store, page) {
  /** @type {Place} */
  const place = { id: "", at: "", refused: "", told: "", chosen: false, stale: false, came: null, way: "fruit" };
  /** @type {Field[]} */
  let all = fields(known, place.way);
  let doubted = 0;
  const keys = entering(store, place, () => all, alarm);
  const press = (act) => () => { act(); draw(); };
  const button = (words, act, set = {}) => {
    const one = made("button", { type: "button", ...set }, words);
    one.addEventListener("click", press(act));
    return one;
  };

  // ---- its parts, made once
  const heading = made("h2", { id: "bench-heading", tabIndex: -1 }), when = made("span", { className: "quiet" }), kept = made("span", { className: "quiet kept" });
  const pick = made("select", { id: "pick" }, ...Array.from({ length: 9 }, (_, n) => made("option", { value: String(n + 1) }, String(n + 1))));
  const way = made("select", { id: "way" }, made("option", { value: "fruit" }, "instrument by instrument"), made("option", { value: "row" }, "reading by reading"));
  const order = made("span", { className: "quiet" });
  const cells = new Map(), cell = (at, label) => {
    const one = button("", () => keys.go(at), { className: "cell", tabIndex: -1, "data-label": label });
    cells.set(at, one);
    return one;
  };
  const heads = known.readings.map((one) => made("th", { scope: "col" }, one.word, made("span", { className: "unit" }, one.unit)));
  const lines = Array.from({ length: known.fruit }, (_, n) => made("tr", {}, made("th", { scope: "row", "aria-label": `Fruit ${n + 1}` }, String(n + 1)),
    ...known.readings.map((one) => made("td", {}, cell(`${one.key} ${n + 1}`, `Fruit ${n + 1}, ${one.word}`)))));
  const grid = made("table", { className: "grid" }, made("thead", {}, made("tr", {}, made("th", { scope: "col" }, "Fruit"), ...heads)), made("tbody", {}, ...lines));
  const judged = made("div", { className: "judged" }, ...[...known.ratings, ...known.shares, ...known.juice, { key: NOTE, word: "Note" }].map((one) => made("div", {}, made("span", {}, one.word), cell(one.key, one.word))));
  const odd = made("ul", { className: "odd" });
  const which = made("p", { className: "which" }), large = made("p", { className: "large" }), hint = made("p", { className: "quiet hint" }), echo = made("p", { className: "echo", role: "status" });
  const pad = made("div", { className: "keypad", role: "group", "aria-label": "Keypad" },
    ...["7", "8", "9", "4", "5", "6", "1", "2", "3", ".", "0"].map((sign) => button(sign, () => keys.type(sign), sign === "." ? { "aria-label": "Point" } : {})), button("⌫", keys.rub, { "aria-label": "Back one digit" }));
  const pasts = [["<", "Less than"], [">", "More than"]].map(([sign, words]) => button(`${sign} ${words}`, () => keys.past(sign), { value: sign }));
  const past = made("div", { className: "pasts", role: "group", "aria-label": "Past an end of the gauge" }, ...pasts);
  const strip = made("div", { className: "strip", role: "group", "aria-label": "Press one" });
  const half = button("", keys.half, { className: "half" });
  const words = made("input", { type: "text", id: "words", autocomplete: "off", maxLength: 500, enterKeyHint: "done" });
  const noted = made("div", { className: "noted" }, made("label", { htmlFor: "words" }, "Anything worth keeping, or nothing ", words));
  const over = made("div", { className: "over" }, button("Done: back to the walk", () => page.leave(), { className: "next" }));
  const next = button("Next", keys.enter, { className: "next" }), skip = button("Skip", keys.skip), undo = button("Undo", keys.undo);
  const remove = button("Remove this sample", () => { store.change(place.id, (one) => { one.gone = true; one.typed = null; }); page.leave(); }, { className: "quiet-button" });
  const back = button("← Walk", () => page.leave(), { className: "back" });
  section.append(
    made("div", { className: "top" }, back, heading, when, kept),
    made("div", { className: "work" },
      made("div", { className: "sheet" }, grid, judged, odd, made("p", { className: "quiet" }, known.declared.join(" ")),
        made("div", { className: "settings" }, made("label", {}, "Pick ", pick), made("label", {}, "Order ", way), order, remove)),
      made("div", { className: "pad" }, made("div", { className: "now" }, which, large, hint), echo, pad, past, strip, noted, over, made("div", { className: "acts" }, skip, undo, next))),
  );
  pick.addEventListener("change", () => store.change(place.id, (one) => { one.pick = Number(pick.value); }));
  way.addEventListener("change", () => { place.way = way.value; all = fields(known, place.way); draw(); });
  words.addEventListener("keydown", (event) => { if (event.key === "Enter") { event.stopPropagation(); keys.skip(); words.blur(); draw(); } });
  words.addEventListener("input", () => keys.note(words.value));
  cells.get(NOTE).addEventListener("click", () => words.focus());

  // ---- what they say
  function draw() {
    const sample = store.samples.get(place.id);
    if (!sample) return;
    const told = known.cultivars.find((one) => one.name === sample.cultivar), found = doubts(known, told, sample), field = all.find((one) => one.at === place.at);
    const marked = new Set(found.flatMap((one) => one.ats)), typed = sample.typed, read = typed?.at === place.at && field ? reading(typed.text, field) : null, now = read?.shown ?? "";
    const wrong = place.refused && read && (place.stale || read.state === "high");
    heading.textContent = sample.cultivar;
    when.textContent = [dayLabel(sample.day), `pick ${sample.pick}`, told?.when ? `expected ${told.when}` : ""].filter(Boolean).join(", ");
    kept.textContent = [store.said.kept ? "Kept in this browser" : "Kept nowhere", !Object.keys(sample.cells).length ? `nothing to ${known.send ? "send" : "save"} yet` : `${unsaved(sample) ? "not " : ""}${known.send ? "sent" : "saved in a file"}`].join(", ");
    pick.value = String(sample.pick);
    for (const [at, one] of cells) {
      const value = at === place.at && now ? now : sample.cells[at] ?? "";
      if (one.textContent !== value) one.textContent = value;
      one.className = `cell${at === place.at ? " here" : ""}${marked.has(at) ? " odd" : ""}${at === place.at && wrong ? " wrong" : ""}`;
      one.setAttribute("aria-label", `${one.dataset.label}: ${value || "empty"}${marked.has(at) ? ", look again" : ""}`);
      if (at === place.at) one.setAttribute("aria-current", "true"); else one.removeAttribute("aria-current");
    }
    odd.replaceChildren(...found.map((one) => {
      const line = button(one.text, () => keys.go(one.ats[0]));
      return made("li", {}, line);
    }));
    tell(sample, field, read);
    if (section.dataset.at !== place.at) cells.get(place.at)?.scrollIntoView({ block: "nearest" });
    section.dataset.at = place.at;
    const last = sample.undo.at(-1)?.[0], lately = found.filter((one) => one.ats.includes(last));
    echo.textContent = place.refused || [place.told, ...lately.map((one) => one.text)].filter(Boolean).join(" ");
    echo.className = `echo${place.refused ? " wrong" : ""}`;
    if (found.length > doubted) alarm();
    doubted = found.length;
  }
  /** @param {Sample} sample @param {Field | undefined} field @param {ReturnType<typeof reading> | null} read */
  function tell(sample, field, read) {
    const now = read?.shown ?? "", { readings, fruit } = measured(known, sample), strips = field?.offered.length ? field.offered : [];
    which.textContent = field ? named(field) : place.at === NOTE ? "Note" : "All done";
    large.textContent = field ? `${now || sample.cells[place.at] || "–"} ${field.unit}`.trim() : place.at === END ? `${counted(readings, "reading")} on ${counted(fruit, "fruit", "fruit")}` : "";
    const filled = field && sample.cells[place.at] && !now ? following(all, sample, place.at) : NOTE;
    const odd = field?.fruit && read?.state === "waits" && !sample.typed.text.includes(".") && leading(sample.typed.text) >= field.least;
    hint.textContent = odd ? "Seldom right. Next or Enter takes it, and so does the next reading." : filled !== NOTE ? `Type over it, or press Next or Enter${place.came ? " twice" : ""} to go on at ${named(all.find((one) => one.at === filled))}.` : field ? `${field.hint}${field.fruit ? " Three digits move on; after fewer press Next or Enter." : ""}` : "";
    pad.hidden = !field || strips.length > 0;
    strip.hidden = !strips.length;
    past.hidden = !field?.past;
    for (const one of pasts) one.setAttribute("aria-pressed", String(mark(now || (sample.cells[place.at] ?? "")) === one.value));
    if (strip.dataset.at !== (field?.at ?? "")) {
      strip.dataset.at = field?.at ?? "";
      strip.replaceChildren(...strips.map((value) => button(field.times === 1 ? String(value) : `${value * field.times} %`, () => keys.choose(value), {})), half);
    }
    const left = place.came && all.find((one) => one.at === place.came.at); // a rating that was pressed last may still be a half more
    half.hidden = !left || left.fruit > 0 || left.times !== 1 || Number(place.came.text) >= left.possible[1];
    half.textContent = half.hidden ? "" : `${left.word} ${place.came.text}½`;
    for (const one of /** @type {NodeListOf<HTMLElement>} */ (strip.querySelectorAll("button:not(.half)")))
      one.setAttribute("aria-pressed", String(field?.offered.length > 0 && one.textContent.replace(" %", "") === sample.cells[place.at]));
    order.textContent = ORDERS[place.way];
    noted.hidden = place.at !== NOTE;
    if (noted.hidden && document.activeElement === words) words.blur();
    if (document.activeElement !== words) words.value = sample.cells[NOTE] ?? "";
    over.hidden = place.at !== END;
    next.hidden = skip.hidden = place.at === END;
    undo.disabled = !sample.undo.length && !sample.typed;
  }

  /** A key of the keyboard, or of an instrument that types like one; true where it was meant for a cell. @param {KeyboardEvent} event */
  function pressed(event) {
    const { key } = event, grown = known.readings.length, at = known.readings.findIndex((one) => place.at.startsWith(one.key + " ")), fruit = Number(place.at.split(" ")[1]);
    const toward = (down, right) => {
      const reading = known.readings[at + right];
      if (at < 0) keys.step(down || right);
      else if (reading && at + right < grown && fruit + down > 0 && fruit + down <= known.fruit) keys.go(`${reading.key} ${fruit + down}`);
    };
    const waits = store.samples.get(place.id)?.typed || place.came;
    if (event.repeat && key !== "Backspace") return true;
    if ((event.ctrlKey || event.metaKey) && key.toLowerCase() === "z") keys.undo();
    else if (event.ctrlKey || event.metaKey || event.altKey) return false;
    else if (key === "<" || key === ">") keys.past(key);
    else if (/^[0-9]$/.test(key)) keys.type(key);
    else if (key === "." || key === ",") keys.type(".");
    else if (key === "Enter" || (key === "Tab" && waits && !event.shiftKey)) { if (place.at === END) page.leave(); else keys.enter(); }
    else if (key === "Backspace") keys.rub();
    else if (key === "ArrowDown" || key === "ArrowUp") toward(key === "ArrowDown" ? 1 : -1, 0);
    else if (key === "ArrowLeft" || key === "ArrowRight") toward(0, key === "ArrowRight" ? 1 : -1);
    else {
      if (place.at === NOTE && key.length === 1) words.focus(); // words begin with a letter, which then stands in the box
      return false;
    }
    draw();
    return true;
  }
  return {
    draw, pressed, place,
    /** Takes what waits elsewhere where it is whole: one digit for a rating or a share. @param {string} id */
    finish(id) {
      const at = store.samples.get(id).typed.at;
      if (all.find((one) => one.at === at)?.offered.length) entering(store, { ...place, id, at }, () => all, () => {}).settle();
    },
    /** What a cell is called. @param {string} at */
    called: (at) => cells.get(at)?.dataset.label ?? at,
    settle: () => { const taken = !place.id || keys.settle(); draw(); return taken; },
    /** @param {string} id */
    open(id) {
      if (!store.samples.get(id)?.looked || store.samples.get(id).gone) store.change(id, (one) => { Object.assign(one, { looked: true, gone: false }); });
      Object.assign(place, { id, refused: "", told: "", chosen: false, stale: false, came: null });
      doubted = Infinity;
      keys.goOn();
      draw();
      heading.focus({ preventScroll: true });
    },
  };
}
