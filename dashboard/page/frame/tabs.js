// The tabs over the page; on a phone along its lower edge, the less used behind a word. Arrows, Home and End walk along them; Enter or a
// press opens one, which the server then fills.
/** @import { Page, TabBar } from "../messages" */
/** @param {Page<TabBar>} page */
export function render({ model, el }) {
  const make = (tag, set) => Object.assign(document.createElement(tag), set);
  const bar = make("div", { className: "bar" });
  const list = make("div", { className: "tabs" });
  list.setAttribute("role", "tablist");
  list.setAttribute("aria-label", "Parts of the page");
  const others = make("div", { className: "others" });
  const more = make("button", { type: "button", className: "more", textContent: "More" });
  const tabs = model.names.map((name, place) => {
    const tab = make("button", { type: "button", textContent: name });
    tab.setAttribute("role", "tab");
    tab.addEventListener("click", () => {
      fold(false);
      show(place);
      model.send_msg({ open: place });
    });
    return tab;
  });
  const atHand = new Set(model.first.length ? model.first : tabs.keys());
  // In their own order on a wide screen, for whoever hears them, too.
  const narrow = matchMedia(`(max-width: ${model.narrow}px)`);
  function arrange() {
    others.replaceChildren(...tabs.filter((_, place) => narrow.matches && !atHand.has(place)));
    list.replaceChildren(...tabs.filter((tab) => tab.parentNode !== others), others);
  }
  arrange();
  narrow.addEventListener("change", arrange);
  bar.append(list, ...(atHand.size < tabs.length ? [more] : []));
  el.append(bar);

  function fold(open) {
    others.classList.toggle("open", open);
    more.classList.toggle("open", open);
    more.setAttribute("aria-expanded", String(open));
  }
  fold(false);
  more.addEventListener("click", () => {
    fold(!others.classList.contains("open"));
    if (!others.classList.contains("open")) return;
    const first = tabs.find((tab) => others.contains(tab) && tab.tabIndex === 0) ?? others.querySelector("button");
    first?.focus({ preventScroll: true });
  });
  const beside = (event) => { if (!event.composedPath().includes(el)) fold(false); };
  document.addEventListener("pointerdown", beside);
  model.on("remove", () => {
    document.removeEventListener("pointerdown", beside);
    narrow.removeEventListener("change", arrange);
  });

  function show(open) {
    tabs.forEach((tab, place) => {
      tab.setAttribute("aria-selected", String(place === open));
      tab.tabIndex = place === open ? 0 : -1;
    });
    more.classList.toggle("chosen", !atHand.has(open));
    more.textContent = atHand.has(open) ? "More" : `${model.names[open]} ▴`;
    intoSight(tabs[open]);
  }

  // Sideways only: what the browser does by itself may also scroll the page.
  function intoSight(tab) {
    const past = tab.offsetLeft + tab.offsetWidth - list.clientWidth;
    list.scrollLeft = Math.min(Math.max(list.scrollLeft, past), tab.offsetLeft);
  }

  list.addEventListener("keydown", (event) => {
    if (event.key === "Escape" && others.classList.contains("open")) {
      fold(false);
      more.focus();
    }
    const seen = tabs.filter((tab) => tab.checkVisibility());
    const here = seen.findIndex((tab) => tab.matches(":focus"));
    const last = seen.length - 1;
    const next = { ArrowRight: here === last ? 0 : here + 1, ArrowLeft: here === 0 ? last : here - 1, Home: 0, End: last }[event.key];
    if (next === undefined || event.ctrlKey || event.altKey || event.metaKey) return;
    event.preventDefault();
    seen[next].focus({ preventScroll: true });
    intoSight(seen[next]);
  });

  // A tab that is opened from far down another is begun at its top, once what goes has gone.
  const round = (at) => /** @type {ShadowRoot} */ (at.getRootNode()).host;
  function fromTheTop() {
    const whole = /** @type {HTMLElement} */ (round(round(el)));
    if (whole.getBoundingClientRect().top >= 52) return;
    whole.style.scrollMarginTop = "52px";
    whole.scrollIntoView();
  }

  show(model.active);
  model.on("active", () => { show(model.active); setTimeout(fromTheTop, 60); });
  model.on("after_layout", () => intoSight(tabs[model.active]));
}
