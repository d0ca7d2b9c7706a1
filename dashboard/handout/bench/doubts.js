// What may be right and seldom is, said while the fruit is on the bench. The rules are those of the check of records.
/** @import { Known, Cultivar, Sample, Doubt } from "./bench" */
import { mark, unmarked } from "./typed.js";

/** @param {string | undefined} text */
const number = (text) => (text ? Number(text) : NaN);

/** @param {Known} known @param {Cultivar | undefined} cultivar @param {Sample} sample @returns {Doubt[]} */
export function doubts(known, cultivar, sample) {
  const found = [], { cheeks, oval } = known.apart;
  const [diameter, , cheek, , sugar] = known.readings;
  for (let fruit = 1; fruit <= known.fruit; fruit++) {
    const at = known.readings.map((one) => `${one.key} ${fruit}`);
    const values = at.map((one) => number(sample.cells[one])); // a limit is no number
    const say = (text, ...places) => found.push({ ats: places.map((place) => at[place]), text: `Fruit ${fruit}: ${text}` });
    known.readings.forEach(({ word, unit, decimals, usual: [low, high] }, n) => {
      if (values[n] < low || values[n] > high)
        say(`${word} ${sample.cells[at[n]]} ${unit} is seldom right. Usual is ${low.toFixed(decimals)} to ${high.toFixed(decimals)}.`, n);
    });
    const [one, other, first, second, sweet] = values, size = (one + other) / 2;
    if (Math.abs(one - other) > oval * size)
      say(`the diameters are ${Math.abs(one - other).toFixed(diameter.decimals)} ${diameter.unit} apart. Measure both again.`, 0, 1);
    if (Math.abs(first - second) > cheeks + 1e-9)
      say(`the cheeks are ${Math.abs(first - second).toFixed(cheek.decimals)} ${cheek.unit} apart. One was misread, or it ripens unevenly.`, 2, 3);
    if (first === 0 && second === 0) say("both cheeks read 0. Leave them empty if nothing was measured.", 2, 3);
    if (cultivar?.size && Math.abs(size - cultivar.size[0]) > cultivar.size[1])
      say(`${size.toFixed(diameter.decimals)} ${diameter.unit} is far from earlier fruit of ${cultivar.name}, mostly near ${cultivar.size[0].toFixed(diameter.decimals)}.`, 0, 1);
    if (cultivar?.sugar && Math.abs(sweet - cultivar.sugar[0]) > cultivar.sugar[1])
      say(`${sample.cells[at[4]]} ${sugar.unit} is far from earlier fruit of ${cultivar.name}, mostly near ${cultivar.sugar[0].toFixed(sugar.decimals)}.`, 4);
  }
  known.readings.filter((one) => one.past).forEach(({ key, word, unit }) => {
    const ats = Array.from({ length: known.fruit }, (_, n) => `${key} ${n + 1}`), read = ats.map((at) => number(sample.cells[at]));
    ats.forEach((at, n) => {
      const said = sample.cells[at] ?? "", sign = mark(said), end = number(unmarked(said)), past = read.findIndex((one) => (sign === ">" ? one > end : one < end));
      if (sign && past >= 0)
        found.push({ ats: [at, ats[past]], text: `Fruit ${n + 1}: ${word} ${said} ${unit}, and fruit ${past + 1} read ${sample.cells[ats[past]]}. So the instrument goes on: read it again.` });
    });
  });
  return found;
}
