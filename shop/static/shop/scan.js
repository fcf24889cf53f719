// A scanner is a keyboard that types fast and ends with Enter or Tab. Outside text fields its text becomes a
// "scan" event on the document; a page may take it (preventDefault), else whatever it names is opened.
import { isTyping } from "./keys.js";

const SLOWEST_MS = 60;
const SHORTEST = 3;
let text = "";
let last = 0;

export function scanned(code) {
  const event = new CustomEvent("scan", { detail: { text: code }, bubbles: true, cancelable: true });
  if (document.dispatchEvent(event)) open(code);
}

function open(code) {
  const form = document.getElementById("find");
  if (!form) return;
  const address = new URL(form.action, location.href);
  address.search = new URLSearchParams({ q: code });
  location.assign(address);
}

document.addEventListener("keydown", (event) => {
  if (event.ctrlKey || event.metaKey || event.altKey) return;
  // The event's own time, so that a page busy for a moment does not tear a scan apart.
  if (event.timeStamp - last > SLOWEST_MS) text = "";
  last = event.timeStamp;
  if (isTyping(event.target) || document.querySelector("dialog[open]")) {
    text = "";
    return;
  }
  if (event.key.length === 1) {
    text += event.key;
  } else if ((event.key === "Enter" || event.key === "Tab") && text.length >= SHORTEST) {
    event.preventDefault();
    event.stopPropagation();
    const code = text;
    text = "";
    scanned(code);
  }
}, true);
