// Groups of tick boxes, each with the number of cultivars it would leave. Text goes in as text, never as markup.
import { sayTyped, typedField } from "./typing.js";

/** @import { Page, ChoiceBoxes, ChoicesTold } from "../messages" */
/** @param {Page<ChoiceBoxes>} page */
export function render({ model, el }) {
  const root = document.createElement("div");
  root.className = "groups";
  el.appendChild(root);

  let sent = 0; // ticks made here; an answer to an earlier one must not take back a later one

  function box(group, option) {
    const label = document.createElement("label");
    label.className = "option";
    const input = document.createElement("input");
    input.type = group.single ? "radio" : "checkbox";
    input.name = group.field;
    input.value = option.value;
    input.addEventListener("change", () => {
      const ticked = [...root.querySelectorAll("input")].filter((i) => i.name === group.field && i.checked);
      sent += 1;
      model.send_msg({ tick: sent, field: group.field, chosen: ticked.map((i) => i.value) });
    });
    const words = document.createElement("span");
    words.className = "words";
    words.textContent = option.label;
    const left = document.createElement("span");
    left.className = "left";
    label.append(input, words, left);
    return label;
  }

  // One of a few, where there is little room.
  function menu(group) {
    const at = document.createElement("select");
    at.setAttribute("aria-label", group.label);
    group.options.forEach(({ value, label }) => at.append(Object.assign(document.createElement("option"), { value, textContent: label })));
    at.addEventListener("change", () => {
      sent += 1;
      model.send_msg({ tick: sent, field: group.field, chosen: [at.value] });
    });
    return at;
  }

  let sets = [];

  function fieldset(group) {
    const set = document.createElement("fieldset");
    set.dataset.field = group.field;
    const legend = document.createElement("legend");
    legend.textContent = group.label;
    const options = document.createElement("div");
    options.className = "options " + (group.look || "");
    options.append(...(group.look === "menu" ? [menu(group)] : group.options.map((option) => box(group, option))));
    const note = document.createElement("p");
    note.className = "note";
    note.setAttribute("role", "status");
    const choose = (value) => {
      sent += 1;
      model.send_msg({ tick: sent, field: group.field, chosen: value ? [value] : [] });
    };
    set.append(legend, options, ...(group.typed ? [typedField(group.typed, group.label, note, choose)] : []), note);
    return set;
  }

  function fold(heading, open) {
    const folded = Object.assign(document.createElement("details"), { open });
    const summary = document.createElement("summary");
    summary.textContent = heading;
    folded.append(summary);
    return folded;
  }

  // Boxes are made once; a new answer only changes the ticks and the numbers, so focus and scroll stay put.
  function build() {
    const typing = sets.findIndex((set) => set.querySelector(".typed input:focus"));
    const open = [...root.querySelectorAll("details[open] > summary")].map((one) => one.textContent);
    sets = model.groups.map(fieldset);
    root.replaceChildren();
    model.groups.forEach((group, g) => {
      const beside = g && group.fold && group.fold === model.groups[g - 1].fold;
      const place = beside ? root.lastElementChild : group.fold ? fold(group.fold, open.includes(group.fold)) : root;
      if (group.fold && !beside) root.append(place);
      place.append(sets[g]);
    });
    draw();
    /** @type {HTMLInputElement | null | undefined} */
    const number = sets[typing]?.querySelector(".typed input");
    number?.focus();
  }

  function draw() {
    /** @type {ChoicesTold} */
    const told = JSON.parse(model.told);
    model.groups.forEach((group, g) => {
      const { left, chosen, away, set, note } = told[g] || { left: [], chosen: [], away: true };
      sets[g].hidden = Boolean(away);
      sets[g].querySelector(".note").textContent = note || "";
      if (set && !sets[g].dataset.set) sets[g].closest("details").open = true; // what is asked for is not hidden
      if (set) sets[g].dataset.set = "yes";
      else delete sets[g].dataset.set;
      const one = sets[g].querySelector(".options select");
      if (one && model.answered >= sent) one.selectedIndex = chosen[0] ?? 0;
      if (group.typed && model.answered >= sent) sayTyped(sets[g].querySelector(".typed"), chosen.map((o) => group.options[o].value));
      sets[g].querySelectorAll("label.option").forEach((/** @type {HTMLElement} */ label, o) => {
        if (model.answered >= sent) label.querySelector("input").checked = chosen.includes(o);
        if (!left.length) return;
        label.classList.toggle("none", left[o] === 0);
        label.querySelector(".left").textContent = String(left[o]);
        label.title = `${left[o]} cultivars if you choose this`;
      });
    });
  }
  build();
  model.on("groups", build);
  model.on("told", draw);
  model.on("answered", draw);
}
