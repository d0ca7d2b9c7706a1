// The calendar of a season: the slate's rows under their gaps, then a band and a fold a class. Every text is set as text.
/** @import { Page, SeasonRows, SeasonTold, SeasonLine } from "../messages" */

/** @type {(tag: string, set?: object, ...inside: (string | Node)[]) => any} */
const make = (tag, set = {}, ...inside) => {
  const at = Object.assign(document.createElement(tag), set);
  at.append(...inside);
  return at;
};
const FLESH = ["yellow", "white", "red"];
const put = (at, a, b = a) => {
  at.style.setProperty("--a", String(a));
  at.style.setProperty("--b", String(b));
  return at;
};
const percent = (part) => `${(100 * part).toFixed(2)}%`;

/** @param {Page<SeasonRows>} page */
export function render({ model, el }) {
  const slate = make("section", { className: "slate" });
  const others = make("section", { className: "others" });
  el.append(slate, others);

  const line = (className, ...inside) => make("div", { className: `line ${className}` }, ...inside);
  const axis = (marks) => line("axis", make("span"), make("span"),
    make("div", { className: "track" }, ...marks.map(([at, text]) => put(make("span", { textContent: text }), at))));

  /** @param {SeasonLine} told */
  function row(told) {
    const keep = make("button", { type: "button", className: "keep", textContent: told.kept ? "★" : "☆" });
    keep.setAttribute("aria-label", (told.kept ? "Take off my slate: " : "Put on my slate: ") + told.name);
    keep.setAttribute("aria-pressed", String(told.kept));
    keep.addEventListener("click", () => model.send_msg({ keep: told.name }));
    const open = make("button", { type: "button", className: "name", textContent: told.name + (told.check ? " (check)" : ""), title: told.tip });
    open.addEventListener("click", () => model.send_msg({ open: told.name }));
    const [first, last, low, high] = told.at;
    const track = make("div", { className: "track", title: told.tip },
      put(make("span", { className: "doubt" }), low, high), put(make("span", { className: "length" }), first, last));
    return line(`${told.look} ${FLESH.includes(told.flesh) ? told.flesh : "unknown"}`, keep, open, track, make("span", { className: "when", textContent: told.when }));
  }

  // A band is one gradient with hard stops, a stop a day; the darker, the more are ripe at once.
  function band(counts, most) {
    const stops = counts.map((count, day) =>
      `rgb(from var(--leaf) r g b / ${(count ? 0.12 + 0.88 * (count / most) : 0).toFixed(2)}) ${percent(day / counts.length)} ${percent((day + 1) / counts.length)}`);
    return `linear-gradient(90deg, ${stops.join(", ")})`;
  }

  function fold(told, most) {
    const bar = make("div", { className: "track band" });
    bar.style.setProperty("--band", band(told.band, most));
    const head = make("summary", {}, line("", make("span", { className: "kind", textContent: told.told }), bar));
    const at = make("details", { open: told.open }, head, ...told.rows.map(row));
    head.addEventListener("click", (event) => {
      event.preventDefault(); // the server brings the rows, and opens it
      model.send_msg({ fold: told.kind });
    });
    return at;
  }

  function draw() {
    /** @type {SeasonTold} */
    const now = JSON.parse(model.told);
    if (!now.heading) return;
    const root = /** @type {ShadowRoot} */ (el.getRootNode());
    const focused = root.activeElement?.getAttribute("aria-label") ?? root.activeElement?.textContent;
    const edges = now.gaps.map(([a, b]) => `transparent ${percent(a)}, var(--bare) ${percent(a)} ${percent(b)}, transparent ${percent(b)}`);
    slate.style.setProperty("--gaps", edges.length ? `linear-gradient(90deg, ${edges.join(", ")})` : "none");
    const bare = line("bare", make("span"), make("span", { className: "quiet", textContent: now.gaps.length ? "Gaps" : "" }),
      make("div", { className: "track" }, ...now.gaps.map(([a, b, text]) => put(make("i", { title: text, textContent: b - a > 0.25 ? text : "" }), a, b))));
    slate.replaceChildren(make("h2", { textContent: now.heading }), ...now.said.map((text, place) => make("p", { textContent: text, className: place ? "quiet" : "" })),
      ...(now.slate.length ? [axis(now.marks), ...(now.gaps.length ? [bare] : []), ...now.slate.map(row)] : []));
    const most = Math.max(1, ...now.classes.flatMap(({ band: counts }) => counts));
    others.replaceChildren(make("h3", { textContent: "By class" }), make("p", { textContent: now.others }),
      ...(now.classes.length ? [axis(now.marks)] : []), ...now.classes.map((one) => fold(one, most)),
      ...now.rest.map((text) => make("p", { className: "quiet", textContent: text })));
    /** @type {any[]} */
    const ends = [...el.querySelectorAll("button, summary")];
    if (focused) ends.find((at) => (at.getAttribute("aria-label") ?? at.textContent) === focused)?.focus();
  }
  draw();
  model.on("told", draw);
}
