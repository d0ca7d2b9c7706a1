// The first and the last selling day, each written in a field; what stands there is chosen whole, so that typing writes over it.
/** @import { Page, SellingDays } from "../messages" */
/** @param {Page<SellingDays>} page */
export function render({ model, el }) {
  const set = document.createElement("fieldset"), legend = document.createElement("legend");
  legend.textContent = "You sell";
  set.append(legend);
  const fields = ["from", "to"].map((word, end) => {
    const label = document.createElement("label"), field = document.createElement("input");
    Object.assign(field, { type: "text", size: 8, maxLength: 40 });
    field.setAttribute("aria-label", `Sell ${word}`);
    field.addEventListener("focus", () => field.select());
    field.addEventListener("change", () => model.send_msg({ end, typed: field.value }));
    label.append(word, field);
    set.append(label);
    return field;
  });
  el.append(set);

  function draw(anew = false) {
    const told = JSON.parse(model.told);
    fields.forEach((field, end) => { // what is being typed is left alone
      const stood = field.dataset.was, stands = told[end];
      if (anew || /** @type {ShadowRoot} */ (field.getRootNode()).activeElement !== field || stood !== stands) field.value = stands;
      field.dataset.was = stands;
    });
  }
  draw();
  model.on("told", () => draw());
  model.on("msg:custom", () => draw(true)); // what was refused is written over by what stands
}
