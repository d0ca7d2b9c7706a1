// The names behind the counts: as many columns as fit, in letters for the back row; how many are not shown, and the keys to them.
import { make } from "./made.js";

const LINE = 1.3; // of a letter's size

/** @param {(name: string) => void} speak of the one that is pressed */
export function names(speak) {
  const [title, said, where] = ["title", "how", "where"].map((className) => make("p", { className }));
  const list = make("ol");
  const at = make("div", { className: "over names", hidden: true, ariaLive: "polite" }, title, said, list, where);
  /** @type {{ title: string, said: string, names: string[][], keys: string[] } | null} */
  let now = null;
  let before = "";
  let begins = [0]; // the first of each page so far
  let shown = 0;
  let measured = ""; // the room it was laid out in

  const room = () => `${list.clientWidth} ${list.clientHeight}`;
  const first = () => begins[begins.length - 1];
  const left = () => (now ? now.names.length - first() - shown : 0);

  /** Whole columns alone: what reaches over the edge comes on the next page. */
  function fill() {
    if (!now) return;
    const from = first();
    const rows = now.names.slice(from).map((texts, place) => {
      const press = make("button", { type: "button" }, ...texts.map((textContent) => make("span", { textContent })));
      press.addEventListener("click", () => speak(now.keys[from + place]));
      return make("li", {}, press);
    });
    list.replaceChildren(...rows);
    const lines = Math.max(1, Math.floor(list.clientHeight / (LINE * parseFloat(getComputedStyle(list).fontSize))));
    list.style.gridTemplateRows = `repeat(${lines}, ${LINE}em)`;
    const edge = list.getBoundingClientRect().right;
    const fit = rows.filter((row, place) => place < lines || row.getBoundingClientRect().right <= edge + 1).length;
    for (const row of rows.slice(fit)) row.remove();
    shown = fit;
    measured = room();
    const parts = [`${from + 1}–${from + fit} of ${now.names.length}`];
    if (left()) parts.push(`${left()} more: press ↓`);
    if (from) parts.push("↑ leads back");
    where.textContent = rows.length ? `${parts.join("; ")}.` : "";
  }

  /** @param {number} way */
  function turn(way) {
    if (way > 0 && left()) begins.push(first() + shown);
    else if (way < 0 && begins.length > 1) begins.pop();
    fill();
  }

  /** @param {any} told what `names.names_told` gives, or nothing */
  function show(told) {
    at.hidden = !told;
    now = told ?? null;
    const text = JSON.stringify(now);
    if (text === before) return;
    before = text;
    begins = [0];
    if (!now) return list.replaceChildren();
    [title.textContent, said.textContent] = [now.title, now.said];
    fill();
  }

  function refit() {
    if (at.hidden || room() === measured) return;
    begins = [0];
    fill();
  }
  return { at, show, turn, refit, left, above: () => begins.length - 1 };
}
