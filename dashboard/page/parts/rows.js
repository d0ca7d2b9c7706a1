// A table of text, of cultivars with small drawings: every cell is set as text, never as markup. Clicks are told by row; the server answers
// with new rows.
/** @import { Column, Page, RowTable, RowsTold } from "../messages" */

const FIGURES = { score: "alh", dot: "alh", picking: "lh", seasons: "a" };

function span(name, text) {
  const at = document.createElement("span");
  at.className = name;
  if (text) at.textContent = text;
  return at;
}

/** As `charts/small.py` draws it: parts of an axis into the variables of a span. @param {string} look @param {(number | null)[]} figures @param {(number | null)[]} limits */
function drawing(look, figures, limits) {
  const [first, last] = figures;
  const at = span("drawn " + look + (look !== "picking" ? "" : last < 0 ? " before" : first > 1 ? " after" : ""));
  const set = (name, part) => { if (part !== null && part !== undefined) at.style.setProperty("--" + name, String(Math.min(1, Math.max(0, part)))); };
  const whole = !figures.includes(null); // half an interval is none
  [...FIGURES[look]].forEach((name, place) => { if (whole || name === "a") set(name, figures[place]); });
  limits.forEach((part, place) => set("mn"[place], part));
  return at;
}

/** What is written with its drawing; a screen reader is given its text in their place. @param {Column} column @param {any[]} cell */
export function drawn(column, [told, short, ...figures]) {
  const pair = span("pair"), shown = span("shown", short);
  pair.setAttribute("aria-hidden", "true");
  if (column.unit) shown.dataset.unit = column.unit;
  pair.append(shown);
  if (FIGURES[column.look]) pair.append(drawing(column.look, figures, column.limits || []));
  return [pair, span("unseen", told)];
}

