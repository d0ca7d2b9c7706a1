// The cells of a sample in the order they are filled: an instrument at a time, then what is judged of the whole sample, then the note.
/** @import { Known, Field, Sample } from "./bench" */

export const NOTE = "note", END = "end";
const DIGITS = 3; // of a reading, with which it moves on by itself

/** @param {number} low @param {number} high */
function offered(low, high) {
  if (!Number.isInteger(low) || !Number.isInteger(high) || high - low > 10) return [];
  return Array.from({ length: high - low + 1 }, (_, n) => low + n);
}

/** `way`: "fruit" takes all readings of an instrument on one fruit before the next fruit, "row" a reading on all fruit. @param {Known} known @param {string} way
 * @returns {Field[]} */
export function fields(known, way) {
  const numbers = Array.from({ length: known.fruit }, (_, n) => n + 1);
  const pairs = known.instruments.flatMap((keys) =>
    way === "fruit" ? numbers.flatMap((fruit) => keys.map((key) => ({ key, fruit }))) : keys.flatMap((key) => numbers.map((fruit) => ({ key, fruit }))));
  const measured = pairs.map(({ key, fruit }) => {
    const { word, unit, decimals, possible, usual, past } = known.readings.find((one) => one.key === key);
    const middle = ((usual[0] + usual[1]) / 2).toFixed(decimals);
    return { at: `${key} ${fruit}`, key, fruit, word, unit, decimals, possible, usual, past, least: DIGITS, times: 1, offered: [],
      hint: `Type ${middle.replace(".", "")} for ${middle} ${unit}.` };
  });
  const rated = known.ratings.map(({ key, word, low, high, best }) => {
    /** @type {[number, number]} */
    const ends = [low, high];
    return { at: key, key, fruit: 0, word, unit: "", decimals: 0, possible: ends, usual: ends, least: 1, times: 1, offered: offered(low, high),
      hint: `${low} to ${high}, ${best} is best. Halves: press 6, then 6½.` };
  });
  const shared = known.shares.map(({ key, word }) => {
    /** @type {[number, number]} */
    const ends = [0, 10];
    return { at: key, key, fruit: 0, word, unit: "%", decimals: 0, possible: ends, usual: ends, least: 1, times: 10, offered: offered(0, 10),
      hint: "How many fruit of ten: 3 gives 30 %." };
  });
  const warm = known.juice.map(({ key, word, unit, possible, usual }) => ({ at: key, key, fruit: 0, word, unit, decimals: 0, possible, usual, least: 2, times: 1, offered: [],
    hint: `How warm the juice is in ${unit}, not the air.` }));
  return [...measured, ...rated, ...shared, ...warm];
}

/** The next cell that is empty; past the last the note, past the note the end. @param {Field[]} all @param {Sample} sample @param {string} at */
export function following(all, sample, at) {
  if (at === NOTE || at === END) return END;
  const here = all.findIndex((one) => one.at === at);
  return all.slice(here + 1).find((one) => !sample.cells[one.at])?.at ?? NOTE;
}

/** Where to go after a cell was taken. One that was filled before is mended, and its neighbor may be next; no mended or lone cell leads to the
 * note, except the last one that was empty. @param {Field[]} all @param {Sample} sample @param {string} at @param {boolean} mended */
export function after(all, sample, at, mended) {
  const empty = following(all, sample, at), next = all[all.findIndex((one) => one.at === at) + 1]?.at;
  return !mended && empty !== NOTE ? empty : next ?? (mended ? at : NOTE);
}

/** Where to go on: the first empty cell behind the last filled one. @param {Field[]} all @param {Sample} sample */
export function goingOn(all, sample) {
  if (sample.typed) return sample.typed.at;
  const last = all.reduce((most, one, n) => (sample.cells[one.at] ? n : most), -1);
  return last < 0 ? all[0].at : following(all, sample, all[last].at);
}

/** How many readings there are, and how many fruit have any. @param {Known} known @param {Sample} sample */
export function measured(known, sample) {
  const filled = Object.keys(sample.cells).filter((at) => known.readings.some((one) => at.startsWith(one.key + " ")));
  return { readings: filled.length, fruit: new Set(filled.map((at) => at.split(" ")[1])).size, all: known.readings.length * known.fruit };
}
