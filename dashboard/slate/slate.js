// The manners of a published slate: filters, linked marks, calendar, my slate, all in the address. Names go in as text.
import { coming, saidOf, takes, uncovering, unpacked } from "./coming.js";
import { commaSeparated, cue, drawRows, placed } from "./listed.js";
import { chillTold, filtering, numberFields } from "./passing.js";
import { planning } from "./planning.js";

(function () {
  document.documentElement.classList.remove("still");
  const known = JSON.parse(document.getElementById("known").textContent);
  const STEP = 30, count = known.names.length, place = new Map(known.names.map((name, at) => [name, at]));
  /** @type {(id: string) => any} */
  const at = (id) => document.getElementById(id);
  const untouched = { chosen: at("chosen").textContent, shortlist: at("mine").textContent };
  const asked = { filters: {}, clears: false, shortlist: [], chosen: [], opens: null, closes: null, certainty: null }; // null: as published
  let shownRows = STEP, page = 0, pictures = null;

  // ---- who passes
  const masks = filtering(known), { members, missing, knows } = masks;
  const { verdict, name: market } = known.buyers[0]; // the list and the pictures are told for the first
  const takenBy = (buyers) => Uint8Array.from(verdict, (_, row) => Number(buyers.some((buyer) => takes(buyer, row))));
  const inside = takenBy(known.buyers.slice(0, 1)), taken = takenBy(known.buyers);
  function passing(leaveOut) {
    const answer = masks.passing(asked.filters, leaveOut);
    if (asked.clears && leaveOut !== "clears") for (let row = 0; row < count; row++) answer[row] &= taken[row];
    return answer;
  }
  const total = (mask) => mask.reduce((sum, one) => sum + one, 0);

  function notBeaten(mask) {
    const rows = [], better = Object.values(known.better);
    for (let row = 0; row < count; row++) if (mask[row] && inside[row] && better.every((trait) => trait[row] !== null)) rows.push(row);
    return rows.filter((row) => !rows.some((other) => other !== row &&
      better.every((trait) => trait[other] >= trait[row]) && better.some((trait) => trait[other] > trait[row])));
  }

  // ---- the address
  function written() {
    const parts = ["v=1"];
    for (const group of known.groups) {
      const values = asked.filters[group.field] || [];
      if (values.length && !(group.single && values[0] === group.options[0].value)) parts.push(group.field + "=" + values.map(encodeURIComponent).join(","));
    }
    if (asked.clears) parts.push("clears=yes");
    for (const field of ["opens", "closes"]) if (asked[field] !== null) parts.push(field + "=" + known.seasons.keys[asked[field] - known.seasons.first]);
    if (asked.certainty) parts.push("certainty=" + asked.certainty);
    for (const field of ["shortlist", "chosen"])
      if (asked[field].length) parts.push(field + "=" + asked[field].map((row) => encodeURIComponent(known.names[row])).join(","));
    return parts.length > 1 ? "#" + parts.join("&") : "";
  }
  function read(hash) {
    const missed = [];
    asked.filters = {}; asked.clears = false; asked.shortlist = []; asked.chosen = [];
    asked.opens = asked.closes = asked.certainty = null;
    const decoded = (text) => { try { return decodeURIComponent(text.replace(/\+/g, " ")); } catch { return text; } };
    for (const part of hash.replace(/^#/, "").split("&").filter(Boolean).slice(0, 60)) {
      const cut = part.indexOf("="), field = decoded(cut < 0 ? part : part.slice(0, cut));
      const values = cut < 0 ? [] : part.slice(cut + 1).split(",").filter(Boolean).map(decoded);
      const group = known.groups.find((one) => one.field === field);
      if (field === "v") { if (values[0] !== "1") missed.push("version " + values[0]); }
      else if (field === "clears") asked.clears = values[0] === "yes";
      else if (field === "shortlist" || field === "chosen") {
        values.forEach((name) => (place.has(name) ? asked[field].push(place.get(name)) : missed.push(name)));
        asked[field] = [...new Set(asked[field])];
      } else if (known.seasons && (field === "opens" || field === "closes")) {
        const day = known.seasons.keys.indexOf(values[0]);
        if (day < 0) missed.push(field + " " + values[0]); else asked[field] = known.seasons.first + day;
      } else if (known.seasons && field === "certainty") {
        if (Object.hasOwn(known.seasons.gaps, values[0])) asked.certainty = Number(values[0]); else missed.push("certainty " + values[0]);
      } else if (group) {
        const good = values.filter((value) => knows(group, value));
        values.filter((value) => !good.includes(value)).forEach((value) => missed.push(value));
        asked.filters[field] = group.single ? good.slice(0, 1) : good;
      } else missed.push(field);
    }
    if (known.seasons && selling()[0] > selling()[1]) { missed.push("a last selling day before the first"); asked.opens = asked.closes = null; }
    const note = at("note");
    note.hidden = !missed.length;
    note.textContent = missed.length ? "This address asks for what this slate does not have; it was left out: " + missed.slice(0, 5).map((word) => "“" + word.slice(0, 60) + "”").join(", ") + "." : "";
  }
  function afresh() { page = 0; shownRows = STEP; go(); }
  function go() {
    const hash = written();
    if ((location.hash || "") !== hash) history.pushState(null, "", hash || location.pathname + location.search);
    draw();
  }

  // ---- the screen
  const rows = [...at("rows").tBodies[0].rows];
  const form = at("groups");
  const sayNumbers = numberFields(known, form, (group, values) => {
    asked.filters[group.field] = values.filter((value) => knows(group, value));
    afresh();
  });
  function boxes() {
    for (const input of form.querySelectorAll("input[name]")) {
      if (input.name === "clears") { input.checked = asked.clears; continue; }
      const group = known.groups.find((one) => one.field === input.name), values = asked.filters[input.name] || [];
      input.checked = values.includes(input.value) || (group.single && !values.length && input.value === group.options[0].value);
      const held = passing(input.name), mask = members.get(input.name + "=" + input.value);
      let left = 0;
      for (let row = 0; row < count; row++) left += held[row] & mask[row];
      const label = input.parentElement;
      label.querySelector(".left").textContent = left;
      label.classList.toggle("none", left === 0);
    }
    for (const group of known.groups) leftOut(group);
    sayNumbers(asked.filters);
  }
  function leftOut(group) {  // how many pass the rest and are left out because the records do not tell this of them
    const set = form.querySelector("[data-field=" + group.field + "]"), values = (asked.filters[group.field] || []).filter(Boolean);
    const held = passing(group.field), folded = set.closest("details.more");
    const out = values.length ? total(held.map((one, row) => Number(one && values.every((value) => missing.get(group.field + "=" + value)[row])))) : 0;
    set.querySelector(".note").textContent = out ? out + " left out: " + group.why_missing : "";
    if (folded && values.length && !set.dataset.set) folded.open = true;
    if (values.length) set.dataset.set = "yes"; else delete set.dataset.set;
  }
  function counted(mask) {
    const left = total(mask), said = (word) => mask.reduce((sum, one, row) => sum + Number(one && verdict[row] === word), 0);
    const figures = { qualify: said("qualifies"), market, may: said("may qualify"), unknown: said("not known") };
    const words = known.qualify + (figures.unknown ? known.unjudged : "");
    if (left) return left + " of " + count + " cultivars pass your filters; " + words.replace(/\{(\w+)\}/g, (_, name) => figures[name]) + ".";
    const costs = [...known.groups.map((group) => [group.label, total(passing(group.field))]), ["“only what qualifies, or may”", total(passing("clears"))]];
    costs.sort((one, other) => other[1] - one[1]);
    return costs[0][1] ? "No cultivar passes. Taking off " + costs[0][0] + " would bring back " + costs[0][1] + "." : "No cultivar passes. Take the filters off one by one.";
  }
  function table(mask) {
    let seen = 0;
    const filtered = total(mask) < count;
    at("rows").classList.toggle("filtered", filtered);  // of a part of them these were never worked out
    at("order").hidden = filtered;
    at("filtered").hidden = !filtered;
    const listed = new Set(asked.shortlist), picked = new Set(asked.chosen);
    for (const tr of rows) {
      const row = Number(tr.dataset.place), passes = mask[row];
      seen += passes;
      const off = !passes || seen > shownRows;
      if (tr.hidden !== off) tr.hidden = off;
      tr.classList.toggle("chosen", picked.has(row));
      const star = tr.querySelector(".keep"), on = listed.has(row);
      if ((star.getAttribute("aria-pressed") === "true") !== on) {
        star.setAttribute("aria-pressed", String(on));
        star.textContent = on ? "★" : "☆";
        star.setAttribute("aria-label", (on ? "Take off my slate: " : "Put on my slate: ") + known.names[row]);
      }
    }
    at("more").hidden = seen <= shownRows;
    at("more").textContent = "Show more (" + Math.max(0, seen - shownRows) + " left)";
  }
  function told() {
    at("chosen").textContent = asked.chosen.length
      ? asked.chosen.length + " chosen: " + asked.chosen.slice(0, 6).map((row) => known.names[row]).join(", ") + (asked.chosen.length > 6 ? " and more" : "")
      : untouched.chosen;
    const list = asked.shortlist;
    if (!list.length) return void (at("mine").textContent = untouched.shortlist);
    const said = [...uncovering(known, list, Infinity), ...chillTold(known, list), ...saidOf(known, list, (row) => known.protected.includes(row), known.licensed, Infinity)];
    at("mine").textContent = [list.length + ": " + list.map((row) => known.names[row]).join(", ") + ".", ...said, gapsTold(list)].join(" ");
  }
  function gapsTold(list) {
    const coming = known.seasons;
    if (!coming) return "";
    if (!seasons) return canUnpack ? "Its gaps are being worked out." : "This browser is too old to work out its gaps; a newer one does.";
    return known.buyers.map((buyer) => {
      const found = seasons.gaps(list, covered(), certainty(), buyer).map(([a, b]) => seasons.days(a, b));
      return [...seasons.statement(buyer, list, covered(), certainty()), ...(found.length ? [`${known.buyers.length > 1 ? buyer.name + ": " : ""}${coming.gaps[certainty()]}: ${found.join("; ")}.`] : [])];
    }).flat().join(" ");
  }

  // ---- the season: the page's own joint draws of coming seasons, and the strip over them
  const canUnpack = typeof DecompressionStream === "function";
  let seasons = null, plan = null;
  const selling = () => [asked.opens ?? known.seasons.selling[0], asked.closes ?? known.seasons.selling[1]];
  const certainty = () => asked.certainty ?? known.seasons.certainty;
  function covered() { // the selling days or, where none were chosen, the halves of months that are filtered by
    if (known.seasons.chosen || asked.opens !== null || asked.closes !== null) return selling();
    const wanted = (asked.filters.ripening || []).map((half) => known.seasons.halves[half]);
    return wanted.length ? [Math.floor(Math.min(...wanted.map((one) => one[0]))), Math.ceil(Math.max(...wanted.map((one) => one[1])))] : known.seasons.span;
  }
  async function unpack() {
    if (!known.seasons || !canUnpack) return;
    seasons = coming(known, await unpacked(known.seasons));
    plan = planning(known, seasons, {
      list: () => asked.shortlist, span: () => /** @type {[number, number]} */ (selling()), certainty,
      may: () => { const mask = passing("ripening"); return known.seasons.rows.filter((row) => mask[row]); }, sold: members.get("nursery=any"),
      choose: (change) => { Object.assign(asked, change); go(); },
      open: (row) => {
        asked.chosen = [row];
        go();
        rows.filter((tr) => Number(tr.dataset.place) === row).forEach((tr) => { tr.hidden = false; tr.scrollIntoView({ block: "center" }); });
      },
    });
    draw();
  }

  // ---- the pictures
  const set = (model, name, value) => { if (JSON.stringify(model[name]) !== JSON.stringify(value)) model[name] = value; };
  const ones = (mask) => { const found = []; mask.forEach((one, row) => { if (one) found.push(row); }); return found; };
  function paint(mask) {
    if (!pictures) return;
    const ringed = notBeaten(mask), left = ones(mask), few = left.length <= 40, out = new Set([...ringed, ...asked.chosen, ...asked.shortlist]);
    set(pictures.shown, "indices", left);
    set(pictures.ringed, "indices", ringed);
    set(pictures.barred, "indices", few ? left : left.filter((row) => out.has(row)));
    set(pictures.cultivars.selected, "indices", [...asked.chosen].sort((a, b) => a - b));
    calendar(mask);
  }
  function calendar(mask) {
    const all = known.calendar, ordered = [];
    all.place.forEach((row, line) => { if (mask[row]) ordered.push(line); });
    const pages = Math.max(1, Math.ceil(ordered.length / known.page));
    page = Math.min(page, pages - 1);
    const part = ordered.slice(page * known.page, (page + 1) * known.page), listed = new Set(asked.shortlist), columns = {};
    for (const [name, values] of Object.entries(all.columns)) columns[name] = part.map((line) => (values[line] === null ? NaN : values[line]));
    columns.row = part.map((_, line) => line + 0.5);
    for (const side of ["name_before", "name_after"])
      columns[side] = columns[side].map((name, line) => (name && listed.has(all.place[part[line]]) ? "★ " + name : name));
    pictures.rows.data = columns;
    const range = pictures.calendar.y_range, end = Math.max(part.length, known.fewest);
    set(range, "start", end);
    at("page").textContent = "page " + (page + 1) + " of " + pages;
    at("earlier").disabled = page === 0;
    at("later").disabled = page === pages - 1;
    const days = [], every = [], clear = [];
    for (let day = Math.floor(known.span[0]); day <= Math.ceil(known.span[1]); day++) {
      let one = 0, two = 0;
      all.place.forEach((row) => { if (mask[row] && known.first[row] <= day + 0.5 && known.last[row] >= day - 0.5) { one++; two += inside[row]; } });
      days.push(day); every.push(one); clear.push(two);
    }
    const ground = days.map(() => 0);
    pictures.days.data = { x: [...days, ...[...days].reverse()], all: [...every, ...ground], chosen: [...clear, ...ground] };
    set(pictures.season.y_range, "end", Math.max(1, Math.max(...every) * 1.08));
  }
  function found() {
    const doc = window.Bokeh && Bokeh.documents[0];
    const model = (name) => { try { return doc.get_model_by_name(name); } catch { return null; } };
    if (!doc || !model("cultivars") || !model("rows")) return false;
    pictures = Object.fromEntries(["cultivars", "shown", "ringed", "barred", "rows", "days", "calendar", "season"].map((name) => [name, model(name)]));
    const selected = pictures.cultivars.selected;
    selected.properties.indices.change.connect(() => {
      const picked = [...selected.indices].sort((a, b) => a - b);
      if (JSON.stringify(picked) !== JSON.stringify([...asked.chosen].sort((a, b) => a - b))) { asked.chosen = picked; go(); }
    });
    return true;
  }
  function draw() {
    const mask = passing("");
    boxes();
    at("count").textContent = counted(mask);
    told();
    if (plan) plan.show();
    if (seasons) placed(at("rows"), known.seasons.selling, /** @type {[number, number]} */ (selling()), asked.shortlist.length ? seasons.gaps(asked.shortlist, selling(), certainty()) : []);
    table(mask);
    paint(mask);
  }

  // ---- what a visitor does
  form.addEventListener("change", (event) => {
    const { name } = event.target;
    if (name === "clears") asked.clears = event.target.checked;
    else if (name) asked.filters[name] = [...form.querySelectorAll("input")].filter((one) => one.name === name && one.checked).map((one) => one.value);
    if (name) afresh(); // a number that is typed has none
  });
  form.addEventListener("submit", (event) => event.preventDefault());
  form.addEventListener("reset", (event) => { event.preventDefault(); asked.filters = {}; asked.clears = false; page = 0; go(); });
  at("rows").addEventListener("click", (event) => {
    const star = event.target.closest(".keep");
    if (!star) return;
    const row = Number(star.closest("tr").dataset.place), held = asked.shortlist.indexOf(row);
    if (held < 0) asked.shortlist.push(row); else asked.shortlist.splice(held, 1);
    go();
  });
  at("more").addEventListener("click", () => { shownRows += 100; draw(); });
  at("empty").addEventListener("click", () => { asked.shortlist = []; go(); });
  at("earlier").addEventListener("click", () => { page -= 1; draw(); });
  at("later").addEventListener("click", () => { page += 1; draw(); });
  at("copy").addEventListener("click", (event) => {
    const done = () => (event.target.textContent = "Copied"), by = () => (event.target.textContent = "Copy it from the address bar");
    if (navigator.clipboard) navigator.clipboard.writeText(location.href).then(done, by); else by();
  });
  at("save").addEventListener("click", () => {
    const link = document.createElement("a");
    link.href = URL.createObjectURL(new Blob([commaSeparated(at("rows"), asked.shortlist)], { type: "text/csv" }));
    link.download = "my-slate.csv";
    link.click();
    URL.revokeObjectURL(link.href);
  });
  const walked = () => { read(location.hash); draw(); };
  window.addEventListener("popstate", walked);
  window.addEventListener("hashchange", walked);
  if (matchMedia("(max-width: 999px)").matches) at("filters").open = false;
  drawRows(at("rows"), known.drawn); cue(at("rows"), at("further"));
  read(location.hash);
  draw();
  unpack();
  const wait = setInterval(() => { if (found()) { clearInterval(wait); draw(); } }, 30);
})();
