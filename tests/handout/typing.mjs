// Types into the bench page's own cells, without a page: what it knows and runs of keys on standard input; what then stands in the cells comes as JSON.
import { readFileSync } from "node:fs";
import { fields, goingOn } from "../../dashboard/handout/bench/cells.js";
import { doubts } from "../../dashboard/handout/bench/doubts.js";
import { entering } from "../../dashboard/handout/bench/entry.js";
import { content, sheet, unsaved } from "../../dashboard/handout/bench/filed.js";

const { known, runs } = JSON.parse(readFileSync(0, "utf8"));
const named = { "⏎": "enter", "⌫": "rub", "»": "skip", "↶": "undo", "½": "half" };
const answers = runs.map(({ keys, way = "fruit", cells = {}, cultivar = "" }) => {
  const sample = { day: known.day, cultivar, pick: 1, looked: true, picked: true, cells, typed: null, undo: [], saved: "", gone: false, rev: 0 };
  const store = { samples: new Map([["s", sample]]), said: {}, change: (id, act) => act(store.samples.get(id)) };
  const all = fields(known, way), place = { id: "s", at: goingOn(all, sample), refused: "", told: "", chosen: false, stale: false, came: null, way };
  let alarms = 0;
  const entry = entering(store, place, () => all, () => { alarms++; }), refused = [];
  for (const key of keys) {
    if (named[key]) entry[named[key]](); else entry.type(key);
    if (place.refused) refused.push(place.refused);
  }
  const told = known.cultivars.find((one) => one.name === cultivar);
  return { cells: sample.cells, at: place.at, typed: sample.typed?.text ?? "", refused, alarms, doubts: doubts(known, told, sample).map((one) => one.text),
    order: all.map((one) => one.at), sheet: sheet(known, [sample], known.day), unsaved: unsaved(sample), saved: unsaved({ ...sample, saved: content(sample) }) };
});
process.stdout.write(JSON.stringify(answers));
