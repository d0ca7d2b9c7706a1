// The strip over a published slate, and under it what closes a gap that was pressed or a proposal that fills them all. Nothing is put on the
// list unasked. Names go in as text.
import { strip } from "../page/frame/strip.js";
import { closers, fill } from "./proposing.js";

const SHOWN = 10;

/** @param {any} known @param {ReturnType<typeof import("./coming.js").coming>} seasons
 *  @param {{list(): number[], span(): [number, number], certainty(): number, may(): number[], sold?: ArrayLike<number>, choose(change: object): void, open(place: number): void}} asked */
export function planning(known, seasons, asked) {
  const panel = document.getElementById("plan"), host = document.getElementById("strip").attachShadow({ mode: "open" });
  host.append(/** @type {HTMLTemplateElement} */ (document.getElementById("dress")).content);
  const drawn = strip(host, (message) => pressed(message)), { day, days, counted } = seasons;
  const two = seasons.buyers.length > 1;
  /** @type {{gap?: number[], buyer?: any, made?: ReturnType<typeof fill>, looking?: boolean, note?: string, on?: string, begun?: number[]}} */
  let look = null, sold = Boolean(asked.sold); // only what can be bought, where this file knows it

  function make(tag, parent, text, act) {
    const at = document.createElement(tag);
    if (text !== undefined) at.textContent = text;
    if (act) { at.type = "button"; at.addEventListener("click", act); }
    parent.append(at);
    return at;
  }
  const candidates = () => asked.may().filter((place) => !sold || asked.sold[place]);
  const basis = () => JSON.stringify([asked.span(), asked.certainty(), candidates()]);

  function pressed(message) {
    const first = asked.span()[0];
    if ("open" in message) return asked.open(known.names.indexOf(message.open));
    if ("gap" in message) look = { gap: [first + message.gap[0], first + message.gap[1]], buyer: seasons.buyers[message.row] };
    else if ("fill" in message) return propose();
    else if ("certainty" in message) return asked.choose({ certainty: message.certainty });
    else if ("end" in message) return move(message.end, message);
    show();
    panel.scrollIntoView({ block: "nearest" });
  }
  function move(end, message) {
    const span = asked.span(), to = "typed" in message ? seasons.typed(message.typed) : span[end] + message.by;
    const ends = [...span], last = seasons.first + known.seasons.dates.length - 1;
    if (typeof to === "string") return said(to);
    if (to < seasons.first || to > last) return said(`This file knows the days from ${day(seasons.first)} to ${day(last)}; nothing was changed.`);
    ends[end] = to;
    if (ends[0] > ends[1]) return said(known.seasons.words.wrong_way.replace("{last}", day(ends[1])).replace("{first}", day(ends[0])));
    look = null;
    asked.choose({ [end ? "closes" : "opens"]: to });
  }
  function said(note) {
    look = { note };
    show();
  }
  function propose() {
    look = { looking: true };
    show();
    setTimeout(() => { // what is said is painted first
      const list = asked.list();
      look = { begun: [...list], on: basis(), made: fill(known, seasons, list, asked.span(), asked.certainty(), candidates()) };
      show();
    }, 30);
  }
  const close = () => { look = null; show(); };
  const add = (places) => asked.choose({ shortlist: [...asked.list(), ...places.filter((place) => !asked.list().includes(place))] });

  function show() {
    const list = asked.list();
    drawn.show(seasons.strip(list, asked.span(), asked.certainty()));
    panel.hidden = !look;
    panel.replaceChildren();
    if (!look) return;
    if (look.note) make("p", panel, look.note).setAttribute("role", "alert");
    else if (look.looking) make("p", panel, "Looking for few cultivars that fill your season …");
    else if (look.gap) showGap(list, look.gap, look.buyer);
    else showMade(list, /** @type {any} */ (look));
    make("button", panel, "Close", close);
  }

  function showGap(list, gap, buyer) {
    const still = seasons.gaps(list, asked.span(), asked.certainty(), buyer).filter(([a, b]) => a <= gap[1] && b >= gap[0]);
    if (!still.length) return make("h2", panel, "No gap is left there: those days are covered now.");
    const ends = /** @type {[number, number]} */ ([Math.max(gap[0], still[0][0]), Math.min(gap[1], still[still.length - 1][1])]);
    const found = closers(known, seasons, list, asked.certainty(), ends, asked.may(), buyer);
    const told = `${buyer.name ? `${buyer.name}: ` : ""}${seasons.label(ends[0], ends[1])} without enough fruit: ${seasons.nearOf(list, buyer, ends)}.`;
    make("h2", panel, told);
    if (!found.length) return make("p", panel, known.seasons.words.nobody_then);
    make("p", panel, `${counted(found.length, "cultivar")} would help, ${found.length > SHOWN ? `the ${SHOWN} that help most` : "most helpful first"}${known.seasons.words.helpful} ${known.seasons.words.to_keep}`);
    rows(found.slice(0, SHOWN), ["Days it closes", "Adds"], ({ closes, adds }) => [String(closes), `${adds.toFixed(1)} days a year`]);
  }

  function showMade(list, { made, on, begun }) {
    const ours = made.added.map(({ place }) => place);
    if (on !== basis() || !begun.every((place) => list.includes(place)) || !list.every((place) => begun.includes(place) || ours.includes(place)))
      return make("h2", panel, `What was asked has changed since; press ${known.seasons.words.fill} again.`);
    const spans = (found) => seasons.listed(found.map(([a, b]) => days(a, b)), 4), whose = (turn) => (two ? `${seasons.buyers[turn].name} ` : "");
    const each = (found) => found.flatMap((one, turn) => (one.length ? [whose(turn) + spans(one)] : [])).join("; ");
    const told = seasons.buyers.map((buyer) => seasons.statement(buyer, [...begun, ...ours], asked.span(), asked.certainty()));
    make("h2", panel, [`${ours.length ? "" : "Nothing to add. "}${counted(begun.length + ours.length, "cultivar")}.`, ...told.map(([often]) => often), ...(each(made.bare) ? [`Not covered: ${each(made.bare)}.`] : [])].join(" "));
    for (const [n, [, left]] of told.entries()) make("p", panel, two ? `${seasons.buyers[n].name}: ${left[0].toLowerCase()}${left.slice(1)}` : left);
    if (each(made.impossible))
      make("p", panel, `${each(made.impossible)}: all ${counted(candidates().length, "candidate")} that pass your filters and qualify, or may, together do not have ${seasons.least > 1 ? "enough" : "fruit"} then in ${asked.certainty()} years in 10.`);
    if (asked.sold) {
      const out = asked.may().length - asked.may().filter((place) => asked.sold[place]).length;
      make("p", panel, sold ? `Left out: ${counted(out, "cultivar")} that no nursery offered when this was made.` : "What no nursery offered when this was made is let in.");
      make("button", panel, sold ? "Let them in" : "Only what can be bought", () => { sold = !sold; propose(); });
    }
    if (!ours.length) return;
    const moved = ({ place, days }) => { // which years bring its fruit on days that are not its usual ones
      const spans = known.seasons.usual ? days.flat() : [], { usual_first: from, usual_last: to } = known.seasons;
      const years = [["early", spans.some(([a]) => a < from[place] - 0.5)], ["late", spans.some(([, b]) => b > to[place] + 0.5)]].flatMap(([word, off]) => (off ? [word] : []));
      return years.length ? known.seasons.words.moved.replace("{}", years.join(" and ")) : "";
    };
    const lost = (one) => one.days.flat().reduce((sum, [a, b]) => sum + b - a + 1, 0);
    rows(made.added, ["Why"], (one) => [lost(one) ? `without it ${each(one.days)} would not be covered${moved(one)} (${counted(lost(one), "day")})` : `adds to ${known.seasons.words.seldom}`]);
    const left = ours.filter((place) => !list.includes(place));
    if (left.length) make("button", panel, left.length > 1 ? `Put all ${left.length} on my slate` : "Put it on my slate", () => add(left));
  }

  function rows(found, heads, told) {
    const wrap = make("div", panel), table = make("table", wrap), head = make("tr", make("thead", table)), body = make("tbody", table);
    const verdicts = two ? seasons.buyers.map(({ name }) => `For ${name}`) : ["For this market"];
    wrap.className = "wrap";
    table.className = "listed"; // on a phone cards, as the list
    const names = [...heads, ...verdicts, "Score", "Seasons", "Usually picked", "Class"];
    for (const name of ["", "Cultivar", ...names]) make("th", head, name).scope = "col";
    for (const one of found) {
      const place = one.place, tr = make("tr", body), on = asked.list().includes(place), of = known.seasons, cell = make("td", tr);
      const star = make("button", cell, on ? "★" : "☆", () => (on ? asked.choose({ shortlist: asked.list().filter((other) => other !== place) }) : add([place])));
      [cell.className, star.className] = ["c-keep", "keep"];
      star.setAttribute("aria-pressed", String(on));
      star.setAttribute("aria-label", (on ? "Take off my slate: " : "Put on my slate: ") + known.names[place]);
      const named = make("th", tr), score = of.score[place];
      [named.scope, named.className] = ["row", "c-name"];
      make("span", named, known.names[place]).className = "open";
      const texts = [...told(one), ...seasons.buyers.map(({ verdict }) => verdict[place]), score === null ? "–" : score.toFixed(0), String(of.evidence[place]), days(of.usual_first[place], of.usual_last[place]), of.class[place]];
      texts.forEach((text, n) => {
        const cell = make("td", tr, text);
        cell.dataset.label = names[n];
        cell.className = n < heads.length && text.length > 20 ? "c-reason" : "c-date";
      });
    }
  }

  return { show };
}
