// Keys, one at a time, into the cells of a sample. A caliper or gauge that types like a keyboard sends the same keys.
/** @import { Field, Place, Sample, Store } from "./bench" */
import { END, NOTE, after, following, goingOn } from "./cells.js";
import { leading, mark, named, outside, reading, unmarked } from "./typed.js";

const KEPT_STEPS = 400, LONGEST = 7;

/** @param {Store} store @param {Place} place @param {() => Field[]} all @param {() => void} alarm what eyes on the fruit can hear */
export function entering(store, place, all, alarm) {
  /** @returns {Sample} */
  const sample = () => store.samples.get(place.id);
  const field = () => all().find((one) => one.at === place.at);
  const typed = () => (sample().typed?.at === place.at ? sample().typed.text : "");
  /** What is taken: a sign alone is put before what stands. */
  const meant = () => typed() + (typed() && !unmarked(typed()) ? unmarked(sample().cells[place.at] ?? "") : "");

  function put(at, value) {
    store.change(place.id, (one) => {
      if (at !== NOTE || one.undo.at(-1)?.[0] !== NOTE) // a note is one step, not one a letter
        one.undo = [...one.undo, /** @type {[string, string]} */ ([at, one.cells[at] ?? ""])].slice(-KEPT_STEPS);
      if (value) one.cells[at] = value; else delete one.cells[at];
      one.typed = null;
      one.looked = true;
    });
  }
  const pending = (text) => store.change(place.id, (one) => { one.typed = text ? { at: place.at, text } : null; });

  function refuse(text) {
    const read = reading(text, field());
    if (read.state !== "high" && read.state !== "low") return false;
    place.refused = outside(read.shown, field());
    alarm();
    return true;
  }
  /** Takes what was typed; false where it is not possible. */
  function settle() {
    const text = meant();
    if (!text || !field()) return true;
    if (refuse(text)) { place.stale = true; return false; }
    if (reading(text, field()).state === "nothing") pending("");
    else {
      put(place.at, reading(text, field()).shown);
      place.refused = "";
    }
    return true;
  }
  function move(at, came = null) {
    Object.assign(place, { at, came, stale: false, refused: "", told: "", chosen: false });
  }
  /** Takes the cell, moves on, and says what it replaced; that sounds where nobody pressed the cell. @param {string} value @param {Place["came"]} left */
  function take(value, left) {
    const { at, chosen } = place, before = sample().cells[at] ?? "", told = before && before !== value ? `${named(field())}: ${before} became ${value}.` : "";
    put(at, value);
    move(after(all(), sample(), at, before !== ""), left);
    place.told = told;
    if (told && !chosen) alarm();
  }
  /** What the next sign is written behind: nothing, where that was refused or is a reading of its own. @param {string} sign */
  function standing(sign) {
    const text = place.stale ? "" : typed();
    if (sign === "." || text.includes(".") || !/\d/.test(text)) return text;
    const read = reading(text, field());
    if (read.state === "high") return "";
    if (read.state !== "waits" || leading(text) < field().least || reading(text + sign, field()).state !== "high") return text;
    take(read.shown, null);
    return "";
  }

  const keys = {
    /** A digit, or the point. */
    type(sign) {
      if (sign === "." && place.came && !place.came.text.includes(".") && !(field() && typed())) { // the cell was left too early: an instrument goes on behind its point
        const { at, text } = place.came;
        store.change(place.id, (one) => {
          const [, before] = one.undo.pop();
          if (before) one.cells[at] = before; else delete one.cells[at];
        });
        move(at);
        pending(text);
      }
      if (!field()) {
        place.told = `${sign} is not taken: no reading is asked for here. Press the cell that it belongs to.`;
        alarm();
        return;
      }
      const before = standing(sign);
      if (before.length >= LONGEST || (sign === "." && before.includes("."))) return;
      Object.assign(place, { stale: false, came: null });
      const text = before + sign, read = reading(text, field());
      if (read.state === "whole") take(read.shown, { at: place.at, text });
      else {
        pending(text);
        if (read.state === "high" && !text.includes(".")) refuse(text); // behind a point an instrument still goes on
      }
    },
    /** Less or more than the end that is typed: a reading past it. The same sign again takes it off. @param {string} sign */
    past(sign) {
      if (!field()?.past) return;
      const text = place.stale ? "" : typed(), stands = sample().cells[place.at] ?? "";
      Object.assign(place, { stale: false, refused: "", told: "", came: null });
      if (!text && mark(stands) === sign) put(place.at, unmarked(stands));
      else pending((mark(text) === sign ? "" : sign) + unmarked(text));
    },
    /** Takes the cell and moves on; of a cell that moved on by itself it only ends what was typed. */
    enter() {
      if (place.came && field() && !typed()) { place.came = null; return; }
      keys.skip();
    },
    skip() {
      const read = typed() && field() ? reading(meant(), field()) : null;
      if (read?.state === "waits" || read?.state === "whole") take(read.shown, null);
      else if (settle()) move(following(all(), sample(), place.at));
    },
    /** The last digit, then the cell, then back into the cell before. */
    rub() {
      if (typed()) { pending(place.stale ? "" : typed().slice(0, -1)); Object.assign(place, { stale: false, refused: "" }); }
      else if (field() && sample().cells[place.at]) put(place.at, "");
      else keys.step(-1);
    },
    /** @param {string} at */
    go(at) {
      settle();
      const refused = place.refused;
      if (typed()) pending("");
      move(at);
      Object.assign(place, { refused, chosen: true });
    },
    /** To the cell so many before or behind. @param {number} by */
    step(by) {
      const places = [...all().map((one) => one.at), NOTE, END], at = places.indexOf(place.at) + by;
      if (places[at]) keys.go(places[at]);
    },
    /** One press in place of typing. @param {number} value */
    choose(value) {
      take(String(value * field().times), { at: place.at, text: String(value) });
    },
    /** Half a step more than what was pressed last. */
    half() {
      if (!place.came) return;
      keys.type(".");
      keys.type("5");
    },
    note(text) {
      place.came = null;
      put(NOTE, text.trim());
    },
    undo() {
      if (typed()) { pending(""); move(place.at); return; }
      const last = sample().undo.at(-1);
      if (!last) return;
      store.change(place.id, (one) => {
        const [at, before] = one.undo.pop();
        if (before) one.cells[at] = before; else delete one.cells[at];
      });
      move(last[0]);
    },
    goOn() { move(goingOn(all(), sample())); },
    settle,
  };
  return keys;
}
