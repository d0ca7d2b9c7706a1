// The coming seasons of a published slate, counted as the page counts them: on which days of how many drawn seasons a list has fruit,
// which days are covered, and what the slate strip says of it. Days here are those of the season; numbers of cultivars are their places.

/** @import { StripTold } from "../page/messages" */

export const listed = (names, most = 6) => names.slice(0, most).join(", ") + (names.length > most ? ` and ${names.length - most} more` : "");

/** What is said of one, or of several, of a list: a sentence, or none. @param {string[]} both */
export function saidOf(known, list, which, both, most = 6) {
  const called = (name) => ([...name].length > known.longest ? [...name].slice(0, known.longest).join("").trimEnd() + "…" : name);
  const found = list.filter(which).map((place) => called(known.names[place]));
  return found.length ? [`${found.length} of ${list.length} ${both[found.length > 1 ? 1 : 0]}: ${listed(found, most)}.`] : [];
}
/** Of a list, what covers nothing for a buyer, and what may not: a sentence each. */
export const uncovering = (known, list, most = 6) => known.buyers.flatMap(({ verdict, uncovering }) =>
  uncovering.flatMap(([word, ...both]) => saidOf(known, list, (place) => verdict[place] === word, both, most)));

const LOOKS = { qualifies: "full", "may qualify": "hatched" };
/** Whether a buyer takes it, or may. */
export const takes = (buyer, place) => buyer.verdict[place] in LOOKS;

/** By cultivar all first days, then all days after the last. */
export async function unpacked({ packed, bits, base, draws }) {
  const bytes = Uint8Array.from(atob(packed), (letter) => letter.charCodeAt(0));
  const buffer = await new Response(new Blob([bytes]).stream().pipeThrough(new DecompressionStream("deflate"))).arrayBuffer();
  const told = bits === 8 ? new Uint8Array(buffer) : new Uint16Array(buffer), found = new Uint16Array(told.length), half = told.length / 2;
  base.forEach((first, row) => {
    for (let season = 0; season < draws; season++) {
      const at = row * draws + season, to = 2 * row * draws + season;
      found[to] = first + told[at];
      found[to + draws] = found[to] + told[half + at];
    }
  });
  return found;
}

