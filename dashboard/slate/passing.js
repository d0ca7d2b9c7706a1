// Who passes the filters of a published slate: a mask an option, and one for a number that was typed.
import { listed } from "./coming.js";
import { canBe, sayTyped, typedField } from "../page/parts/typing.js";

/** `members` and `missing` have by "field=value" a mask over the places: who passes it, and of whom the records do not tell it. */
export function filtering(known) {
  const count = known.names.length, members = new Map(), missing = new Map();
  for (const group of known.groups)
    for (const option of group.options)
      for (const [masks, places] of [[members, option.members], [missing, option.missing]]) {
        const mask = new Uint8Array(count);
        places.forEach((row) => (mask[row] = 1));
        masks.set(group.field + "=" + option.value, mask);
      }

  /** Whether a value can be filtered by: one that is listed, or a number in a unit of the group, "650h". */
  function knows(group, value) {
    const key = group.field + "=" + value;
    if (!members.has(key) && group.typed && canBe(group.typed.units, value)) {
      const most = parseInt(value, 10), needs = group.typed.needs[value.replace(/^\d+/, "")];
      members.set(key, Uint8Array.from(needs, (need) => Number(need !== null && need <= most)));
      missing.set(key, Uint8Array.from(needs, (need) => Number(need === null)));
    }
    return members.has(key);
  }

  /** @param {Record<string, string[]>} filters @param {string} leaveOut a field that is not asked */
  function passing(filters, leaveOut) {
    const answer = new Uint8Array(count).fill(1);
    for (const [field, values] of Object.entries(filters)) {
      if (field === leaveOut || !values.length) continue;
      for (let row = 0; row < count; row++)
        if (answer[row] && !values.some((value) => members.get(field + "=" + value)[row])) answer[row] = 0;
    }
    return answer;
  }
  return { members, missing, knows, passing };
}

/** The fields for a number of one's own, each under its list; what comes back has them say what is asked. @param {HTMLFormElement} form */
export function numberFields(known, form, choose) {
  const rows = known.groups.filter((group) => group.typed).map((group) => {
    const note = /** @type {HTMLElement} */ (form.querySelector("[data-field=" + group.field + "] .note"));
    const row = typedField(group.typed, group.label, note, (value) => choose(group, value ? [value] : []));
    note.before(row);
    return /** @type {const} */ ([group.field, row]);
  });
  return (filters) => rows.forEach(([field, row]) => sayTyped(row, filters[field] || []));
}

/** Of my slate: who gets enough winter chill at the place that was chosen, and who goes short in the same winter. A sentence each. */
export function chillTold(known, list) {
  const told = known.chill;
  if (!told) return [];
  const filled = (words, values) => words.replace(/\{(\w+)\}/g, (_, name) => (name === "place" ? told.place : values[name]));
  const sure = list.filter((row) => told.short[row]), { words } = told;
  if (!sure.length) return [filled(words.none, {})];
  const enough = filled(words.enough[sure.length > 1 ? 1 : 0], { well: sure.filter((row) => told.well.includes(row)).length, known: sure.length });
  const missed = told.years.map((year, at) => ({ year, rows: sure.filter((row) => told.short[row].includes(at)) }));
  const worst = missed.reduce((most, one) => (one.rows.length >= most.rows.length ? one : most));
  if (!worst.rows.length) return [enough, words.never];
  return [enough, filled(words.together, { year: worst.year, count: worst.rows.length, names: listed(worst.rows.map((row) => known.names[row])) })];
}
