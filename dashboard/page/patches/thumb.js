// A picture comes with no tool for drags active, so that a thumb that begins on it scrolls the page. Where a mouse presses one, its box
// is made ready, for the mouse alone: drags of a thumb are still the page's, on a device that has both.
const plot = Bokeh.Models.get("Plot").prototype.default_view.prototype;
const measured = plot._update_touch_action;
plot._update_touch_action = function () {
  measured.call(this);
  this.canvas.touch_action.replace(".bk-events { touch-action: manipulation; }");
};

const ready = new WeakSet();

function make(view) {
  const { toolbar } = view.model;
  const box = toolbar.tools.find((tool) => tool.type === "BoxSelectTool");
  if (!box) return;
  const bus = view.canvas.ui_event_bus;
  for (const name of ["on_pan_start", "on_pan", "on_pan_end"]) {
    const whole = bus[name];
    bus[name] = (event) => { if (event.native?.pointerType !== "touch") whole(event); };
  }
  toolbar.setv({ active_drag: box }, { sync: false }); // of this browser alone
}

// A press comes out of every shadow root; that a pointer came upon something does not.
document.addEventListener("pointerdown", (event) => {
  if (event.pointerType !== "mouse") return;
  const at = event.composedPath().find((one) => one instanceof Element && one.classList.contains("bk-events"));
  if (!at || ready.has(at)) return;
  const view = window.Bokeh.index.query_one((one) => one.model.type === "Figure" && one.canvas?.events_el === at);
  if (!view) return;
  ready.add(at);
  make(view);
}, true);

export function render() {}
