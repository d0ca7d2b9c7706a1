// A picture of the page as a file: drawn anew as SVG, on white, with its title, its legend and what it rests on as text; a PNG is that
// drawing at twice its size. Every text is set as text.
/** @import { Page, PictureSaver, Offered, SavedPicture } from "../messages" */
const SPACE = "http://www.w3.org/2000/svg";
const EDGE = 16, GAP = 12, LEAST = 640; // pixels: round it, between pictures, the least width that text can be read in
const SIZES = { title: 18, line: 12.5 };
const MARK = 14, SLACK = 0.94; // of a line's width: another reader's letters may be wider
const UNWRITTEN = /[^\P{Cc}\t\n\r]|[\uFFFE\uFFFF]/gu; // what XML forbids

const clean = (text) => text.replace(UNWRITTEN, "\uFFFD");

function node(name, about, text) {
  const at = document.createElementNS(SPACE, name);
  for (const [key, value] of Object.entries(about)) at.setAttribute(key, String(value));
  if (text !== undefined) at.textContent = clean(text);
  return at;
}

/** Markup of the server's, or of a picture's own, as an element; it must be sound. */
function parsed(markup) {
  const found = new DOMParser().parseFromString(`<svg xmlns="${SPACE}">${clean(markup)}</svg>`, "image/svg+xml");
  if (found.querySelector("parsererror")) throw new Error("not sound SVG");
  return document.importNode(found.documentElement, true);
}

/** The view of a picture that can be seen now. @param {string} name */
function shown(name) {
  const seen = ({ model, bbox, el }) => model.type === "Figure" && model.name === name && bbox.width > 0 && el.checkVisibility();
  return window.Bokeh.index.query_one(seen);
}

/** A picture of the page. @returns {Promise<{at: Element, width: number, height: number}>} */
async function taken(view) {
  const { width, height } = view.bbox;
  const markup = await (await view.export("svg", false).to_blob()).text();
  return { at: parsed(markup.replace(/^<\?xml[^>]*>/, "")), width, height };
}

/** Lines of at most this width; a word that is wider is cut. */
function lines(text, width, measure) {
  const found = [];
  let line = "";
  for (let word of text.split(/\s+/)) {
    const longer = line ? `${line} ${word}` : word;
    if (measure(longer) <= width) { line = longer; continue; }
    if (line) found.push(line);
    while (measure(word) > width) {
      const letters = [...word];
      let count = letters.length;
      while (count > 1 && measure(letters.slice(0, count).join("")) > width) count -= 1;
      found.push(letters.slice(0, count).join(""));
      word = letters.slice(count).join("");
    }
    line = word;
  }
  return line ? [...found, line] : found;
}

/** @param {SavedPicture} told @param {PictureSaver} look @param {{at: Element, width: number, height: number}[]} pictures */
function drawn(told, look, pictures) {
  const across = pictures.reduce((sum, one) => sum + one.width, GAP * (pictures.length - 1));
  const inner = Math.max(LEAST, Math.ceil(across)), width = inner + 2 * EDGE;
  const pen = document.createElement("canvas").getContext("2d");
  const root = node("svg", { width, "font-family": look.font, fill: look.ink });
  const ground = node("rect", { width: "100%", fill: look.paper });
  root.append(node("title", {}, told.title), ground);
  let down = EDGE;

  function write(text, size, bold) {
    pen.font = `${bold ? "bold " : ""}${size}px ${look.font}`;
    for (const line of lines(text, inner * SLACK, (part) => pen.measureText(part).width)) {
      down += size * 1.35;
      root.append(node("text", { x: EDGE, y: down.toFixed(1), "font-size": size, ...(bold ? { "font-weight": "bold" } : {}) }, line));
    }
  }

  function legend() {
    let x = 0;
    pen.font = `${SIZES.line}px ${look.font}`;
    down += 6 + MARK;
    for (const [mark, words] of told.marks) {
      const wide = MARK + 5 + pen.measureText(words).width / SLACK + 14;
      if (x && x + wide > inner) { x = 0; down += MARK + 6; }
      const held = node("svg", { x: EDGE + x, y: down - MARK + 2, width: MARK, height: MARK });
      held.append(...parsed(mark).childNodes);
      root.append(held, node("text", { x: EDGE + x + MARK + 5, y: down, "font-size": SIZES.line }, words));
      x += wide;
    }
  }

  write(told.title, SIZES.title, true);
  told.over.forEach((line) => write(line, SIZES.line, false));
  down += GAP;
  let x = EDGE;
  for (const one of pictures) {
    const held = node("svg", { x, y: down.toFixed(1), width: one.width, height: one.height });
    held.append(...one.at.childNodes);
    root.append(held);
    x += one.width + GAP;
  }
  down += Math.max(...pictures.map((one) => one.height));
  if (told.marks.length) legend();
  down += 4;
  [...told.reads, ...told.under].forEach((line) => write(line, SIZES.line, false));
  const height = Math.ceil(down + EDGE);
  root.setAttribute("height", String(height));
  root.setAttribute("viewBox", `0 0 ${width} ${height}`);
  ground.setAttribute("height", String(height));
  return { text: new XMLSerializer().serializeToString(root), width, height };
}

