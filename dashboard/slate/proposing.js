// What would close a gap of the list, and what would fill all of them: candidates and proposals, with the days that each adds.
import { filling } from "./filling.js";

/** Those of `may` that give a buyer fruit on bare days from the first to the last of `days`: `closes`, days covered with it and not without;
 *  `adds`, days of a season on which enough are picked with it and not without, covered ones left out. Most first, each times the chance that
 *  the buyer takes it. */
export function closers(known, seasons, list, certainty, days, may, buyer = seasons.buyers[0]) {
  const { draws, worth } = known.seasons, clears = known.seasons[`clears ${seasons.buyers.indexOf(buyer)}`], wanted = seasons.needed(certainty);
  const others = may.filter((place) => !list.includes(place)), all = [...list, ...others];
  const have = seasons.enough(seasons.taken(list, buyer), days[0], days[1]), length = have.length;
  const task = { count: all.length, days: length, length, words: seasons.words, fruit: seasons.fruit(all, days[0], days[1], [buyer]), least: seasons.least, needed: wanted };
  const told = filling({ ...task, welcome: all.map((place) => worth[place] ?? 0), kept: list.map((_, at) => at) });
  return others
    .map((place, n) => {
      const count = told.withEach(list.length + n);
      let closes = 0, adds = 0;
      have.forEach((years, day) => {
        if (years >= wanted) return;
        closes += Number(count[day] >= wanted);
        adds += count[day] - years;
      });
      return { place, closes, adds: adds / draws, likely: clears[place] ?? 1 };
    })
    .filter((one) => one.adds > 0)
    .sort((a, b) => b.closes * b.likely - a.closes * a.likely || b.adds * b.likely - a.adds * a.likely || (worth[b.place] ?? 0) - (worth[a.place] ?? 0));
}

/** The list filled up out of `may`, for every buyer: who is `added`, in order of picking, each with the `days` that would lie bare without it;
 *  the stretches that are left `bare`, and those that all of them together do not cover (`impossible`); each by buyer. `asked`: days of all
 *  buyers. `greedy`: how many a plain greedy adds. */
export function fill(known, seasons, list, span, certainty, may) {
  const [from, to] = span, length = to - from + 1, days = length * seasons.buyers.length, wanted = seasons.needed(certainty), others = may.filter((place) => !list.includes(place)), all = [...list, ...others];
  const task = filling({
    count: all.length, days, length, words: seasons.words, fruit: seasons.fruit(all, from, to), needed: wanted, least: seasons.least,
    welcome: all.map((place) => known.seasons.worth[place] ?? 0), kept: list.map((_, at) => at),
  });
  const chosen = task.best(), reached = task.reached(chosen), covered = reached.map((years) => years >= wanted);
  const each = (marked) => seasons.buyers.map((_, turn) => seasons.stretches(marked.slice(turn * length, (turn + 1) * length), from));
  const lost = (at) => task.reached(chosen.filter((one) => one !== at)).map((years, day) => covered[day] && years < wanted);
  return {
    added: chosen.filter((at) => at >= list.length).map((at) => ({ place: all[at], days: each(lost(at)) })),
    asked: days,
    covered: covered.filter(Boolean).length,
    bare: each(covered.map((one) => !one)),
    impossible: each(task.possible.map((one) => !one)),
    greedy: task.greedy().length - list.length,
  };
}
