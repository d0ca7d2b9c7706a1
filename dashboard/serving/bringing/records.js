// Files dropped or chosen go up one after the other, each with its progress; what is being read is asked after; a form half filled is kept.

/** @param {string} id */
const at = (id) => document.getElementById(id);

// ---- files
const drop = at("drop"), input = /** @type {HTMLInputElement} */ (at("files")), said = at("said");

/** @param {string} words */
function tell(words) {
  said.textContent = words;
  said.hidden = !words;
}

/** One request; gives back what the server says, or a sentence why not. @param {string} address @param {File | null} file
 * @param {(share: number) => void} [moved] @returns {Promise<{status: number, said?: string, tray?: string}>} */
function send(address, file, moved = () => {}) {
  return new Promise((done) => {
    const asked = new XMLHttpRequest();
    asked.open("POST", address);
    asked.upload.onprogress = (event) => { if (event.lengthComputable) moved(event.loaded / event.total); };
    asked.onload = () => { try { done({ status: asked.status, ...JSON.parse(asked.responseText) }); } catch { done({ status: asked.status, said: asked.responseText }); } };
    asked.onerror = () => done({ status: 0, said: "The server cannot be reached, or does not take this file. Your file is as it was; try again." });
    asked.send(file);
  });
}

/** @param {File[]} files */
async function bring(files) {
  if (!files.length || input.disabled) return;
  tell("");
  input.disabled = true;
  const home = drop.dataset.home, list = at("going");
  const fresh = drop.dataset.tray ? { status: 200, tray: drop.dataset.tray } : await send(`${home}/trays`, null);
  let taken = 0, refused = fresh.status === 200 ? "" : fresh.said;
  for (const file of refused ? [] : files) {
    const line = document.createElement("li"), bar = document.createElement("progress"), name = document.createElement("span");
    name.textContent = file.name;
    name.className = "grow";
    bar.max = 1;
    bar.value = 0;
    bar.setAttribute("aria-label", file.name);
    line.append(name, bar);
    list.append(line);
    const told = await send(`${home}/trays/${fresh.tray}/files?name=${encodeURIComponent(file.name)}`, file, (share) => { bar.value = share; });
    if (told.status === 200) { taken++; bar.value = 1; } else { refused = `${refused} ${told.said}`.trim(); bar.replaceWith("not taken"); }
  }
  input.disabled = false;
  input.value = "";
  if (refused) tell(refused);
  if (!taken) {
    if (fresh.tray && !drop.dataset.tray) await send(`${home}/trays/${fresh.tray}/leave`, null);
    return;
  }
  drop.dataset.tray = fresh.tray;
  if (!refused) return void go(`${home}/trays/${fresh.tray}`);
  const on = document.createElement("button");
  on.className = "next";
  on.textContent = "Read the others";
  on.onclick = () => go(`${home}/trays/${fresh.tray}`);
  said.append(" ", on);
}
/** @param {string} address */
async function go(address) {
  await send(`${address}/read`, null);
  location.href = address;
}
if (drop) {
  input.addEventListener("change", () => bring([...input.files]));
  for (const kind of ["dragenter", "dragover"]) drop.addEventListener(kind, (event) => { event.preventDefault(); drop.classList.add("over"); });
  for (const kind of ["dragleave", "drop"]) drop.addEventListener(kind, () => drop.classList.remove("over"));
  drop.addEventListener("drop", (event) => { event.preventDefault(); bring([...event.dataTransfer.files]); });
  // Beside the place a browser would open the file and leave the page.
  for (const kind of ["dragover", "drop"]) addEventListener(kind, (event) => event.preventDefault());
}

// ---- what is being read
const doing = at("doing");
async function follow() {
  const asked = await fetch(doing.dataset.ask).catch(() => null);
  if (asked && (asked.status !== 200 || !(await asked.clone().json()).what)) return void location.reload();
  if (asked) {
    const { seconds, ahead } = await asked.json();
    at("seconds").textContent = `${seconds} s${ahead ? `, ${ahead} before it` : ""}.`;
  }
  setTimeout(follow, 700);
}
if (doing) follow();

// ---- a form half filled
const form = /** @type {HTMLFormElement | null} */ (document.querySelector("form.questions"));
if (form) {
  const name = `orchard-slate ${form.getAttribute("action")} ${form.dataset.turn}`;
  try {
    for (const [field, value] of Object.entries(JSON.parse(localStorage.getItem(name) ?? "{}")))
      for (const one of form.querySelectorAll(`[name="${CSS.escape(field)}"]`))
        if (one instanceof HTMLInputElement && ["radio", "checkbox"].includes(one.type)) one.checked = one.value === value;
        else if (one instanceof HTMLInputElement || one instanceof HTMLSelectElement) one.value = value;
  } catch { /* nothing was kept */ }
  form.addEventListener("input", () => {
    const held = Object.fromEntries([...new FormData(form)].filter(([field]) => field !== "turn"));
    try { localStorage.setItem(name, JSON.stringify(held)); } catch { /* this browser keeps nothing */ }
  });
  // Whoever writes a word of their own means it.
  form.addEventListener("input", (event) => {
    const one = event.target;
    if (!(one instanceof HTMLInputElement) || ["radio", "checkbox"].includes(one.type) || !one.value) return;
    const own = [...one.closest(".choices")?.querySelectorAll("input[type=radio]") ?? []].pop();
    if (own instanceof HTMLInputElement && own.value === "a value of your own") own.checked = true;
  });
}
// Whoever ticks a value means one by one.
for (const one of document.querySelectorAll("form.differing input[type=checkbox]"))
  one.addEventListener("input", () => {
    const singly = one.closest("fieldset").querySelector("input[type=radio][value='one by one']");
    if (singly instanceof HTMLInputElement) singly.checked = true;
  });
