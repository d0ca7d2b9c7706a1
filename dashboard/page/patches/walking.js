// Mends of the page the libraries do not make yet.
//
// Back and forward walk through the choices. Panel writes each choice into the address but does not listen when the
// browser walks; here a walk is told to its Location, and the entry just walked to is not pushed a second time. A market
// under change writes many addresses a second: those that follow each other at once are one step.
const push = history.pushState.bind(history);
const address = () => location.pathname + location.search + location.hash;
const AT_ONCE = 1000; // milliseconds
const others = (search) => search.split("&").filter((part) => !part.startsWith("own=")).join("&");
let lastChange = -AT_ONCE;
history.pushState = (state, title, url = address()) => {
  const changed = others(url) === others(address()) && url !== address();
  const same = url === address() || (changed && performance.now() - lastChange < AT_ONCE);
  if (changed) lastChange = performance.now();
  return same ? history.replaceState(state, title, url) : push(state, title, url);
};

window.addEventListener("popstate", () => {
  lastChange = -AT_ONCE;
  for (const model of window.Bokeh.documents[0].all_models) {
    if (/Location$/.test(model.type)) model.search = location.search;
  }
});

// A picture in a tab that is shown again is measured before it is laid out (panel-material-ui issue 548), which throws
// and can blank the page: wait for its layout.
const plot = Bokeh.Models.get("Plot").prototype.default_view.prototype;
for (const step of ["_measure_layout", "_after_layout"]) {
  const whole = plot[step];
  plot[step] = function () {
    if (this.layout != null) whole.call(this);
  };
}

// A picture that gets its first limit lines is laid out before they have views, which throws: it is laid out again anyway
// as soon as they have.
const laid = plot._update_layout;
plot._update_layout = function () {
  if (this.model.center.every((part) => this.renderer_views.has(part))) laid.call(this);
};

// The libraries lay out the whole page anew for each part of it that changes or gets another size, and paint its pictures
// each time. Here it is laid out once, when all that changes in one go has changed.
const box = Object.getPrototypeOf(plot);
const shell = Bokeh.Models.get("panel.models.esm.ReactiveESM").prototype.default_view.prototype;
const { compute_layout, invalidate_layout, has_finished } = shell;
const waiting = new Map(); // by page: whether its parts are to be measured by new rules, too

function settle(page) {
  const anew = waiting.get(page);
  waiting.delete(page);
  if (!page.el.isConnected) return;
  if (anew) page.update_layout();
  compute_layout.call(page);
  page.notify_finished();
}

function soon(page, anew) {
  if (!waiting.has(page)) queueMicrotask(() => settle(page));
  waiting.set(page, anew || waiting.get(page));
}

shell.compute_layout = function () {
  this.is_managed ? compute_layout.call(this) : soon(this, false);
};
shell.invalidate_layout = function () {
  this.is_managed ? invalidate_layout.call(this) : soon(this, true);
};
shell.has_finished = function () {
  return !waiting.has(this) && has_finished.call(this);
};

// What gets another size is laid out by the browser; the libraries need to do it only where a picture no longer fits its frame.
const outgrown = (view) => "canvas_view" in view
  ? view.layout == null || view.bbox.width !== view.layout.bbox.width || view.bbox.height !== view.layout.bbox.height
  : view.child_views.some(outgrown);
const resized = box._after_resize;
box._after_resize = function () {
  if (outgrown(this)) resized.call(this);
};

export function render() {}
