// Groups of tick boxes, each with the number of cultivars it would leave. Text goes in as text, never as markup.
export function render({ model, el }) {
  const root = document.createElement("div");
  root.className = "groups";
  el.appendChild(root);

  function box(group, option) {
    const label = document.createElement("label");
    label.className = "option" + (option.left === 0 ? " none" : "");
    const input = document.createElement("input");
    input.type = group.single ? "radio" : "checkbox";
    input.name = group.field;
    input.value = option.value;
    input.checked = option.chosen;
    input.addEventListener("change", () => {
      const ticked = [...root.querySelectorAll("input")].filter((i) => i.name === group.field && i.checked);
      model.send_msg({ field: group.field, chosen: ticked.map((i) => i.value) });
    });
    const words = document.createElement("span");
    words.className = "words";
    words.textContent = option.label;
    const left = document.createElement("span");
    left.className = "left";
    label.append(input, words, left);
    return label;
  }

  // Boxes are made once; a new answer only changes the ticks and the numbers, so focus and scroll stay put.
  function draw() {
    const groups = model.groups;
    const shape = JSON.stringify(groups.map((g) => [g.field, g.options.map((o) => o.value)]));
    if (root.dataset.shape !== shape) {
      root.dataset.shape = shape;
      root.replaceChildren(
        ...groups.map((group) => {
          const set = document.createElement("fieldset");
          set.dataset.field = group.field;
          const legend = document.createElement("legend");
          legend.textContent = group.label;
          const options = document.createElement("div");
          options.className = "options " + (group.look || "");
          options.append(...group.options.map((option) => box(group, option)));
          set.append(legend, options);
          return set;
        }),
      );
    }
    groups.forEach((group, g) => {
      const labels = root.children[g].querySelectorAll("label.option");
      group.options.forEach((option, o) => {
        const input = labels[o].querySelector("input");
        input.checked = option.chosen;
        labels[o].classList.toggle("none", option.left === 0);
        labels[o].querySelector(".left").textContent = option.left;
        labels[o].title = `${option.left} cultivars if you choose this`;
      });
    });
  }
  draw();
  model.on("groups", draw);
}