/** @param {any} known what the slate knows @param {Uint16Array} packed as `unpacked` */
export function coming(known, packed) {
  const told = known.seasons, { buyers } = known, { first, draws, least } = told;
  const at = new Map(told.rows.map((place, row) => [place, row]));
  const words = Math.ceil(draws / 32);
  const day = (date) => told.dates[Math.floor(date + 0.5) - first] ?? "";
  const days = (a, b) => (day(a) === day(b) ? day(a) : `${day(a)} to ${day(b)}`);
  const label = (a, b) => `${days(a, b).replace(" to ", "–")} · ${counted(b - a + 1, "day")}`;
  const counted = (number, word) => `${number} ${word}${number === 1 ? "" : "s"}`;

  /** In how many seasons enough of the list are picked, day by day; what a buyer does not take has no place in it. `bare`, by season, is
   *  given how many days have too few. */
  function enough(list, from, to, bare = new Uint32Array(draws)) {
    const found = new Uint32Array(to - from + 1), picked = list.map((place) => at.get(place)).filter((row) => row !== undefined);
    for (let season = 0; season < draws; season++) {
      const step = new Int16Array(to - from + 2);
      for (const row of picked) {
        const start = Math.max(packed[2 * row * draws + season], from - first);
        const end = Math.min(packed[(2 * row + 1) * draws + season], to + 1 - first);
        if (end > start) { step[start + first - from] += 1; step[end + first - from] -= 1; }
      }
      for (let day = 0, picking = 0; day <= to - from; day++) { picking += step[day]; if (picking >= least) found[day] += 1; else bare[season] += 1; }
    }
    return found;
  }

  /** One bit a season: by cultivar and day, those of the first buyer before those of the next, set where it is picked and that buyer takes it. */
  function fruit(list, from, to, whose = buyers) {
    const length = to - from + 1, bits = new Uint32Array(list.length * whose.length * length * words);
    list.forEach((place, n) => whose.forEach((buyer, turn) => {
      const row = at.get(place), begun = (n * whose.length + turn) * length;
      if (row === undefined || !takes(buyer, place)) return;
      for (let season = 0; season < draws; season++) {
        const start = Math.max(packed[2 * row * draws + season], from - first);
        const end = Math.min(packed[(2 * row + 1) * draws + season], to + 1 - first);
        for (let one = start; one < end; one++) bits[(begun + one + first - from) * words + (season >> 5)] |= 1 << (season & 31);
      }
    }));
    return bits;
  }

  /** Runs of days that are marked, as first and last of them. */
  function stretches(marked, from) {
    const found = [];
    marked.forEach((one, day) => {
      const last = found[found.length - 1];
      if (one && last && last[1] === from + day - 1) last[1] = from + day;
      else if (one) found.push([from + day, from + day]);
    });
    return found;
  }
  const taken = (list, buyer) => list.filter((place) => takes(buyer, place));
  const gaps = (list, [from, to], certainty, buyer = buyers[0]) => stretches([...enough(taken(list, buyer), from, to)].map((years) => years / draws < certainty / 10), from);
  /** The fewest seasons whose share is that many in ten. */
  function needed(certainty) {
    let years = 0;
    while (years / draws < certainty / 10) years += 1;
    return years;
  }

  function marks([from, to]) {
    const every = told.keys.slice(from - first, to - first + 1).map((key, day) => [day, Number(key.slice(3)), Number(key.slice(0, 2))]);
    let found = [];
    for (const marked of [[1, 15], [1, 8, 15, 22], [1, 4, 8, 11, 15, 18, 22, 25]]) {
      found = every.filter(([, date]) => marked.includes(date));
      if (found.length >= 3) break;
    }
    const long = found.filter(([, date]) => date === 1).length > 1;
    return found.map(([place, date, month], n) => [place, long && date === 1 ? told.months[month - 1].slice(0, 3) : long && n ? String(date) : day(from + place)]);
  }

  /** The page's statement of a buyer's days: on how many there is fruit often enough, and how many a year have none; two sentences. */
  function statement(buyer, list, [from, to], certainty) {
    const of = told.covered, bare = new Uint32Array(draws), chance = [...enough(taken(list, buyer), from, to, bare)].map((years) => years / draws);
    const days = chance.length, good = chance.filter((one) => one >= certainty / 10), covered = good.length;
    const which = !covered ? "none" : covered === days ? (days === 1 ? "only" : "each") : covered > 1 ? "some" : "just";
    const mean = bare.reduce((sum, one) => sum + one, 0) / draws, about = Math.floor(mean + 0.5), worst = bare.sort()[Math.ceil(0.9 * (draws - 1))];
    const left = of.left.replace("{days}", about ? of.about.replace("{}", counted(about, "day")) : of.less)
      .replace("{moves}", about && mean < 2 * good.reduce((sum, one) => sum + 1 - one, 0) ? of.moves : "")
      .replace("{worst}", worst > about ? of.worst.replace("{}", String(worst)) : "");
    const often = of[which].replace("{covered}", String(covered)).replace("{days}", counted(days, "day")) + of.often.replace("{}", String(certainty));
    return [buyers.length > 1 ? `${buyer.name}: ${often}` : often[0].toUpperCase() + often.slice(1), left];
  }

  /** How near days from `from` on come, and which comes nearest. @param {number[]} chances */
  function near(chances, from) {
    const most = Math.max(...chances), ends = [...new Set([Math.min(...chances), most].map((one) => Math.floor(100 * one)))];
    return `${told.has} in ${ends.join(" to ")} years of 100${ends.length > 1 ? `, most on ${day(from + chances.indexOf(most))}` : ""}`;
  }
  /** The same of the days of a gap. */
  const nearOf = (list, buyer, [from, to]) => near([...enough(taken(list, buyer), from, to)].map((years) => years / draws), from);

  function row(buyer, list, [from, to], certainty) {
    const wanted = certainty / 10, chance = [...enough(taken(list, buyer), from, to)].map((years) => years / draws), covered = chance.map((one) => one >= wanted);
    const sure = enough(list.filter((place) => buyer.verdict[place] === "qualifies"), from, to);
    const gaps = stretches(covered.map((one) => !one), from), said = `${covered.filter(Boolean).length} of ${counted(chance.length, "day")}, ${certainty} ${told.years}`;
    return {
      buyer: buyer.name,
      cells: chance.map((one, n) => (!covered[n] ? 0 : sure[n] / draws < wanted ? 1 : one >= told.sure ? 3 : 2)).join(""),
      chances: chance.map((one) => Math.floor(100 * one)),
      told: buyers.length > 1 ? `${buyer.name}: ${said}` : said,
      gaps: /** @type {[number, number, string][]} */ (gaps.map(([a, b]) => [a - from, b - from, label(a, b)])),
      near: gaps.map(([a, b]) => near(chance.slice(a - from, b - from + 1), a)),
    };
  }

  /** Whether a day is covered on which nobody of the list is usually picked. */
  const parted = (cells, list, from) => [...cells].some((cell, n) => cell !== "0"
    && !list.some((place) => from + n >= told.usual_first[place] - 0.5 && from + n <= told.usual_last[place] + 0.5));

  /** What the strip draws. @returns {StripTold} */
  function strip(list, span, certainty) {
    const [from, to] = span, length = to - from + 1;
    const picked = list.filter((place) => told.usual_first[place] !== null);
    const unpicked = list.filter((place) => told.usual_first[place] === null).map((place) => known.names[place]);
    const drawn = buyers.map((buyer) => row(buyer, list, span, certainty)), tenth = (number) => Math.round(10 * number) / 10;
    const bars = picked.sort((a, b) => told.usual_first[a] - told.usual_first[b] || told.usual_last[a] - told.usual_last[b]);
    return {
      usual: parted(drawn[0].cells, bars, from) ? told.usual : "", fill: bars.length ? told.words.fill : told.words.build,
      heading: list.length ? `${list.length} on my slate` : "My slate is empty",
      ends: [day(from), day(to)], days: length, marks: /** @type {[number, string][]} */ (marks(span)), dates: told.dates.slice(from - first, to - first + 1), certainty, years: told.years,
      rows: drawn,
      bars: bars.map((place) => ({
        name: known.names[place], flesh: told.flesh[place], first: tenth(told.usual_first[place] - from), last: tenth(told.usual_last[place] - from),
        look: LOOKS[Object.keys(LOOKS).find((word) => buyers.some(({ verdict }) => verdict[place] === word))] ?? "hollow",
        tip: [known.names[place], `usually picked ${days(told.usual_first[place], told.usual_last[place])}`, ...buyers.flatMap(({ name, verdict }) => (name ? [`${verdict[place]} for ${name}`] : []))].join(", "),
      })),
      said: [...(list.length ? buyers.map((buyer) => statement(buyer, list, span, certainty).join(" ")) : []), ...uncovering(known, list), ...(unpicked.length ? [told.words.never_picked.replace("{names}", () => unpicked.slice(0, 6).join(", "))] : [])],
    };
  }

  /** The day that somebody typed: "Jun 10", "10 June" or 2027-06-10. @returns {number | string} or why it is none */
  function typed(text) {
    const plain = text.trim().toLowerCase().replace(/\s+/g, " "), asked = "write it as Jun 10 or 2027-06-10.";
    const dated = /^\d{4}-(\d\d)-(\d\d)$/.exec(plain), named = /^([a-z]{3,})\.? ?(\d{1,2})(?:, ?\d{4})?$/.exec(plain), turned = /^(\d{1,2})\.? ?([a-z]{3,})\.?(?:,? \d{4})?$/.exec(plain);
    const [month, date] = dated ? [told.months[Number(dated[1]) - 1] ?? "", dated[2]] : named ? [named[1], named[2]] : turned ? [turned[2], turned[1]] : ["", ""];
    const number = month ? told.months.findIndex((one) => one.toLowerCase().startsWith(month.toLowerCase())) + 1 : 0;
    if (!number) return `“${text.slice(0, 40)}” is no day; ${asked}`;
    const place = told.keys.indexOf(`${String(number).padStart(2, "0")}-${date.padStart(2, "0")}`);
    if (place < 0) return `“${text.slice(0, 40)}” is not among the days of this file, ${told.dates[0]} to ${told.dates[told.dates.length - 1]}.`;
    return first + place;
  }

  return { first, draws, words, least, buyers, day, days, label, counted, listed, taken, enough, fruit, stretches, gaps, needed, strip, statement, nearOf, typed };
}
