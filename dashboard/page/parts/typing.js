// A number of one's own in one of some units, beside a list of boxes: for the page and the published slate.

/** @typedef {{ label: string, units: [string, string, number, number][], wrong: string }} Typed its label, each unit with its word, least and most, and what is said of anything else */

/** Its field. It takes the place of what is ticked in its list, and an empty field of that too; `choose` is given "650h", or "" for none.
 *  @param {Typed} told @param {string} list its label @param {HTMLElement} note where a fault is told @param {(value: string) => void} choose */
export function typedField({ label, units, wrong }, list, note, choose) {
  const row = document.createElement("div");
  row.className = "typed";
  const number = Object.assign(document.createElement("input"), { type: "text", inputMode: "numeric", autocomplete: "off", maxLength: 12, size: 6 });
  number.setAttribute("aria-label", `${label}: ${list}`);
  const unit = Object.assign(document.createElement("select"), { hidden: units.length < 2 });
  unit.setAttribute("aria-label", `Unit: ${list}`);
  units.forEach(([value, words]) => unit.append(Object.assign(document.createElement("option"), { value, textContent: words })));
  const alone = units.length < 2 ? units[0][1] : "";
  function send() {
    const text = number.value.replace(/[\s,]/g, "");
    const good = text === "" || canBe(units, text + unit.value);
    number.setAttribute("aria-invalid", String(!good));
    note.textContent = good ? "" : wrong;
    if (good) choose(text && text + unit.value);
  }
  number.addEventListener("change", send);
  unit.addEventListener("change", () => number.value && send());
  row.append(label, number, unit, alone);
  return row;
}

/** Whether "650h" is a number that may be. @param {Typed["units"]} units @param {string} value */
export function canBe(units, value) {
  const [, number, unit] = /^([1-9]\d{0,4})([a-z]+)$/.exec(value) || [];
  return units.some(([one, , least, most]) => one === unit && Number(number) >= least && Number(number) <= most);
}

/** The field says the one number that is asked for, wherever it was asked. @param {Element} row @param {string[]} asked */
export function sayTyped(row, asked) {
  const number = row.querySelector("input"), told = asked.length === 1 ? (asked[0].match(/^\d+/) || [""])[0] : "";
  if (number.getAttribute("aria-invalid") === "true" && !told) return;
  number.setAttribute("aria-invalid", "false");
  number.value = told;
  if (told) row.querySelector("select").value = asked[0].slice(told.length);
}
