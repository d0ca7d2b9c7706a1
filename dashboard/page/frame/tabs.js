// The tabs over the page. Arrows, Home and End walk along them; Enter or a press opens one, which the server then fills.
/** @import { Page, TabBar } from "../messages" */
/** @param {Page<TabBar>} page */
export function render({ model, el }) {
  const list = document.createElement("div");
  list.className = "tabs";
  list.setAttribute("role", "tablist");
  list.setAttribute("aria-label", "Parts of the page");
  const tabs = model.names.map((name, place) => {
    const tab = document.createElement("button");
    tab.type = "button";
    tab.setAttribute("role", "tab");
    tab.textContent = name;
    tab.addEventListener("click", () => {
      show(place);
      model.send_msg({ open: place });
    });
    return tab;
  });
  list.append(...tabs);
  el.append(list);

  function show(open) {
    tabs.forEach((tab, place) => {
      tab.setAttribute("aria-selected", String(place === open));
      tab.tabIndex = place === open ? 0 : -1;
    });
    intoSight(tabs[open]);
  }

  // Sideways only: what the browser does by itself may also scroll the page.
  function intoSight(tab) {
    const past = tab.offsetLeft + tab.offsetWidth - list.clientWidth;
    list.scrollLeft = Math.min(Math.max(list.scrollLeft, past), tab.offsetLeft);
  }

  list.addEventListener("keydown", (event) => {
    const here = tabs.findIndex((tab) => tab.matches(":focus"));
    const last = tabs.length - 1;
    const next = { ArrowRight: here === last ? 0 : here + 1, ArrowLeft: here === 0 ? last : here - 1, Home: 0, End: last }[event.key];
    if (next === undefined || event.ctrlKey || event.altKey || event.metaKey) return;
    event.preventDefault();
    tabs[next].focus({ preventScroll: true });
    intoSight(tabs[next]);
  });

  show(model.active);
  model.on("active", () => show(model.active));
  model.on("after_layout", () => intoSight(tabs[model.active]));
}
