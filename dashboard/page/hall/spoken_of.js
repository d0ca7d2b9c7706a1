// The cultivar that is spoken of: its name, where it stands, its fruit to scale, its figures and what they rest on.
import { make, pairs } from "./made.js";

// From so many letters on, a name is written smaller.
const LONG = { long: 14, longer: 28, longest: 80 };

export function spokenOf() {
  const name = make("h2", { className: "name" });
  const kept = make("span", { className: "kept" });
  const [place, why, picked, rests] = ["place", "why", "picked", "rests"].map((className) => make("p", { className }));
  const fruit = make("div", { className: "fruit" });
  const [figures, stands] = ["figures", "stands"].map((className) => make("dl", { className }));
  const spot = make("section", { className: "spot" }, name, place, why, stands, make("div", { className: "beside" }, fruit, figures), picked, rests);
  spot.setAttribute("aria-live", "polite");
  let before; // who was spoken of before

  /** @param {any} said what `told.spoken_of` gives, or nothing */
  function show(said) {
    spot.classList.toggle("nobody", !said);
    if (said) {
      name.replaceChildren(said.name, kept);
      for (const [look, letters] of Object.entries(LONG)) name.classList.toggle(look, said.name.length > letters);
      kept.textContent = said.kept ? "★" : "";
      kept.setAttribute("aria-label", said.kept ? "on my slate" : "");
      place.textContent = `${said.place} · ${said.kind}`;
      // eslint-disable-next-line no-restricted-syntax -- drawn and escaped by the server
      fruit.innerHTML = said.fruit;
      fruit.append(make("p", { className: "scale", textContent: said.scale }));
      pairs(figures, said.figures.map(({ label, value, between }) => [label, value, between]));
      pairs(stands, said.stands);
      why.textContent = said.why;
      picked.textContent = `Picked: ${said.picked}`;
      rests.textContent = [said.rests, said.caution].filter(Boolean).join(". ");
      rests.style.setProperty("--seasons", said.seasons);
    } else {
      name.textContent = "No cultivar to speak of";
      for (const part of [place, why, picked, rests, fruit, figures, stands]) part.replaceChildren();
    }
    if (said?.name !== before) spot.scrollTop = 0;
    before = said?.name;
  }
  return { spot, show };
}
