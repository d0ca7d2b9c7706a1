// What the browser keeps: each sample under a name of its own, after every key, in two places. localStorage is read at once and tells
// other tabs, but is written to the disk only seconds later; IndexedDB outlives a browser that is killed. The newer copy counts.
/** @import { Sample, Store } from "./bench" */

const SOON = 2000, AGAIN = 1000; // milliseconds: how long the copy on the disk is waited for, and how often other tabs are looked at

/** @param {string} text @returns {Sample | null} */
function parsed(text) {
  try {
    const one = JSON.parse(text);
    return one && typeof one.cultivar === "string" && typeof one.rev === "number" && one.cells ? one : null;
  } catch { return null; }
}

/** @param {string} day @param {string} cultivar @param {number} pick @returns {Sample} */
const unwritten = (day, cultivar, pick) =>
  ({ day, cultivar, pick, looked: false, picked: false, cells: {}, typed: null, undo: [], saved: "", gone: false, rev: 0 });

/** `changed` is called after each change, of this tab or another; `turn` with the number of the page whose turn it is. @param {string} prefix @param {() => void} changed
 * @param {(cultivar: string, day: string) => number} pickOf @param {(page: string | undefined) => void} turn
 * @returns {Store} */
export function keeping(prefix, changed, pickOf, turn) {
  /** @type {Map<string, Sample>} */
  const samples = new Map();
  const said = { kept: true, lasting: true, waiting: 0 };
  const owed = new Set(), unsent = new Set();
  /** @type {IDBDatabase | null} */
  let database = null;
  let mine = "";
  /** @type {() => void} */
  let begin;
  const ready = /** @type {Promise<void>} */ (new Promise((done) => { begin = done; setTimeout(done, SOON); }));

  function take(id, text) {
    const one = text === null ? null : parsed(text), held = samples.get(id);
    if (one && (!held || one.rev > held.rev)) samples.set(id, one);
  }
  function write(id) { // what could not be written before is tried again
    owed.add(id);
    try {
      for (const one of owed) {
        localStorage.setItem(prefix + one, JSON.stringify(samples.get(one)));
        owed.delete(one);
      }
      said.kept = true;
    } catch { said.kept = false; }
    unsent.add(id);
    send();
  }
  function send() {
    if (!database) return;
    const ids = [...unsent];
    unsent.clear();
    try {
      const going = database.transaction("samples", "readwrite");
      for (const id of ids) going.objectStore("samples").put(JSON.stringify(samples.get(id)), prefix + id);
      said.waiting++;
      const over = (lasting) => { said.waiting--; said.lasting = lasting; changed(); };
      going.oncomplete = () => over(true);
      going.onabort = () => { ids.forEach((id) => unsent.add(id)); over(false); };
    } catch { ids.forEach((id) => unsent.add(id)); said.lasting = false; }
  }
  /** @param {string} page */
  function stake(page) {
    mine = page;
    try { database?.transaction("samples", "readwrite").objectStore("samples").put(mine, `${prefix}!`); } catch { /* then only localStorage tells */ }
  }
  function open() {
    const failed = () => { said.lasting = false; begin(); changed(); };
    try {
      const asked = indexedDB.open("orchard-slate-bench", 1);
      asked.onupgradeneeded = () => asked.result.createObjectStore("samples");
      asked.onerror = failed;
      asked.onsuccess = () => {
        const found = asked.result.transaction("samples").objectStore("samples");
        const range = IDBKeyRange.bound(prefix, prefix + "\uffff"), names = found.getAllKeys(range), texts = found.getAll(range);
        texts.onerror = failed;
        texts.onsuccess = () => {
          database = asked.result;
          const before = new Map([...samples].map(([id, one]) => [id, one.rev]));
          names.result.forEach((name, n) => take(String(name).slice(prefix.length), texts.result[n]));
          for (const [id, one] of samples) if (one.rev !== before.get(id)) write(id); // the other copy is behind
          for (const id of samples.keys()) if (!names.result.includes(prefix + id)) unsent.add(id);
          if (unsent.size) send();
          if (mine) stake(mine);
          begin();
          changed();
        };
      };
    } catch { failed(); }
  }

  try {
    localStorage.setItem(prefix + "?", "");
    localStorage.removeItem(prefix + "?");
    for (const name of Object.keys(localStorage)) if (name.startsWith(prefix)) take(name.slice(prefix.length), localStorage.getItem(name));
  } catch { said.kept = false; }
  addEventListener("storage", (event) => {
    if (event.key === null) samples.forEach((_, id) => write(id)); // somebody emptied it
    else if (event.key.startsWith(prefix)) take(event.key.slice(prefix.length), event.newValue);
    changed();
  });
  /** What another page wrote is looked for, too: a browser that is busy may not tell of it. */
  function look() {
    const revs = () => [...samples.values()].reduce((sum, one) => sum + one.rev, 0);
    const before = revs();
    try {
      for (const name of Object.keys(localStorage)) if (name.startsWith(prefix)) take(name.slice(prefix.length), localStorage.getItem(name));
    } catch { /* the copy on the disk may be there */ }
    return /** @type {Promise<void>} */ (new Promise((done) => {
      const told = () => { if (revs() !== before) changed(); done(); };
      try {
        const asked = database.transaction("samples").objectStore("samples"), whose = asked.get(`${prefix}!`);
        whose.onsuccess = () => turn(whose.result);
        const found = asked.getAll(IDBKeyRange.bound(prefix, prefix + "\uffff"));
        found.onsuccess = () => { found.result.forEach((text) => { const one = parsed(text); if (one) take(`${one.day}/${one.cultivar}`, text); }); told(); };
        found.onerror = told;
      } catch { told(); }
    }));
  }
  addEventListener("focus", look);
  document.addEventListener("visibilitychange", look);
  setInterval(() => { if (!document.hidden) look(); }, AGAIN);
  open();

  return {
    samples, said, ready, look, stake,
    change(id, act) {
      try { take(id, localStorage.getItem(prefix + id)); } catch { /* memory has it */ }
      const cut = id.indexOf("/"), day = id.slice(0, cut), cultivar = id.slice(cut + 1);
      const one = structuredClone(samples.get(id) ?? unwritten(day, cultivar, pickOf(cultivar, day)));
      act(one);
      one.rev++;
      samples.set(id, one);
      write(id);
      changed();
    },
  };
}
