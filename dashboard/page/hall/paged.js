// A calendar, of cultivars or of classes, that is higher than its room, turned page by page: as many rows as fit, and beside the title
// which they are. Its bars are a thirtieth of the window's height and more, however wide it is.
const LEAST = 30; // a bar is the window's height divided by this, or higher
const SPACE = 5; // between two bars, as they are drawn

/** @param {HTMLElement} form that holds the drawing @param {HTMLElement} where says which rows are seen */
export function paged(form, where) {
  let begins = [0]; // the first of each page so far
  let shown = 0, count = 0;
  let before = ""; // what was drawn, so that another calendar begins at its top
  const first = () => begins[begins.length - 1];
  const left = () => count - first() - shown;

  function fill() {
    const svg = /** @type {SVGSVGElement | null} */ (form.querySelector("svg.paged"));
    count = shown = 0;
    where.textContent = "";
    if (!svg || form.hidden) return;
    const rows = [...svg.querySelectorAll(".row")];
    count = rows.length;
    const wide = svg.viewBox.baseVal.width, scale = svg.getBoundingClientRect().width / wide;
    const [top, foot] = [Number(svg.dataset.top), Number(svg.dataset.foot)];
    for (const bar of svg.querySelectorAll(".row [data-bar]")) {
      const high = Math.max(Number(bar.getAttribute("data-bar")), innerHeight / LEAST / scale);
      bar.setAttribute("height", String(high));
      bar.setAttribute("y", String(-high / 2));
    }
    const line = SPACE + Math.max(...[...svg.querySelectorAll(".row [data-bar]")].map((bar) => Number(bar.getAttribute("height"))));
    for (const ground of svg.querySelectorAll(".row [data-ground]")) {
      ground.setAttribute("height", String(line));
      ground.setAttribute("y", String(-line / 2));
    }
    const flows = getComputedStyle(form.closest("dialog")).display === "block"; // a narrow window scrolls as a whole
    const room = flows ? Infinity : (form.getBoundingClientRect().bottom - svg.getBoundingClientRect().top - form.scrollTop) / scale;
    shown = Math.min(count - first(), Math.max(1, Math.floor((room - top - foot) / line)));
    rows.forEach((row, at) => {
      const place = at - first();
      row.toggleAttribute("hidden", place < 0 || place >= shown);
      row.setAttribute("transform", `translate(0 ${top + line * (place + 0.5)})`);
    });
    svg.querySelector(".foot").setAttribute("transform", `translate(0 ${top + line * shown})`);
    svg.setAttribute("viewBox", `0 0 ${wide} ${top + line * shown + foot}`);
    if (shown < count) where.textContent = [`${first() + 1}–${first() + shown} of ${count}`, left() ? "next: →" : "", first() ? "back: ←" : ""].filter(Boolean).join(", ");
  }

  /** @param {string} told what the calendar is drawn from */
  function show(told) {
    if (told !== before) begins = [0];
    before = told;
    fill();
  }

  /** @param {number} way */
  function turn(way) {
    if (way > 0 && left() > 0) begins.push(first() + shown);
    else if (way < 0 && begins.length > 1) begins.pop();
    fill();
  }
  function refit() {
    begins = [0];
    fill();
  }
  return { show, turn, refit, pages: () => shown < count, left, above: () => begins.length - 1 };
}
