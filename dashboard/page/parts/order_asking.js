// What is asked of an order of trees: fields to type in and one list. Every text is set as text.
/** @import { Page, OrderAsking, OrderAskingTold, OrderField } from "../messages" */

/** @type {(tag: string, set?: object, ...inside: (string | Node)[]) => any} */
const make = (tag, set = {}, ...inside) => {
  const at = Object.assign(document.createElement(tag), set);
  at.append(...inside);
  return at;
};

/** The next of 1, 2, 2.5, 5, 10, 20, … that is no less. @param {number} value */
const round = (value) => {
  const ten = 10 ** Math.floor(Math.log10(value || 1));
  return value ? ten * [1, 2, 2.5, 5, 10].find((part) => part * ten >= value * (1 - 1e-9)) : 0;
};
/** By so much a bar is drawn, where its end stands for so much. @param {number} scale */
const steps = (scale) => round(scale / 50);

/** @param {Page<OrderAsking>} page */
export function render({ model, el }) {
  /** @type {Map<string, any>} */
  const fields = new Map();
  const first = make("div", { className: "line" }), rest = make("div", { className: "line" }), weeks = make("div", { className: "line" });
  const more = make("details", {}, make("summary", { textContent: "Spacing, crop, price and shares" }), rest);
  const file = make("input", { type: "file", accept: ".csv" }), whose = make("span");
  file.addEventListener("change", async () => {
    const brought = await window.files.brought(file);
    if (brought) model.send_msg({ field: "file", value: "", ...brought });
  });
  const drawn = make("div"), how = make("p", { className: "how", textContent: "Drag the top of a bar, press where it is to end, or type below." });
  const each = make("details", {}, make("summary", { textContent: "Another amount in some weeks" }), how, drawn, weeks,
    make("label", {}, whose, file));
  const faults = make("div", { className: "faults" });
  faults.setAttribute("role", "alert");
  el.append(first, make("div", { className: "folds" }, each, more), faults);

  const field = (told) => {
    const input = told.options
      ? make("select", {}, ...told.options.map(([value, textContent]) => make("option", { value, textContent })))
      : make("input", { type: "text", maxLength: 40, autocomplete: "off", inputMode: told.text ? "text" : "decimal" });
    input.addEventListener("change", () => model.send_msg({ field: told.field, value: input.value }));
    return input;
  };
  function put(into, all) {
    const wanted = all.map((told) => told.field).join();
    if (into.dataset.has !== wanted) {
      into.dataset.has = wanted;
      into.replaceChildren(...all.map((told) => {
        const input = field(told);
        fields.set(told.field, input);
        return make("label", {}, make("span", { textContent: told.label }), input);
      }));
    }
    for (const told of all) {
      const input = fields.get(told.field);
      const held = /** @type {ShadowRoot} */ (el.getRootNode()).activeElement === input && input.dataset.was === told.value;
      if (!held) input.value = told.value;
      input.dataset.was = told.value;
      if (told.hint !== undefined) input.placeholder = told.hint;
    }
  }
  /** Bars of weeks, those of one buyer. The top is dragged, so that a thumb anywhere else moves the page; whoever cannot draw types. @param {string} whose */
  function bars(whose) {
    const row = make("div", { className: "bars" }), most = make("span", { className: "most" }), all = new Map();
    const whole = make("div", { className: "drawn" }, make("p", { className: "whose", textContent: whose }), most, row);
    whole.setAttribute("aria-hidden", "true");
    let scale = 1, step = 1;
    function bar() {
      const fill = make("div", { className: "fill" }), top = make("div", { className: "top" }), day = make("span", { className: "day" });
      const at = make("div", { className: "bar" }, fill, top, day);
      const one = { at, day, told: null, moving: false };
      let pounds = 0, from = 0, base = 0;
      const show = (value) => {
        pounds = Math.min(Math.max(Math.round(value / step) * step, 0), scale);
        fill.style.height = top.style.bottom = `${(100 * pounds) / scale}%`;
        top.textContent = one.moving ? String(pounds) : "";
      };
      one.show = () => { if (!one.moving) { step = 1; show(Number(one.told.value)); step = steps(scale); } };
      const ask = () => {
        fields.get(one.told.field).value = String(pounds);
        model.send_msg({ field: one.told.field, value: String(pounds) });
      };
      top.addEventListener("pointerdown", (event) => {
        top.setPointerCapture(event.pointerId);
        [one.moving, from, base] = [true, event.clientY, pounds];
        event.preventDefault();
      });
      top.addEventListener("pointermove", (event) => {
        if (!one.moving) return;
        show(base + ((from - event.clientY) / at.clientHeight) * scale);
        fields.get(one.told.field).value = String(pounds);
      });
      top.addEventListener("pointerup", () => {
        if (!one.moving) return;
        one.moving = false;
        show(pounds);
        if (pounds !== base) ask();
      });
      top.addEventListener("pointercancel", () => { one.moving = false; show(base); });
      at.addEventListener("click", (event) => {
        if (event.target === top) return;
        show((1 - (event.clientY - at.getBoundingClientRect().top) / at.clientHeight) * scale);
        ask();
      });
      return one;
    }
    return { whole, put(told) {
      const values = told.map((one) => Number(one.value));
      scale = round(1.25 * Math.max(...values)) || 1000;
      step = steps(scale);
      most.textContent = `${scale.toLocaleString("en-US")} lb`;
      if (told.map((one) => one.field).join() !== [...all.keys()].join()) {
        all.clear();
        for (const one of told) all.set(one.field, bar());
        row.replaceChildren(...[...all.values()].map((one) => one.at));
      }
      const apart = Math.ceil(told.length / 6);
      told.forEach((one, place) => {
        const at = all.get(one.field);
        at.told = one;
        at.day.textContent = place % apart ? "" : one.label.split(",")[0];
        at.show();
      });
    } };
  }
  const ofBuyer = new Map();
  /** @param {OrderField[]} told */
  function picture(told) {
    const groups = new Map();
    for (const one of told) {
      const whose = one.label.split(", ").slice(1).join(", ");
      groups.set(whose, [...(groups.get(whose) ?? []), one]);
    }
    for (const whose of groups.keys()) if (!ofBuyer.has(whose)) ofBuyer.set(whose, bars(whose));
    const shown = [...groups.keys()].map((whose) => ofBuyer.get(whose).whole);
    if (shown.some((one, place) => drawn.children[place] !== one) || drawn.children.length !== shown.length) drawn.replaceChildren(...shown);
    for (const [whose, one] of groups) ofBuyer.get(whose).put(one);
  }
  function draw() {
    /** @type {OrderAskingTold} */
    const now = JSON.parse(model.told);
    put(first, now.first);
    put(rest, now.rest);
    put(weeks, now.weeks);
    picture(now.weeks);
    whose.textContent = now.file;
    faults.replaceChildren(...now.faults.map((textContent) => make("p", { textContent })));
  }
  draw();
  model.on("told", draw);
}
