// What takes the place of the picture or lies over it: a form; two set against each other, the names behind the counts, a code
// for phones, what all of it rests on.
import { make } from "./made.js";
import { names } from "./names.js";
import { paged } from "./paged.js";

/** What the server drew and escaped. @param {string} markup */
function drawn(markup) {
  const at = make("div", { className: "drawn" });
  // eslint-disable-next-line no-restricted-syntax -- drawn and escaped by the server
  at.innerHTML = markup;
  return at;
}

/** @param {(name: string) => void} speak */
export function over(speak) {
  const form = make("section", { className: "form" });
  const against = make("div", { className: "over against", hidden: true, ariaLive: "polite" });
  const code = make("div", { className: "over code", hidden: true });
  const evidence = make("div", { className: "over evidence", hidden: true, ariaLive: "polite" });
  const listed = names(speak);
  const rows = make("span", { className: "rows" });
  const calendar = paged(form, rows);
  const lines = (texts) => texts.map((text) => make("p", { textContent: text }));

  /** @param {{ title: string, said: string[], drawn: string } | null} told */
  function showForm(told) {
    form.hidden = !told;
    form.replaceChildren(...(told ? [make("h2", { textContent: told.title }, rows), ...lines(told.said), drawn(told.drawn)] : []));
  }

  /** @param {string[] | null} told */
  function showAgainst(told) {
    against.hidden = !told;
    // A figure and its unit stay on one line, and so does how sure it is.
    const kept = (text) => text.replace(/(\d) (?=(°Brix|in|lb|mm|N)[;.,])/g, "$1\u00a0").replace(/(\d) in 100/g, "$1\u00a0in\u00a0100");
    against.replaceChildren(...lines((told ?? []).map(kept)));
  }

  /** @param {{ why?: string, picture?: string, address?: string } | null} told */
  function showCode(told) {
    code.hidden = !told;
    code.replaceChildren(...(told ? [make("p", { className: told.why ? "why" : "", textContent: told.why || "This view on your phone:" })] : []));
    if (told?.picture) code.append(drawn(told.picture), make("p", { className: "address", textContent: told.address }));
  }

  /** @param {[heading: string, said: string[]][] | null} told */
  function showEvidence(told) {
    evidence.hidden = !told;
    evidence.replaceChildren(...(told ?? []).map(([heading, said]) => make("section", {}, make("h2", { textContent: heading }), ...lines(said))));
  }

  /** @param {any} told what lies over the picture, or nothing */
  function showOver(told) {
    showAgainst(told?.against);
    showCode(told?.code);
    showEvidence(told?.evidence);
    listed.show(told?.names);
  }
  return { form, listed, calendar, parts: [against, code, evidence, listed.at], showForm, showOver };
}
