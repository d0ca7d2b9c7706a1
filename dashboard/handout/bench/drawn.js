// Parts of the page; what they say goes in as text.

/** @template {keyof HTMLElementTagNameMap} T @param {T} tag @param {Record<string, any>} set properties, or attributes where the name has a hyphen or is `role`
 * @param {...(Node | string)} inside @returns {HTMLElementTagNameMap[T]} */
export function made(tag, set = {}, ...inside) {
  const one = document.createElement(tag);
  for (const [name, value] of Object.entries(set))
    if (name.includes("-") || name === "role") one.setAttribute(name, value);
    else one[name] = value;
  one.append(...inside);
  return one;
}

const MONTHS = ["Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec"];
/** "2025-07-07" as Jul 7. @param {string} day */
export const dayLabel = (day) => `${MONTHS[Number(day.slice(5, 7)) - 1]} ${Number(day.slice(8))}`;

/** @param {number} count @param {string} one @param {string} [more] */
export const counted = (count, one, more = one + "s") => `${count} ${count === 1 ? one : more}`;
