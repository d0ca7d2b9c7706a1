// What was corrected after it was sent: the server says which values still stand as this page sent them, and replaces none unless somebody says so.
/** @import { Differs } from "./bench" */
import { counted, dayLabel, made } from "./drawn.js";

/** The name of this page in this browser: by it the server knows what was sent before. @param {string} prefix */
export function pageName(prefix) {
  const place = `${prefix}#`;
  let mine = "";
  try { mine = localStorage.getItem(place) ?? ""; } catch { /* this browser keeps nothing */ }
  if (/^[0-9a-f]{32}$/.test(mine)) return mine;
  mine = [...crypto.getRandomValues(new Uint8Array(16))].map((one) => one.toString(16).padStart(2, "0")).join("");
  try { localStorage.setItem(place, mine); } catch { /* then it has another one next time */ }
  return mine;
}

/** The question in its box, or none. @param {HTMLElement} box @param {Differs | null} asked @param {(replace: boolean) => void} said */
export function ask(box, asked, said) {
  if (box.dataset.asked === (asked?.whole ?? "")) return;
  box.dataset.asked = asked?.whole ?? "";
  box.hidden = !asked;
  if (!asked) return box.replaceChildren();
  const many = asked.count !== 1;
  const press = (words, replace, set = {}) => { const one = made("button", { type: "button", ...set }, words); one.addEventListener("click", () => said(replace)); return one; };
  box.replaceChildren(
    made("p", { role: "alert" }, made("b", {}, `${dayLabel(asked.day)}: ${counted(asked.count, "value")} ${many ? "differ" : "differs"} from what was sent: replace ${many ? "them" : "it"}?`)),
    made("ul", {}, ...asked.values.map((line) => made("li", {}, line))),
    made("p", { className: "settings" }, press(many ? "Replace them" : "Replace it", true, { className: "next" }), press("Keep what was sent", false)));
}
