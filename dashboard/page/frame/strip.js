// My slate over the selling days: a bar a cultivar, a cell a day, a row of cells a buyer; words and gaps beside them.
// Drawn once; a new answer moves, adds or takes off what changed. Text goes in as text, never as markup.
const MOST_LANES = 6, MOST_CHIPS = 3;

/** @import { Page, SlateStrip, StripBar, StripRow, StripTold } from "../messages" */

/** Into `el`; `act` is given what is pressed. `show` draws what is told from then on, `away` lets go. @param {Node & ParentNode} el @param {SlateStrip["send_msg"]} act */
export function strip(el, act) {
  const make = (tag, name, parent, text) => {
    const at = document.createElement(tag);
    if (name) at.className = name;
    if (text !== undefined) at.textContent = text;
    parent?.append(at);
    return at;
  };
  const press = (name, parent, text, pressed) => {
    const at = make("button", name, parent, text);
    at.type = "button";
    at.addEventListener("click", pressed);
    return at;
  };

  const root = make("section", "strip", el);
  root.setAttribute("aria-label", "My slate");
  const words = make("div", "words", root);
  const heading = make("h2", "", words);
  const season = make("p", "season", words);
  season.append("Selling ");
  const ends = ["First", "Last"].map((which, place) => {
    const at = make("input", "", season);
    at.type = "text";
    at.size = 6;
    at.maxLength = 40;
    at.setAttribute("aria-label", `${which} selling day`);
    at.addEventListener("change", () => act({ end: place, typed: at.value }));
    if (!place) season.append(" – ");
    return at;
  });
  const sure = make("label", "sure", words, "in at least ");
  const certainty = make("select", "", sure);
  for (const years of [6, 7, 8, 9]) make("option", "", certainty, String(years)).value = String(years);
  const years = make("span", "", sure);
  certainty.addEventListener("change", () => act({ certainty: Number(certainty.value) }));
  // In a narrow window the days and how sure they are lie folded; whoever opens them writes the first day next.
  const days = press("days", words, "Days ▾", () => {
    const open = root.classList.toggle("changing");
    days.setAttribute("aria-expanded", String(open));
    if (open) ends[0].select();
  });
  days.setAttribute("aria-expanded", "false");
  const chips = make("div", "chips", words);

  const picture = make("div", "picture", root);
  const bars = make("div", "bars", picture);
  const rows = make("div", "rows", picture);
  const axis = make("div", "axis", picture);
  const handles = [0, 1].map(handle);

  const acts = make("div", "acts", root);
  const fill = press("fill", acts, "", () => act({ fill: true }));
  const covered = make("p", "covered", acts);
  covered.setAttribute("role", "status");
  const said = make("div", "said", root);

  /** @type {StripTold} */
  let told = /** @type {StripTold} */ ({ days: 0 });

  let all = false; // gaps told, not the longest alone

  // An end of the season is dragged, or moved by arrows; it is asked for once it is let go.
  function handle(place) {
    const at = make("div", "handle " + (place ? "last" : "first"), picture);
    at.tabIndex = 0;
    at.setAttribute("role", "slider");
    at.setAttribute("aria-label", `${place ? "Last" : "First"} selling day`);
    let from = 0, days = 0, moving = false;
    const per = () => rows.clientWidth / told.days;
    const show = () => { at.style.translate = `${days * per()}px 0`; };
    at.addEventListener("pointerdown", (event) => {
      at.setPointerCapture(event.pointerId);
      [from, days, moving] = [event.clientX, 0, true];
      event.preventDefault();
    });
    at.addEventListener("pointermove", (event) => {
      if (!moving) return;
      days = Math.round((event.clientX - from) / per());
      show();
      at.title = `${days > 0 ? "+" : ""}${days} days`;
    });
    const done = () => {
      moving = false;
      if (days) act({ end: place, by: days });
      days = 0;
      at.title = "";
      show();
    };
    at.addEventListener("pointerup", done);
    at.addEventListener("pointercancel", () => { days = 0; done(); });
    at.addEventListener("keydown", (event) => {
      const by = { ArrowLeft: -1, ArrowDown: -1, ArrowRight: 1, ArrowUp: 1, PageDown: -7, PageUp: 7 }[event.key];
      if (by === undefined) return;
      event.preventDefault();
      act({ end: place, by });
    });
    return at;
  }

  const left = (day) => `${(100 * day) / told.days}%`;
  const across = (days) => `${(100 * days) / told.days}%`;

  // As many of the same kind as are wanted, those that are there used again.
  function as(parent, count, fresh) {
    while (parent.children.length > count) parent.lastChild.remove();
    while (parent.children.length < count) parent.append(fresh());
    return [...parent.children];
  }

  const laned = () => Number(getComputedStyle(bars).getPropertyValue("--most")) || MOST_LANES;

  /** Bars in lanes, each with its name beside it while that has room. Too many for that: more and lower lanes, a bar first and names where
   * they fit; those of the others come where a pointer or the focus rests. @param {StripBar[]} all */
  function lanes(all) {
    const day = Math.max(1, rows.clientWidth || 800) / told.days;
    const letter = 0.6 * parseFloat(getComputedStyle(bars).fontSize), most = laned(); // as large as its dress has them
    const placed = (count) => {
      const room = []; // by lane where its last bar ends, where that one's name does, and which it is
      return all.reduce((/** @type {{bar: StripBar, lane: number, flipped: boolean, named: boolean}[]} */ found, bar) => {
        const wide = (letter * Math.min(bar.name.length, 16) + 10) / day, end = bar.last + 1;
        const flipped = end + wide > told.days;
        const ends = { bar: end, name: flipped ? end : end + wide, last: found.length };
        let named = true, lane = room.findIndex((one) => one.name <= (flipped ? bar.first - wide : bar.first));
        if (lane < 0 && room.length < count) lane = room.length;
        if (lane < 0) {
          named = !flipped;
          const free = room.map((one, at) => ({ one, at })).filter(({ one }) => one.bar <= bar.first);
          lane = (free.length ? free : room.map((one, at) => ({ one, at }))).sort((a, b) => a.one.name - b.one.name)[0].at;
          if (room[lane].name > bar.first) found[room[lane].last].named = false;
        }
        room[lane] = ends;
        return [...found, { bar, lane, flipped, named }];
      }, []);
    };
    const roomy = placed(most), crowded = roomy.some(({ named }) => !named);
    return { placed: crowded ? placed(Math.ceil((most * 4) / 3)) : roomy, crowded };
  }

  function drawBars() {
    const { placed, crowded } = lanes(told.bars);
    bars.classList.toggle("crowded", crowded);
    bars.style.setProperty("--lines", String(Math.max(0, ...placed.map(({ lane }) => lane + 1))));
    const nodes = as(bars, placed.length, () => {
      const at = press("bar", null, "", () => act({ open: at.dataset.name }));
      make("span", "length", at);
      make("span", "name", at);
      return at;
    });
    placed.forEach(({ bar, lane, flipped, named }, n) => {
      const at = nodes[n];
      const first = Math.max(0, bar.first), last = Math.min(told.days - 1, bar.last);
      at.hidden = last < 0 || first > told.days - 1;
      at.dataset.name = bar.name;
      at.className = "bar " + bar.look + (flipped ? " flipped" : "") + (named ? "" : " unnamed");
      at.firstChild.className = "length " + (["yellow", "white", "red"].includes(bar.flesh) ? bar.flesh : "unknown");
      at.style.setProperty("--line", String(lane));
      at.style.left = left(Math.min(first, told.days - 1));
      at.style.width = across(Math.max(1, last - first + 1));
      at.title = bar.tip;
      at.setAttribute("aria-label", bar.tip);
      at.lastChild.textContent = bar.name;
    });
  }

  function drawRows() {
    const nodes = as(rows, told.rows.length, () => {
      const at = make("div", "row");
      make("p", "buyer", at);
      make("div", "cells", at).setAttribute("role", "img");
      make("div", "gaps", at);
      return at;
    });
    told.rows.forEach((/** @type {StripRow} */ row, n) => {
      const [buyer, cells, gaps] = nodes[n].children;
      buyer.textContent = row.buyer;
      buyer.hidden = told.rows.length < 2;
      cells.setAttribute("aria-label", row.told);
      as(cells, row.cells.length, () => make("i")).forEach((cell, day) => {
        const look = "d" + row.cells[day];
        if (cell.className !== look) cell.className = look;
        cell.title = `${told.dates[day]}: fruit in ${row.chances[day]} of 100 years`;
      });
      // Pressed by pointer; by keys and by name each has its button among the words.
      as(gaps, row.gaps.length, () => {
        const at = make("div", "gap");
        at.addEventListener("click", () => act(JSON.parse(at.dataset.asks)));
        return at;
      }).forEach((at, place) => {
        const [first, last, label] = row.gaps[place];
        at.dataset.asks = JSON.stringify({ gap: [first, last], row: n });
        at.style.left = left(first);
        at.style.width = across(last - first + 1);
        at.title = `${label}: ${row.near[place]}. Press to see what closes it`;
      });
    });
  }

  function drawWords(anew = false) {
    heading.textContent = told.heading;
    ends.forEach((field, place) => { // what is being typed is left alone
      const stood = field.dataset.was, stands = told.ends[place];
      if (anew || field.getRootNode().activeElement !== field || stood !== stands) field.value = stands;
      field.dataset.was = stands;
    });
    certainty.value = String(told.certainty);
    years.textContent = ` ${told.years}`;
    const gaps = told.rows.flatMap((row, n) => row.gaps.map(([first, last, label]) => ({ first, last, n, label: told.rows.length > 1 ? `${label}, ${row.buyer}` : label })))
      .sort((a, b) => b.last - b.first - (a.last - a.first));
    const shown = gaps.slice(0, all ? gaps.length : MOST_CHIPS), more = gaps.length - shown.length;
    const chip = () => press("chip", null, "", (event) => {
      const { asks } = event.currentTarget.dataset;
      if (asks) return act(JSON.parse(asks));
      all = true;
      drawWords();
    });
    as(chips, shown.length + (more > 0 ? 1 : 0), chip).forEach((at, place) => {
      const gap = shown[place];
      at.textContent = gap ? gap.label : `and ${more} more`;
      at.setAttribute("aria-label", gap ? `Gap ${gap.label}. See what closes it` : `Show ${more} more gaps`);
      at.dataset.asks = gap ? JSON.stringify({ gap: [gap.first, gap.last], row: gap.n }) : "";
    });
    covered.textContent = told.rows.map((row) => row.told).join(" · ");
    fill.textContent = told.fill;
    fill.disabled = !gaps.length;
    said.replaceChildren(...told.said.map((line) => make("p", "", null, line)));
    if (told.usual) said.append(make("p", "usual", null, told.usual));
    handles.forEach((at, place) => at.setAttribute("aria-valuetext", told.ends[place]));
    axis.replaceChildren(...told.marks.map(([day, label]) => {
      const at = make("span", "", null, label);
      at.style.left = left(day);
      return at;
    }));
  }

  const measured = new ResizeObserver(() => { if (told.days) drawBars(); });
  measured.observe(rows);
  return {
    /** @param {StripTold} now @param {boolean} [anew] over what is being typed, too */
    show(now, anew) {
      told = now;
      root.hidden = !told.days;
      if (!told.days) return;
      drawRows();
      drawBars();
      drawWords(anew);
    },
    away: () => measured.disconnect(),
  };
}

/** The page's element. @param {Page<SlateStrip>} page */
export function render({ model, el }) {
  const drawn = strip(el, (message) => model.send_msg(message));
  const show = (anew = false) => drawn.show(JSON.parse(model.told), anew);
  model.on("told", () => show());
  model.on("msg:custom", () => show(true)); // what was refused is written over by what stands
  model.on("remove", drawn.away);
  show();
}
