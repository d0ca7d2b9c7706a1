// How the hall is dressed for its window and its room: dark paper with light ink where the room is dark, and the picture's letters and
// marks as large as the window asks. Whether a room is dark is kept in this browser and is in no link: it is the room's, not the question's,
// stays from one prepared view to the next, comes back with a page that was loaded anew, and darkens nobody's phone.
const KEPT = "orchard-slate dark room";
const DESK = [1366, 768]; // the window for which the picture's marks are as large as they were drawn
const LEAST = 0.67; // of that size; smaller ones are not told apart
const SIZES = ["size", "line_width"];
const COLORS = ["line_color", "fill_color"];
const NAMES = ["ink", "paper", "spot", "leaf", "limit", "chosen"];

/** @param {HTMLElement} el on light paper, whatever the room @param {HTMLDialogElement} dialog */
export function looks(el, dialog) {
  let dark = false;
  try { dark = localStorage.getItem(KEPT) !== null; } catch { /* a browser may forbid it */ }
  dialog.classList.toggle("dark", dark);
  /** What each part was drawn with: its sizes, and its colors by their names. @type {WeakMap<object, any>} */
  const drawn = new WeakMap(), heard = new WeakSet();

  function turn() {
    dark = !dark;
    try {
      dark ? localStorage.setItem(KEPT, "1") : localStorage.removeItem(KEPT);
    } catch { /* it is as long as the page */ }
    dialog.classList.toggle("dark", dark);
    dress();
  }

  // A mark that tells a fruit's flesh lies on its own ground: its colors stay.
  function remembered(part) {
    if (drawn.has(part)) return drawn.get(part);
    const light = getComputedStyle(el), was = { sizes: {}, colors: {} };
    const named = (color) => NAMES.find((name) => light.getPropertyValue(`--${name}`).trim() === color);
    const plain = (value) => (value && typeof value === "object" && "value" in value ? value.value : value);
    for (const key of SIZES) if (typeof plain(part[key]) === "number") was.sizes[key] = plain(part[key]);
    if (!part.marker?.field) for (const key of COLORS) if (named(plain(part[key]))) was.colors[key] = named(plain(part[key]));
    drawn.set(part, was);
    return was;
  }

  // The shell dresses every picture for a desk once it is drawn, and may do so after us: here its letters stay those of the hall.
  function dress() {
    const looked = getComputedStyle(dialog), { color, fontSize } = looked;
    const scale = Math.max(LEAST, Math.min(innerWidth / DESK[0], innerHeight / DESK[1]));
    const axes = { major_label_text_color: color, major_label_text_font_size: fontSize, axis_line_color: color, axis_line_alpha: 1, axis_line_width: 2 };
    const set = (part, wanted) => {
      const news = Object.entries(wanted).filter(([key, value]) => JSON.stringify(part[key]?.value ?? part[key]) !== JSON.stringify(value));
      if (news.length) part.setv(Object.fromEntries(news));
    };
    const fit = (part, sized = true) => {
      const was = remembered(part);
      set(part, {
        ...Object.fromEntries(Object.entries(was.colors).map(([key, name]) => [key, looked.getPropertyValue(`--${name}`).trim()])),
        ...(sized ? Object.fromEntries(Object.entries(was.sizes).map(([key, size]) => [key, Math.round(10 * size * scale) / 10])) : {}),
      });
    };
    for (const figure of window.Bokeh.documents[0].all_models) {
      if (figure.type !== "Figure" || figure.name !== "spotlit") continue;
      for (const axis of [...figure.below, ...figure.left]) {
        if (!heard.has(axis)) axis.change.connect(dress);
        heard.add(axis);
        set(axis, axes);
      }
      for (const part of figure.center) {
        if (part.type === "Grid") set(part, { grid_line_color: looked.getPropertyValue("--rule").trim() });
        else fit(part, false);
      }
      for (const renderer of figure.renderers) for (const glyph of [renderer.glyph, renderer.nonselection_glyph, renderer.selection_glyph]) if (glyph?.setv) fit(glyph);
    }
  }
  // Where the reader's system picks the colors, it has said what the paper is.
  const free = () => !matchMedia("(forced-colors: active)").matches;
  return { dress, turn, free, isDark: () => dark };
}
