// Asks the slate's own scripts, with what a slate knows and questions on standard input; the answers come as JSON.
import { readFileSync } from "node:fs";
import { coming, unpacked } from "../../dashboard/slate/coming.js";
import { closers, fill } from "../../dashboard/slate/proposing.js";

const { known, asks } = JSON.parse(readFileSync(0, "utf8"));
const seasons = coming(known, await unpacked(known.seasons));
const answers = asks.map(({ what, list, span, certainty, days, may, text, buyer = 0 }) => {
  const begun = performance.now();
  const told =
    what === "strip" ? seasons.strip(list, span, certainty)
    : what === "fill" ? fill(known, seasons, list, span, certainty, may)
    : what === "closers" ? closers(known, seasons, list, certainty, days, may, seasons.buyers[buyer])
    : seasons.typed(text);
  return { told, seconds: (performance.now() - begun) / 1000 };
});
process.stdout.write(JSON.stringify(answers));
