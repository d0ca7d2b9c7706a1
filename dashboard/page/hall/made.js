// An element with what it holds. Text goes in as text.
/** @type {(tag: string, set?: object, ...inside: (string | Node)[]) => any} */
export const make = (tag, set = {}, ...inside) => {
  const at = Object.assign(document.createElement(tag), set);
  at.append(...inside);
  return at;
};

/** Labels, each with its figure and, smaller, what else there is to it. @param {HTMLElement} list @param {string[][]} rows */
export const pairs = (list, rows) => list.replaceChildren(...rows.map(([label, value, more]) =>
  make("div", {}, make("dt", { textContent: label }), make("dd", {}, make("b", { textContent: value }), ...(more ? [make("span", { textContent: more })] : [])))));
