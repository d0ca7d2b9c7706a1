// Back and forward walk through the choices. Panel writes each choice into the address but does not listen when the
// browser walks; here a walk is told to its Location, and the entry just walked to is not pushed a second time.
const push = history.pushState.bind(history);
const address = () => location.pathname + location.search + location.hash;
history.pushState = (state, title, url) =>
  url === address() ? history.replaceState(state, title, url) : push(state, title, url);

window.addEventListener("popstate", () => {
  for (const model of window.Bokeh.documents[0]._all_models.values()) {
    if (/Location$/.test(model.type)) model.search = location.search;
  }
});

export function render() {}
