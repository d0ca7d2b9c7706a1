// Which few cultivars fill bare days: greedily by the seasons that each adds, up to what is asked; then those that nothing needs are taken
// out, two are exchanged for one, and a few neighbors are filled anew, as long as the set gets smaller. The page looks longer.
const EXCHANGES = 60, SEED = 20;

/** @param {{count: number, days: number, length: number, words: number, fruit: Uint32Array, needed: number, least: number, welcome: number[], kept: number[]}} task
 *  `fruit`: a bit a season, by candidate and day; of the `days` each `length` is a buyer's; `kept` are in every set; `welcome` decides where days do not. */
export function filling(task) {
  const { count, days, length, words, fruit, needed, least, welcome } = task;
  const kept = new Set(task.kept), every = [...Array(count).keys()], size = days * words;
  let state = SEED;
  const chance = () => { state = (Math.imul(state, 1664525) + 1013904223) >>> 0; return state / 2 ** 32; };

  function ones(word) {
    let bits = word - ((word >>> 1) & 0x55555555);
    bits = (bits & 0x33333333) + ((bits >>> 2) & 0x33333333);
    return Math.imul((bits + (bits >>> 4)) & 0x0f0f0f0f, 0x01010101) >>> 24;
  }
  function lay(found, at) {
    for (let level = least - 1; level >= 0; level--)
      for (let one = 0; one < size; one++) found[level][one] |= fruit[at * size + one] & (level ? found[level - 1][one] : -1);
  }
  function layers(chosen) {
    const found = Array.from({ length: least }, () => new Uint32Array(size));
    for (const at of chosen) lay(found, at);
    return found;
  }
  function years(layer, day) {
    let sum = 0;
    for (let one = day * words; one < (day + 1) * words; one++) sum += ones(layer[one]);
    return sum;
  }
  const reached = (chosen) => { const top = layers(chosen)[least - 1]; return Array.from({ length: days }, (_, day) => years(top, day)); };
  const often = new Uint16Array(count * days);
  for (let at = 0; at < count; at++) for (let day = 0; day < days; day++) often[at * days + day] = years(fruit.subarray(at * size, (at + 1) * size), day);

  const possible = reached(every).map((one) => one >= needed), asked = possible.map((one) => (one ? needed : 0));
  const bare = (chosen) => reached(chosen).filter((one, day) => one < asked[day]).length;

  /** In how many seasons enough are picked on a day once `at` is among them, too; as many as are asked for count. */
  function withIt(found, level, at, day, most = needed) {
    let sum = 0;
    const base = at * size;
    for (let one = day * words; one < (day + 1) * words; one++)
      sum += ones(found[level][one] | (fruit[base + one] & (level ? found[level - 1][one] : -1)));
    return Math.min(sum, most);
  }

  function greedy(start, shake = 0) {
    const chosen = [...start], found = layers(chosen);
    const weight = Array.from({ length: days }, () => 1 + shake * (chance() - 0.5));
    for (;;) {
      const have = found.map((layer) => Array.from({ length: days }, (_, day) => Math.min(years(layer, day), needed)));
      const open = asked.map((_, day) => day).filter((day) => have[least - 1][day] < asked[day]);
      const lacking = open.map((day) => weight[day] * have.reduce((sum, layer) => sum + needed - layer[day], 0));
      const reach = (at) => open.reduce((sum, day, n) => sum + Math.min(weight[day] * least * often[at * days + day], lacking[n]), 0);
      const order = open.length ? every.filter((at) => !chosen.includes(at)).map((at) => [reach(at), at]).sort((a, b) => b[0] - a[0]) : [];
      let best = -1, most = 1e-9;
      for (const [could, at] of order) {
        if (could < most - 1e-9) break; // none that follows adds more
        let gain = 0;
        for (const day of open) {
          if (!often[at * days + day]) continue;
          for (let level = 0; level < least; level++) gain += weight[day] * (withIt(found, level, at, day) - have[level][day]);
        }
        if (gain > most + 1e-9 || (best >= 0 && gain > most - 1e-9 && welcome[at] > welcome[best])) [best, most] = [at, gain];
      }
      if (best < 0) return chosen;
      chosen.push(best);
      lay(found, best);
    }
  }

  /** Without those that nothing needs, the least welcome first. */
  function tidied(chosen) {
    let left = [...chosen], have = reached(left);
    for (const at of [...chosen].sort((a, b) => welcome[a] - welcome[b])) {
      if (kept.has(at)) continue;
      const rest = left.filter((one) => one !== at), without = reached(rest);
      if (without.every((one, day) => one >= Math.min(asked[day], have[day]))) [left, have] = [rest, without];
    }
    return left;
  }

  /** The most welcome one, of those that `may`, that fills what `rest` leaves bare, but for `most` days. */
  function stand(rest, most, may) {
    const found = layers(rest), open = asked.map((_, day) => day).filter((day) => years(found[least - 1], day) < asked[day]);
    const able = every.filter((at) => !rest.includes(at) && may(at) && open.filter((day) => withIt(found, least - 1, at, day, Infinity) < asked[day]).length <= most);
    return able.sort((a, b) => welcome[b] - welcome[a] || a - b)[0];
  }
  function paired(chosen) {
    const most = bare(chosen);
    for (const one of chosen) for (const other of chosen) {
      if (one >= other || kept.has(one) || kept.has(other)) continue;
      const rest = chosen.filter((at) => at !== one && at !== other), found = stand(rest, most, () => true);
      if (found !== undefined) return paired(tidied([...rest, found]));
    }
    return chosen;
  }
  function swapped(chosen) {
    let now = [...chosen];
    const most = bare(chosen);
    for (const at of [...chosen].sort((a, b) => welcome[a] - welcome[b])) {
      if (kept.has(at)) continue;
      const rest = now.filter((one) => one !== at), found = stand(rest, most, (one) => welcome[one] > welcome[at] + 1e-9);
      if (found !== undefined) now = [...rest, found];
    }
    return now;
  }

  /** (days) in how many seasons enough of `kept` and this one are picked. */
  const before = layers(task.kept);
  const withEach = (at) => Array.from({ length: days }, (_, day) => withIt(before, least - 1, at, day, Infinity));

  const middle = every.map((at) => {
    let sum = 0, all = 0;
    for (let day = 0; day < days; day++) { all += often[at * days + day]; sum += (day % length) * often[at * days + day]; }
    return sum / Math.max(all, 1);
  });
  const ordered = (chosen) => [...chosen].sort((a, b) => middle[a] - middle[b] || a - b);

  function best() {
    let now = paired(tidied(greedy(task.kept)));
    for (let turn = 0; turn < EXCHANGES && now.length > kept.size; turn++) {
      const own = ordered(now).filter((at) => !kept.has(at)), taken = Math.min(2 + Math.floor(4 * chance()), own.length);
      const start = Math.floor(chance() * (own.length - taken + 1)), out = new Set(own.slice(start, start + taken));
      const tried = tidied(greedy(now.filter((at) => !out.has(at)), 0.6));
      if (tried.length <= now.length && bare(tried) <= bare(now)) now = tried;
    }
    return ordered(swapped(now));
  }

  return { possible, asked, reached, withEach, greedy: () => greedy(task.kept), best };
}
