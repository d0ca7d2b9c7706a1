// What is asked of an order of trees: fields to type in and one list. Every text is set as text.
/** @import { Page, OrderAsking, OrderAskingTold } from "../messages" */

/** @type {(tag: string, set?: object, ...inside: (string | Node)[]) => any} */
const make = (tag, set = {}, ...inside) => {
  const at = Object.assign(document.createElement(tag), set);
  at.append(...inside);
  return at;
};

/** @param {Page<OrderAsking>} page */
export function render({ model, el }) {
  /** @type {Map<string, any>} */
  const fields = new Map();
  const first = make("div", { className: "line" }), rest = make("div", { className: "line" }), weeks = make("div", { className: "line" });
  const more = make("details", {}, make("summary", { textContent: "Spacing, crop, price and shares" }), rest);
  const file = make("input", { type: "file", accept: ".csv" });
  file.addEventListener("change", async () => {
    const brought = await window.files.brought(file);
    if (brought) model.send_msg({ field: "file", value: "", ...brought });
  });
  const each = make("details", {}, make("summary", { textContent: "Another amount in some weeks" }), weeks,
    make("label", {}, make("span", { textContent: "Or open a table (.csv) with the columns week, amount and unit" }), file));
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
  function draw() {
    /** @type {OrderAskingTold} */
    const now = JSON.parse(model.told);
    put(first, now.first);
    put(rest, now.rest);
    put(weeks, now.weeks);
    faults.replaceChildren(...now.faults.map((textContent) => make("p", { textContent })));
  }
  draw();
  model.on("told", draw);
}
