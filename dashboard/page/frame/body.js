// In a narrow window the choices lie beside the page: they come over it when they are asked for, and go by this button, Escape, or a press beside them.
import { focused } from "./focus.js";

export function render({ model, el }) {
  const shut = Object.assign(document.createElement("button"), { type: "button", className: "contained", textContent: "Show the cultivars" });
  el.append(shut);
  let opener = null;
  const round = (at) => /** @type {ShadowRoot} */ (at.getRootNode()).host;
  const sides = () => {
    const column = round(round(el)); // of choices: this element stands in it
    return { column, body: round(column) };
  };
  const stands = () => sides().body.classList.contains("choosing");
  function close() {
    if (!stands()) return;
    sides().body.classList.remove("choosing");
    opener?.focus();
  }
  const found = (root, field) => {
    for (const at of root.querySelectorAll("*")) {
      const here = at.dataset?.field === field ? at : at.shadowRoot && found(at.shadowRoot, field);
      if (here) return here;
    }
    return null;
  };
  function open(event) {
    opener = focused();
    const { column, body } = sides();
    body.classList.add("choosing");
    const field = found(column.shadowRoot, event.detail);
    (field?.querySelector("input:checked") ?? field?.querySelector("input") ?? shut).focus({ preventScroll: true });
    field?.scrollIntoView({ block: "start" });
  }
  const onKey = (event) => { if (event.key === "Escape" && stands()) { event.preventDefault(); close(); } };
  // Heard before what was pressed hears it: the press that opens them does not close them. Keys that press a button are none.
  const onPress = (event) => { if (event.isTrusted && stands() && !event.composedPath().includes(sides().column)) close(); };
  shut.addEventListener("click", close);
  addEventListener("choices", open);
  document.addEventListener("keydown", onKey);
  document.addEventListener("click", onPress, true);
  model.on("remove", () => {
    removeEventListener("choices", open);
    document.removeEventListener("keydown", onKey);
    document.removeEventListener("click", onPress, true);
  });
}
