// Three buttons for a thumb. Who buys and the filters lie beside the page: body.js brings them out.
/** @import { Page, Quick } from "../messages" */
/** @param {Page<Quick>} page */
export function render({ model, el }) {
  const line = document.createElement("div");
  line.className = "three";
  const button = (className, press) => {
    const at = Object.assign(document.createElement("button"), { type: "button", className });
    at.addEventListener("click", press);
    line.append(at);
    return at;
  };
  const open = (field) => () => dispatchEvent(new CustomEvent("choices", { detail: field() }));
  const buyer = button("outlined", open(() => "market"));
  const filters = button("outlined", open(() => JSON.parse(model.told).first));
  const fill = button("contained fill", () => model.send_msg({ fill: true }));
  el.append(line);
  function draw() {
    const told = JSON.parse(model.told);
    buyer.textContent = told.buyer;
    filters.textContent = told.filters;
    fill.textContent = told.fill;
    fill.disabled = !told.open;
  }
  draw();
  model.on("told", draw);
}
