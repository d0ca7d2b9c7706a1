// What was typed into a field: digits with the point understood (294 is 2.94), or with a point as an instrument types it.
/** @import { Field } from "./bench" */

/** Its least and most as they are written, rounded to what can be typed. @param {Field} field */
export function ends({ possible: [low, high], decimals }) {
  const by = 10 ** decimals;
  return [(Math.ceil(low * by - 1e-9) / by).toFixed(decimals), (Math.floor(high * by + 1e-9) / by).toFixed(decimals)];
}

/** The mark of a reading past an end of its instrument, "" of an ordinary one. @param {string} text */
export const mark = (text) => /^[<>]/.exec(text)?.[0] ?? "";

/** What stands behind the mark. @param {string} text */
export const unmarked = (text) => text.slice(mark(text).length);

/** How many digits, zeros before them not counted. @param {string} text */
export const leading = (text) => unmarked(text).replace(/^0+(?=\d)/, "").length;

/** `shown` as it stands on the screen and, once taken, in the file. `state`: nothing, waits (for a digit or Enter), whole (no digit can
 * follow, and it is a usual value), low or high (not possible). @param {string} text @param {Field} field */
export function reading(text, field) {
  const past = mark(text);
  if (past) {
    const read = reading(unmarked(text), field);
    return { ...read, shown: past + read.shown };
  }
  if (!/\d/.test(text)) return { shown: text, value: NaN, state: "nothing" };
  const pointed = text.includes("."), { decimals, possible: [low, high], usual: [from, to], least, times } = field;
  const value = pointed ? Number(text) : Number(text) / 10 ** decimals;
  const shown = pointed ? text.replace(/^0+(?=\d)/, "").replace(/^\./, "0.").replace(/\.$/, "") : value.toFixed(decimals);
  const kept = times === 1 ? shown : String(Math.round(value * times * 100) / 100);
  const half = pointed && decimals === 0 && /\.\d$/.test(text); // of a rating or share nothing comes behind it
  const whole = half || !pointed && text.length >= least && (value * 10 > high || (value === 0 && decimals === 0)) && value >= from && value <= to;
  return { shown: kept, value, state: value > high ? "high" : value < low ? "low" : whole ? "whole" : "waits" };
}

/** @param {Field} field */
export const named = ({ fruit, word }) => (fruit ? `Fruit ${fruit}, ${word}` : word);

/** @param {string} shown @param {Field} field */
export function outside(shown, field) {
  const [low, high] = ends(field).map((end) => (field.times === 1 ? end : String(Number(end) * field.times)));
  return `${named(field)}: ${shown} ${field.unit} is not taken. Only ${low} to ${high} is possible, so read it again.`;
}
