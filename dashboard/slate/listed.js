// The rows of the table drawn, and moved: picking bars on the selling days, the slate's gaps behind them; and the list as a file.
import { drawn } from "../page/parts/rows.js";

/** @typedef {{ columns: [place: number, column: import("../page/messages").Column][], rows: [short: string, ...figures: number[]][][] }} Drawn */
const cut = (part) => Math.min(1, Math.max(0, part));

/** Each drawn cell, whose text stands there, as the page draws it. @param {HTMLTableElement} table @param {Drawn} known */
export function drawRows(table, known) {
  for (const tr of table.tBodies[0].rows)
    known.columns.forEach(([place, column], n) => {
      const cell = tr.cells[place], figures = known.rows[Number(tr.dataset.place)][n];
      if (!figures) return; // not known: said, not drawn
      const told = cell.textContent;
      cell.replaceChildren(...drawn(column, [told, ...figures]));
      cell.title = told;
      if (column.look === "picking") cell.dataset.days = figures.slice(1).join(" ");
    });
}

/** `further` says so while the table is wider than what holds it. @param {HTMLTableElement} table @param {HTMLElement} further */
export function cue(table, further) {
  const wrap = table.parentElement, seen = new ResizeObserver(() => { further.hidden = wrap.scrollWidth <= wrap.clientWidth + 1; });
  [wrap, table].forEach((at) => seen.observe(at));
}

/** A day is a part of the axis until the next. @param {HTMLTableElement} table @param {[number, number]} published @param {[number, number]} span @param {number[][]} bare */
export function placed(table, published, span, bare) {
  const days = ([first, last]) => last - first + 1;
  const moved = (part) => (published[0] + Number(part) * days(published) - span[0]) / days(span);
  for (const cell of table.querySelectorAll("td[data-days]")) {
    const bar = /** @type {HTMLElement} */ (cell.querySelector(".drawn"));
    const [first, last] = /** @type {HTMLElement} */ (cell).dataset.days.split(" ").map(moved);
    bar.className = "drawn picking" + (last < 0 ? " before" : first > 1 ? " after" : "");
    bar.style.setProperty("--l", String(cut(first)));
    bar.style.setProperty("--h", String(cut(last)));
  }
  const at = (day) => `${(100 * cut((day - span[0]) / days(span))).toFixed(2)}%`;
  const stops = bare.map(([a, b]) => `transparent ${at(a)}, var(--gap) ${at(a)} ${at(b + 1)}, transparent ${at(b + 1)}`);
  table.tBodies[0].style.setProperty("--gaps", stops.length ? `linear-gradient(90deg, ${stops.join(", ")})` : "none");
}

/** What a cell says, without its drawing; a name stands before what fruit it is. @param {HTMLElement} cell */
function written(cell) {
  const about = cell.querySelector(".about");
  if (about) return [cell.querySelector(".open").textContent, [...about.children].slice(0, 2).map((part) => part.textContent).join("")];
  return [(cell.querySelector(".unseen") || cell).textContent.trim()];
}

/** The rows of these places as comma-separated text. @param {HTMLTableElement} table @param {number[]} places */
export function commaSeparated(table, places) {
  const quoted = (text) => '"' + (/^[=+\-@\t\r]/.test(text) ? "'" + text : text).replace(/"/g, '""') + '"';
  const told = (tr) => [...tr.cells].slice(1).filter((cell) => getComputedStyle(cell).display !== "none" || !cell.classList.contains("k-leads"));
  const heads = told(table.tHead.rows[0]).flatMap((cell) => (cell.classList.contains("c-name") ? [cell.textContent, "Fruit"] : [cell.textContent]));
  const lines = [...table.tBodies[0].rows].filter((tr) => places.includes(Number(tr.dataset.place))).map((tr) => told(tr).flatMap(written));
  return "\ufeff" + [heads, ...lines].map((line) => line.map(quoted).join(",")).join("\r\n");
}