/** @returns {Promise<Blob>} */
async function painted({ text, width, height }) {
  const image = new Image();
  image.src = URL.createObjectURL(new Blob([text], { type: "image/svg+xml" }));
  await image.decode();
  const canvas = Object.assign(document.createElement("canvas"), { width: 2 * width, height: 2 * height });
  canvas.getContext("2d").drawImage(image, 0, 0, canvas.width, canvas.height);
  URL.revokeObjectURL(image.src);
  return new Promise((done, failed) => canvas.toBlob((made) => (made ? done(made) : failed(new Error("not painted"))), "image/png"));
}

/** @param {Page<PictureSaver>} page */
export function render({ model, el }) {
  const make = (name, about, parent) => {
    const at = Object.assign(document.createElement(name), about);
    parent.append(at);
    return at;
  };
  const opener = make("button", { type: "button", className: "text", textContent: "Save a picture" }, el);
  const menu = make("div", { className: "menu", hidden: true }, el);
  const offers = make("div", {}, menu);
  const word = make("p", {}, menu);
  word.setAttribute("role", "status");
  menu.setAttribute("role", "group");
  menu.setAttribute("aria-label", "Pictures of this tab");

  function open(wide) {
    menu.hidden = !wide;
    opener.setAttribute("aria-expanded", String(wide));
  }
  open(false);
  opener.addEventListener("click", () => (menu.hidden ? model.send_msg({ open: true }) : open(false)));
  el.addEventListener("keydown", (event) => {
    if (event.key !== "Escape" || menu.hidden) return;
    event.preventDefault(); // the sheet round it stays
    open(false);
    opener.focus();
  });
  el.addEventListener("focusout", (event) => {
    const to = /** @type {Node | null} */ (event.relatedTarget);
    if (to && !menu.contains(to) && to !== opener) open(false);
  });

  /** @param {Offered[]} offered */
  function offer(offered) {
    const there = offered.filter(([, , figures]) => figures.every((name) => shown(name)));
    offers.replaceChildren();
    for (const [key, title] of there) {
      const line = make("div", { className: "line" }, offers);
      make("span", { textContent: title }, line);
      for (const kind of /** @type {const} */ (["svg", "png"])) {
        const save = make("button", { type: "button", className: "outlined", textContent: kind.toUpperCase() }, line);
        save.setAttribute("aria-label", `Save as ${kind.toUpperCase()}: ${title}`);
        save.addEventListener("click", () => model.send_msg({ save: key, kind }));
      }
    }
    word.textContent = there.length ? "" : "This tab shows no picture now.";
    open(true);
  }

  /** @param {SavedPicture} told */
  async function save(told) {
    const views = told.figures.map(shown);
    if (!views.every(Boolean)) throw new Error("hidden meanwhile");
    const [markup, width, height] = told.drawn ?? ["", 0, 0];
    const pictures = told.drawn ? [{ at: parsed(markup), width, height }] : await Promise.all(views.map(taken));
    const whole = drawn(told, model, pictures);
    const svg = told.kind === "svg";
    const content = svg ? `<?xml version="1.0" encoding="UTF-8"?>\n${whole.text}` : await painted(whole);
    window.files.taken(el, told.file, content, svg ? "image/svg+xml" : "image/png");
    word.textContent = `Saved: ${told.file}`;
  }

  model.on("msg:custom", (said) => {
    if ("offered" in said) offer(said.offered);
    else if ("refused" in said) word.textContent = said.refused;
    else save(said).catch((fault) => {
      window.console.warn(fault);
      word.textContent = "That picture could not be saved; open its tab and try again.";
    });
  });
}
