// The first screen: what may be ripe, in walking order; who was looked at, picked, measured. Any other cultivar is found by name.
/** @import { Known, Cultivar, Sample, Store } from "./bench" */
import { measured } from "./cells.js";
import { counted, dayLabel, made } from "./drawn.js";
import { picked, unsaved } from "./filed.js";

const MOST = 40; // found by name, at once
const plain = (text) => text.normalize("NFD").replace(/[\u0300-\u036f]/g, "").toLowerCase();

/** @param {HTMLElement} section @param {Known} known @param {Store} store
 * @param {{ today: string, day: () => string, open: (cultivar: string) => void, opened: () => string }} page */
export function walking(section, known, store, page) {
  const idOf = (name) => `${page.day()}/${name}`;
  const week = known.cultivars.filter((one) => one.when !== undefined);
  const heading = made("h2", { id: "walk-heading" }), why = made("p", { className: "notice", hidden: !known.why }, known.why), late = made("p", { className: "notice", hidden: true }), told = made("p", { className: "quiet" }), bench = made("div", { className: "on-bench" });
  const search = made("input", { type: "search", id: "find", autocomplete: "off", spellcheck: false, enterKeyHint: "go" });
  const every = made("button", { type: "button", className: "quiet-button" }), list = made("ul", { className: "rows" });
  let all = false, drawn = "";
  section.append(heading, why, late, told, bench, made("label", { htmlFor: "find", className: "find" }, "Find a cultivar ", search), list, every);

  search.addEventListener("input", () => draw());
  search.addEventListener("keydown", (event) => {
    if (event.key !== "Enter" || !search.value.trim()) return;
    const found = shown()[0];
    if (found) open(found.name);
    else list.querySelector("button")?.focus(); // a slip is no new cultivar: Enter once more
  });
  every.addEventListener("click", () => { all = !all; draw(); });

  function open(name) {
    search.value = "";
    page.open(name);
  }
  late.hidden = page.today >= known.day && page.today <= known.last;
  late.textContent = `Today is ${dayLabel(page.today)}. This page was made for ${dayLabel(known.day)} to ${dayLabel(known.last)}, so look whether its day is right.`;

  /** @returns {Cultivar[]} */
  function shown() {
    const asked = plain(search.value.trim());
    if (!asked) return all ? known.cultivars.filter((one) => one.here || one.when !== undefined) : week;
    const found = known.cultivars.filter((one) => plain(one.name).includes(asked));
    return [...found.filter((one) => plain(one.name).startsWith(asked)), ...found.filter((one) => !plain(one.name).startsWith(asked))].slice(0, MOST);
  }
  const today = () => [...store.samples].filter(([, one]) => one.day === page.day());

  function draw() {
    const samples = today();
    const state = JSON.stringify([page.day(), page.opened(), search.value, all, samples.map(([id, one]) => [id, one.looked, picked(one), one.gone, unsaved(one), one.pick, measured(known, one)])]);
    if (state === drawn) return;
    drawn = state;
    const focused = document.activeElement instanceof HTMLElement && section.contains(document.activeElement) ? document.activeElement.dataset.at : undefined;
    const here = samples.map(([, one]) => one).filter((one) => !one.gone);
    heading.textContent = `Walk on ${dayLabel(page.day())}`;
    told.textContent = [
      known.invented ? "Invented example: names and figures are made up." : "",
      week.length ? `${counted(week.length, "cultivar")} may be ripe this week, in walking order.` : "",
      `${here.filter((one) => one.looked).length} looked at, ${here.filter(picked).length} picked, ${here.filter((one) => measured(known, one).readings).length} measured.`,
    ].filter(Boolean).join(" ");
    bench.replaceChildren(...onBench(samples));
    const rows = shown(), asked = search.value.trim();
    list.replaceChildren(...rows.map(row), ...(asked && !known.cultivars.some((one) => plain(one.name) === plain(asked)) ? [unknown(asked)] : []));
    const others = known.cultivars.filter((one) => one.here && one.when === undefined).length;
    every.hidden = Boolean(asked) || !others;
    every.textContent = all ? "Show only what may be ripe" : `Show ${counted(others, "other")} that stand here`;
    if (focused) /** @type {HTMLElement | undefined} */ ([...section.querySelectorAll("[data-at]")].find((one) => /** @type {HTMLElement} */ (one).dataset.at === focused))?.focus();
  }

  /** @param {[string, Sample][]} samples */
  function onBench(samples) {
    const brought = samples.filter(([, one]) => picked(one) && !one.gone), gone = samples.filter(([, one]) => one.gone && Object.keys(one.cells).length);
    if (!brought.length && !gone.length) return [];
    const line = ([, one]) => {
      const { readings, fruit } = measured(known, one);
      const state = !Object.keys(one.cells).length ? "to measure" : `${counted(readings, "reading")} on ${counted(fruit, "fruit", "fruit")}${unsaved(one) ? "" : ", saved"}`;
      const button = made("button", { type: "button", className: "sample", "data-at": `bench ${one.cultivar}` }, made("b", {}, one.cultivar), ` ${state}`);
      button.addEventListener("click", () => open(one.cultivar));
      return made("li", {}, button);
    };
    const back = ([id, one]) => {
      const button = made("button", { type: "button" }, "Put it back");
      button.addEventListener("click", () => store.change(id, (sample) => { sample.gone = false; }));
      return made("li", { className: "quiet" }, `${one.cultivar} was removed. `, button);
    };
    return [made("h3", {}, "On the bench"), made("ul", {}, ...brought.map(line), ...gone.map(back))];
  }

  /** @param {Cultivar} one */
  function row(one) {
    const sample = store.samples.get(idOf(one.name)), on = sample && !sample.gone ? sample : null;
    const name = made("button", { type: "button", className: "name", "data-at": `name ${one.name}`, "aria-label": `Measure ${one.name}` }, one.name);
    name.addEventListener("click", () => open(one.name));
    const where = one.row !== undefined ? `Row ${one.row}, tree ${one.position}` : one.here ? "" : "does not stand here";
    const about = [where, one.when && one.when !== one.remark ? one.when : "", one.remark ?? ""].filter(Boolean).join(" · ");
    const text = made("div", { className: "about" }, name, made("span", { className: "quiet" }, about));
    if (one.first) text.append(made("span", { className: "first" }, "Look first"));
    const item = made("li", { className: page.opened() === one.name ? "row open" : "row" }, text, tick(one.name, "looked", "Looked at", on), tick(one.name, "picked", "Picked", on));
    return item;
  }

  /** @param {string} name @param {"looked" | "picked"} what @param {string} words @param {Sample | null} on */
  function tick(name, what, words, on) {
    const held = Boolean(on && Object.keys(on.cells).length); // measured: it was picked
    const box = made("input", { type: "checkbox", checked: Boolean(on && (what === "picked" ? picked(on) : on.looked)), disabled: held, "data-at": `${what} ${name}`, "aria-label": `${words}: ${name}` });
    box.addEventListener("change", () => {
      store.change(idOf(name), (sample) => {
        sample[what] = box.checked;
        if (box.checked) Object.assign(sample, { looked: true, gone: false });
        if (!box.checked && what === "looked") sample.picked = false;
      });
      if (what === "picked" && box.checked && matchMedia("(min-width: 1000px)").matches) page.open(name); // the bench stands beside the walk
    });
    return made("label", { className: "tick" }, box, words);
  }

  /** @param {string} asked */
  function unknown(asked) {
    const button = made("button", { type: "button" }, `Measure “${asked}” all the same`);
    button.addEventListener("click", () => open(asked));
    return made("li", { className: "row unknown" }, made("div", { className: "about" }, button,
      made("span", { className: "quiet" }, "This trial has no such cultivar. Add it to the trial before you import, or its fruit are set aside.")));
  }
  return { draw, find: () => search.focus() };
}
