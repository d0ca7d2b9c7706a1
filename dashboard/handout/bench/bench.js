// The bench page: the walk beside or before the bench, the day that is shown, and the file of that day.
/** @import { Differs, Known, Sample } from "./bench" */
import { alone } from "./alone.js";
import { ask, pageName } from "./corrected.js";
import { counted, dayLabel, made } from "./drawn.js";
import { content, handOver, sheet, unsaved } from "./filed.js";
import { keeping } from "./kept.js";
import { measuring } from "./measuring.js";
import { walking } from "./walking.js";

(function () {
  /** @type {Known} */
  const known = JSON.parse(document.getElementById("known").textContent);
  const at = (id) => document.getElementById(id);
  const day = /** @type {HTMLInputElement} */ (at("day"));
  const now = new Date(), today = new Date(now.getTime() - now.getTimezoneOffset() * 60_000).toISOString().slice(0, 10);
  Object.assign(day, { value: today > known.day && today <= known.last ? today : known.day, max: known.last });
  let shown = day.value, drawing = false;

  const pickOf = (cultivar, on) => (known.cultivars.find((one) => one.name === cultivar)?.pick ?? 1) +
    [...store.samples.values()].filter((one) => one.cultivar === cultivar && one.day < on && one.day >= known.day && !one.gone && Object.keys(one.cells).length).length;
  const prefix = ["orchard-slate bench", known.trial, known.site, known.units, ""].join("/");
  const store = keeping(prefix, () => {
    if (drawing) return;
    drawing = true;
    queueMicrotask(() => { drawing = false; draw(); });
  }, pickOf, (page) => only.heard(page));
  const opened = () => { const held = location.hash.startsWith("#") ? location.hash.slice(1) : ""; try { return decodeURIComponent(held); } catch { return ""; } };
  const walk = walking(at("walk"), known, store, { today, day: () => shown, open: (name) => { if (opened() === name) show(); else location.hash = encodeURIComponent(name); }, opened });
  const bench = measuring(at("bench"), known, store, { leave });

  function leave() {
    if (!bench.settle()) return;
    if (opened()) history.pushState(null, "", location.pathname + location.search);
    show();
    document.querySelector("main").scrollTop = 0;
    if (matchMedia("(pointer: fine)").matches) walk.find();
  }
  function show() {
    const name = opened();
    if (only.here() && bench.place.id && bench.place.id !== `${shown}/${name}`) bench.settle(); // also by the browser's own way back
    document.body.dataset.view = name ? "bench" : "walk";
    at("bench").hidden = !name;
    if (name) bench.open(`${shown}/${name}`);
    else bench.place.id = "";
    draw();
  }

  // ---- one page at a time
  const only = alone(`${prefix}!`, stand, store.stake);
  function stand() {
    document.querySelector("main").inert = at("state").inert = day.disabled = !only.here();
    at("elsewhere").hidden = only.here();
  }
  at("here").addEventListener("click", () => {
    only.claim();
    store.look().then(() => { stand(); show(); }); // what the other page wrote stands here before anything is typed
  });

  // ---- the file
  const samples = (on) => [...store.samples].filter(([, one]) => one.day === on && !one.gone && (one.looked || Object.keys(one.cells).length));
  let saved = "", out = false, sending = false, asked = /** @type {Differs | null} */ (null);
  /** The samples of the day that is shown, all that is typed taken; null where that cannot be. @param {string} not */
  function settled(not) {
    if (!bench.settle()) {
      saved = `${not} ${bench.place.refused}`;
      draw();
      return null;
    }
    for (const [id, one] of samples(shown)) if (one.typed) bench.finish(id);
    return samples(shown);
  }
  const file = () => `bench ${known.site} ${shown}.csv`.replace(/[\\/:*?"<>|]/g, "-");
  const mark = (held) => { for (const [id, one] of held) if (Object.keys(one.cells).length) store.change(id, (sample) => { sample.saved = content(one); }); };
  function save() {
    const held = settled("Not saved.");
    if (!held) return;
    handOver(file(), sheet(known, held.map(([, one]) => one), shown));
    if (!known.send) mark(held); // where it can be sent, a file is a copy
    saved = `Look for ${file()} among your downloads.`;
    draw();
  }
  /** What is on its way may be typed at meanwhile: only what was sent counts as sent, once the server says that it is kept. @param {string} [right] the
   * values that replace what was sent, as the server called them */
  async function send(right = "") {
    const held = sending ? null : settled("Not sent."), on = shown;
    if (!held) return;
    sending = true;
    saved = "Sending.";
    asked = null;
    draw();
    const [told, status] = await fetch(`${known.send}?${new URLSearchParams({ name: file(), page: pageName(prefix), right })}`, { method: "POST", body: sheet(known, held.map(([, one]) => one), shown) })
      .then(async (answer) => [await answer.json(), answer.status]).catch(() => [{ said: "The server cannot be reached. All is kept here; send it later." }, 0]);
    sending = false;
    out = status === 401;
    if (told.kept === true) mark(held);
    if (told.kept === true && told.differs) asked = { ...told.differs, day: on };
    saved = told.kept === true ? told.said : `Not sent. ${told.said}`;
    draw();
  }

  /** @param {boolean} replace */
  function answered(replace) {
    const { day: on, whole } = asked;
    asked = null;
    if (replace && on !== shown) turn(on);
    if (replace) send(whole);
    else draw();
  }

  // ---- what stands above and below
  function draw() {
    walk.draw();
    bench.draw();
    const { kept, lasting, waiting } = store.said, waits = [...store.samples.values()].filter(unsaved), here = waits.filter((one) => one.day === shown).length;
    const days = [...new Set(waits.map((one) => one.day))].filter((one) => one !== shown).sort();
    const button = (words, act, set = {}) => { const one = made("button", { type: "button", ...set }, words); one.addEventListener("click", act); return one; };
    const alarmed = !kept, box = at("alarm");
    if (box.hidden === alarmed) {
      box.hidden = !alarmed;
      box.replaceChildren(...(alarmed ? ["This browser keeps nothing: its storage is full or switched off. Save the file before you close this page. ", button("Save the file", save)] : []));
    }
    ask(at("differs"), asked, answered);
    const told = [
      here ? `${counted(here, "sample")} not ${known.send ? "sent" : "saved in a file"} yet.` : `Nothing waits to be ${known.send ? "sent" : "saved"}.`,
      ...(kept ? [lasting ? "Kept in this browser." : "Kept in this browser, but a crash may lose the last seconds."] : []), saved,
    ].join(" ");
    const half = samples(shown).filter(([id, one]) => one.typed && id !== bench.place.id).map(([, one]) => [one.cultivar, `${bench.called(one.typed.at)} of ${one.cultivar} is half typed and in no file`]);
    const line = `${told} ${days} ${half} ${out} ${sending}`;
    if (at("state").dataset.line !== line) {
      at("state").dataset.line = line;
      at("state").replaceChildren(made("span", { role: "status" }, told),
        ...half.map(([cultivar, words]) => button(words, () => { location.hash = encodeURIComponent(cultivar); }, { className: "half" })),
        ...(out ? [made("a", { href: known.send.replace(/[^/]*$/, "login"), target: "_blank" }, "Log in in another tab")] : []),
        ...days.map((one) => button(`${dayLabel(one)} is not ${known.send ? "sent" : "saved"} yet`, () => turn(one))),
        button(`Save the file of ${dayLabel(shown)}`, save, { className: known.send ? "" : "next", id: "save" }),
        ...(known.send ? [button(`Send ${dayLabel(shown)}`, () => send(), { className: "next", id: "send", disabled: sending })] : []));
    }
    document.documentElement.dataset.written = String(waiting === 0); // all is on its way to the disk
  }
  function turn(to) {
    if (!bench.settle()) return;
    shown = day.value = to;
    if (opened()) history.pushState(null, "", location.pathname + location.search);
    show();
  }
  day.addEventListener("change", () => { if (day.value && day.value <= known.last) turn(day.value); else day.value = shown; });
  addEventListener("hashchange", show);
  addEventListener("popstate", show);
  addEventListener("beforeunload", (event) => { if (!store.said.kept && [...store.samples.values()].some(unsaved)) event.preventDefault(); });
  // A button that was pressed with a finger or the mouse does not take the keys: Enter of a gauge would press it again.
  addEventListener("mousedown", (event) => { if (event.target instanceof Element && event.target.closest("button")) event.preventDefault(); });
  addEventListener("keydown", (event) => {
    const on = event.target instanceof HTMLElement ? event.target : document.body;
    if (!only.here() || !opened() || on.matches("select, input:not([type=checkbox])") || (on.matches("button, a") && ["Enter", " "].includes(event.key))) return;
    if (bench.pressed(event)) event.preventDefault();
  });
  store.ready.then(show); // nothing is typed onto the older of two copies
})();
