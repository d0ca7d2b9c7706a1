// What takes the place of the picture or lies over it: a form, two set against each other, a code for phones.
import { make } from "./made.js";

/** What the server drew and escaped. @param {string} markup */
function drawn(markup) {
  const at = make("div", { className: "drawn" });
  // eslint-disable-next-line no-restricted-syntax -- drawn and escaped by the server
  at.innerHTML = markup;
  return at;
}

export function over() {
  const form = make("section", { className: "form" });
  const against = make("div", { className: "over against", hidden: true, ariaLive: "polite" });
  const code = make("div", { className: "over code", hidden: true });

  /** @param {{ title: string, said: string, drawn: string } | null} told */
  function showForm(told) {
    form.hidden = !told;
    form.replaceChildren(...(told ? [make("h2", { textContent: told.title }), make("p", { textContent: told.said }), drawn(told.drawn)] : []));
  }

  /** @param {string[] | null} told */
  function showAgainst(told) {
    against.hidden = !told;
    // A figure and its unit stay on one line.
    against.replaceChildren(...(told ?? []).map((text) => make("p", { textContent: text.replace(/(\d) (?=(°Brix|in|lb|mm|N)[;.,])/g, "$1\u00a0") })));
  }

  /** @param {{ why?: string, picture?: string, address?: string } | null} told */
  function showCode(told) {
    code.hidden = !told;
    code.replaceChildren(...(told ? [make("p", { className: told.why ? "why" : "", textContent: told.why || "This view on your phone:" })] : []));
    if (told?.picture) code.append(drawn(told.picture), make("p", { className: "address", textContent: told.address }));
  }
  return { form, against, code, showForm, showAgainst, showCode };
}
