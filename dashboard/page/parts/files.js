// Files that come from the visitor's disk and go there, for every script of the page: it stands once, as `window.files`.
/** @import { Brought } from "../messages" */
const LARGEST = 120000; // bytes; a larger file is told, not sent

window.files = {
  async brought(input) {
    const [chosen] = input.files;
    if (!chosen) return null;
    const large = chosen.size > LARGEST;
    const bytes = large ? new Uint8Array() : new Uint8Array(await chosen.arrayBuffer());
    let text = "";
    for (let at = 0; at < bytes.length; at += 8192) text += String.fromCharCode(...bytes.subarray(at, at + 8192));
    input.value = ""; // the same file, mended, can be opened again
    return /** @type {Brought} */ ({ file: chosen.name, size: chosen.size, content: btoa(text) });
  },
  taken(el, name, content, type) {
    const link = Object.assign(document.createElement("a"), { href: URL.createObjectURL(new Blob([content], { type })), download: name });
    el.append(link);
    link.click();
    link.remove();
    setTimeout(() => URL.revokeObjectURL(link.href), 10000);
  },
};

export function render() {}
