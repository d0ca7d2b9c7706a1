// A file of weather from the visitor's disk, sent in pieces: one message stays small, so that nobody else waits for it.
/** @import { Page, WeatherBringing, WeatherTold, WeatherAct } from "../messages" */
const PIECE = 80000; // bytes of a message, before base 64
const LARGEST = 1500000; // bytes; a larger file is told, not sent

/** @type {(tag: string, set?: object, ...inside: (string | Node)[]) => any} */
const make = (tag, set = {}, ...inside) => {
  const at = Object.assign(document.createElement(tag), set);
  at.append(...inside);
  return at;
};

/** @param {Page<WeatherBringing>} page */
export function render({ model, el }) {
  /** @type {(message: WeatherAct) => void} */
  const send = (message) => model.send_msg(message);
  const button = (textContent, act) => {
    const at = make("button", { type: "button", textContent });
    at.addEventListener("click", act);
    return at;
  };
  const input = make("input", { type: "file", accept: ".csv,.txt" });
  input.addEventListener("change", async () => {
    const [chosen] = input.files;
    if (!chosen) return;
    const large = chosen.size > LARGEST;
    const bytes = large ? new Uint8Array() : new Uint8Array(await chosen.arrayBuffer());
    input.value = ""; // the same file, mended, can be opened again
    const of = Math.max(1, Math.ceil(bytes.length / PIECE));
    for (let at = 0; at < of; at += 1) {
      let text = "";
      const piece = bytes.subarray(at * PIECE, (at + 1) * PIECE);
      for (let byte = 0; byte < piece.length; byte += 8192) text += String.fromCharCode(...piece.subarray(byte, byte + 8192));
      send({ act: "piece", file: chosen.name, size: chosen.size, at, of, content: btoa(text) });
    }
  });
  const label = make("label", {}, make("span", { textContent: "Open a file of your own weather (.csv; at most 1.5 MB)" }), input);
  const about = make("p", { className: "quiet" });
  const ready = button("Try an invented warmer place", () => send({ act: "try" }));
  const off = button("Take my weather off", () => send({ act: "off" }));
  const stop = button("Stop", () => send({ act: "stop" }));
  about.setAttribute("role", "status");
  const faults = make("div", { className: "faults" });
  faults.setAttribute("role", "alert");
  el.append(make("div", { className: "line" }, label, ready, off), about, stop, faults);

  function draw() {
    /** @type {WeatherTold} */
    const now = JSON.parse(model.told);
    about.textContent = now.about;
    faults.replaceChildren(...now.faults.map((textContent) => make("p", { textContent })));
    off.hidden = !now.brought;
    stop.hidden = !now.reading;
    ready.hidden = now.brought || !now.sample || now.reading;
  }
  draw();
  model.on("told", draw);
}