/** @param {Page<RowTable>} page */
export function render({ model, el }) {
  const wrap = document.createElement("div");
  wrap.className = "wrap";
  wrap.tabIndex = 0;
  const table = document.createElement("table");
  const caption = document.createElement("caption");
  const head = document.createElement("thead");
  const body = document.createElement("tbody");
  table.setAttribute("role", "table");
  for (const group of [head, body]) group.setAttribute("role", "rowgroup");
  table.append(caption, head, body);
  wrap.append(table);
  const foot = document.createElement("div");
  foot.className = "foot";
  const more = document.createElement("p");
  more.className = "more";
  more.textContent = "More columns to the right: scroll right.";
  more.hidden = true;
  el.append(more, wrap, foot);
  const measured = new ResizeObserver(() => { more.hidden = wrap.scrollWidth <= wrap.clientWidth + 1; });
  measured.observe(wrap);
  measured.observe(table);
  model.on("remove", () => measured.disconnect());

  const button = (text, act, label, off) => {
    const b = document.createElement("button");
    b.type = "button";
    b.textContent = text;
    if (label) b.setAttribute("aria-label", label);
    b.disabled = Boolean(off);
    b.addEventListener("click", act);
    return b;
  };

  function heading(column, sort) {
    const th = document.createElement("th");
    th.scope = "col";
    th.setAttribute("role", "columnheader");
    th.className = "c-" + (column.kind || "text") + (column.look ? " d-" + column.look : "");
    if (column.meaning) th.title = column.meaning;
    if (!column.sorts) {
      th.textContent = column.label;
      return th;
    }
    const here = sort && sort[0] === column.key;
    th.setAttribute("aria-sort", here ? (sort[1] ? "ascending" : "descending") : "none");
    th.append(button(column.label + (here ? (sort[1] ? " ▲" : " ▼") : ""), () => model.send_msg({ sort: column.key })));
    return th;
  }

  function cell(column, text, row) {
    const first = column.kind === "name" && text !== "";
    const heads = column.kind === "head";
    const td = document.createElement(first || heads ? "th" : "td");
    td.className = "c-" + (column.kind || "text") + (column.look ? ` d-${column.look} k-${column.key}` : "");
    td.dataset.label = column.short || column.label;
    td.setAttribute("role", first || heads ? "rowheader" : "cell");
    if (heads) td.scope = "row";
    if (first) {
      td.scope = "row";
      const [name, classed, mark, kind, why] = Array.isArray(text) ? text : [text];
      const open = button(name, () => model.send_msg({ open: row.id }));
      open.className = "open";
      td.append(open);
      if (mark) {
        const key = span("mark " + mark), about = span("about");
        key.title = kind;
        about.append(span("unseen", kind + ": "), span("class", classed), span("why", why));
        about.title = [kind, classed, why].filter(Boolean).join(" · ");
        td.prepend(key);
        td.append(about);
      }
    } else if (column.kind === "keep" && row.name) {
      const kept = text === "yes";
      const b = button(kept ? "★" : "☆", () => model.send_msg({ keep: row.id }),
        (kept ? "Take off my slate: " : "Put on my slate: ") + row.name);
      b.className = "keep";
      b.setAttribute("aria-pressed", String(kept));
      td.append(b);
    } else if (column.kind === "bar") {
      const b = button(text, () => model.send_msg({ bar: row.id }), `${text}: ${row.name}`);
      b.className = "never";
      td.append(b);
    } else if (column.kind === "mark") {
      const key = document.createElement("span");
      key.className = "mark " + text[0];
      key.setAttribute("aria-hidden", "true");
      td.append(key, " " + text[1]);
    } else if (Array.isArray(text)) {
      td.append(...drawn(column, text));
      td.title = text[0];
    } else if (column.kind !== "keep") {
      td.textContent = text;
    }
    return td;
  }

  let columnsShown = "";
  let brought = 0;
  let turned = 0; // the page that was turned away from
  const turn = (to) => {
    turned = JSON.parse(model.told).page;
    model.send_msg({ page: to });
  };
  // What was asked for elsewhere on the page is brought into sight, with what was pressed over it where there is room; and again while
  // what lies over it still grows, as on a tab that was just opened.
  let waits = 0;
  function bring(last = NaN, still = 0, left = 40) {
    const { top, height } = el.getBoundingClientRect();
    const there = height > 0 && top === last;
    const seen = there && top >= 0 && top <= 0.6 * innerHeight;
    if (there && !seen) {
      el.style.scrollMarginTop = top > 0 ? "45vh" : "64px";
      el.scrollIntoView();
    }
    if (left && still < 5) waits = window.setTimeout(() => bring(el.getBoundingClientRect().top, seen ? still + 1 : 0, left - 1), 150);
  }
  function draw() {
    /** @type {RowsTold} */
    const { columns, rows, title, page, pages, total, sort, empty, asked = 0, gaps = "none" } = JSON.parse(model.told);
    caption.textContent = title || "";
    body.style.setProperty("--gaps", gaps);
    const wanted = JSON.stringify([columns, sort]);
    if (wanted !== columnsShown) {
      const pushed = head.firstElementChild?.scrollLeft ?? 0;
      columnsShown = wanted;
      // On a phone the rows of a list of cultivars are cards; the roles keep it a table for a screen reader.
      table.className = columns.some((c) => c.kind === "keep") ? "listed" : "";
      const line = document.createElement("tr");
      line.setAttribute("role", "row");
      line.append(...columns.map((c) => heading(c, sort)));
      head.replaceChildren(line);
      line.scrollLeft = pushed;
    }
    body.replaceChildren(
      ...rows.map((row) => {
        const tr = document.createElement("tr");
        tr.dataset.id = row.id;
        tr.setAttribute("role", "row");
        if (row.look) tr.className = row.look;
        tr.append(...columns.map((c, i) => cell(c, row.cells[i], row)));
        return tr;
      }),
    );
    if (!rows.length) {
      const tr = document.createElement("tr");
      const td = document.createElement("td");
      td.colSpan = columns.length;
      td.className = "nothing";
      tr.setAttribute("role", "row");
      td.setAttribute("role", "cell");
      td.textContent = empty || "Nothing to show.";
      tr.append(td);
      body.replaceChildren(tr);
    }
    wrap.setAttribute("aria-label", title || "table");
    wrap.setAttribute("role", "region");
    if (pages > 1) {
      const where = document.createElement("span");
      where.textContent = `${page} of ${pages} pages, ${total} rows`;
      foot.replaceChildren(
        button("‹ Back", () => turn(page - 1), "Page before", page <= 1), where,
        button("Next ›", () => turn(page + 1), "Page after", page >= pages));
    } else {
      foot.replaceChildren();
    }
    if (asked > brought) {
      bring();
      for (const moved of ["wheel", "touchmove", "keydown"]) addEventListener(moved, () => clearTimeout(waits), { passive: true, once: true });
    }
    brought = asked;
    if (turned && page !== turned && el.getBoundingClientRect().top < 0) el.scrollIntoView(); // a new page is read from its top
    turned = 0;
  }
  draw();
  model.on("told", draw);
}
