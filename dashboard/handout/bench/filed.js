// The day as a file: the bench sheet's own rows, which the import reads without a question.
/** @import { Known, Sample } from "./bench" */

/** No spreadsheet takes a cell for a formula; the import takes the apostrophe away again. @param {string} text */
const cell = (text) => `"${(/^[=+\-@\t\r＝＋－＠]/.test(text) ? "'" + text : text).replace(/\s+/g, " ").replace(/"/g, '""')}"`;

/** What of a sample stands in a file. @param {Sample} sample */
export const content = (sample) => JSON.stringify([sample.pick, Object.entries(sample.cells).sort()]);

/** Half a reading waits, too. @param {Sample} sample */
export const unsaved = (sample) => !sample.gone && (Boolean(sample.typed) || (Object.keys(sample.cells).length > 0 && content(sample) !== sample.saved));

/** What is measured was picked; a name that was only opened was not. @param {Sample} sample */
export const picked = (sample) => sample.picked || Boolean(sample.typed) || Object.keys(sample.cells).length > 0;

/** The sheet of a day; who was looked at and not measured stands there, too, with no figures. @param {Known} known @param {Sample[]} samples @param {string} day */
export function sheet(known, samples, day) {
  const blank = known.headings.map(() => "");
  const line = (cells) => blank.map((_, n) => cell(cells[known.headings[n]] ?? "")).join(",");
  const head = (name, value) => [name, value, ...blank.slice(2)].map(cell).join(",");
  const lines = [head("site", known.site), head("date", day)];
  while (lines.length < known.above) lines.push(blank.map(cell).join(","));
  lines.push(known.headings.map(cell).join(","));
  for (const sample of samples) {
    const told = known.cultivars.find((one) => one.name === sample.cultivar);
    const expected = Object.keys(sample.cells).length ? (told?.when ?? "") : picked(sample) ? "picked, not measured" : "looked at, not picked";
    known.readings.forEach(({ key, head: reading }, n) => {
      const figures = Object.fromEntries(Array.from({ length: known.fruit }, (_, f) => [String(f + 1), sample.cells[`${key} ${f + 1}`] ?? ""]));
      const judged = Object.fromEntries([...known.ratings, ...known.shares, ...known.juice, { key: "note" }].map((one) => [one.key, sample.cells[one.key] ?? ""]));
      const once = { cultivar: sample.cultivar, row: told?.row ?? "", position: told?.position ?? "", expected, pick: String(sample.pick), ...judged };
      lines.push(line({ ...(n ? {} : once), reading, ...figures }));
    });
  }
  return "\ufeff" + lines.join("\r\n") + "\r\n";
}

/** @param {string} name @param {string} text */
export function handOver(name, text) {
  const link = document.createElement("a");
  link.href = URL.createObjectURL(new Blob([text], { type: "text/csv;charset=utf-8" }));
  link.download = name;
  document.body.append(link);
  link.click();
  link.remove();
  setTimeout(() => URL.revokeObjectURL(link.href), 60_000);
}
