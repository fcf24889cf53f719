// A scanner is a keyboard that types fast and ends with Enter or Tab. Outside text fields its text becomes a
// "scan" event on the document; a page may take it (preventDefault), else whatever it names is opened.
// Into a field for a number it is typed by mistake: where the page takes it, the field gets its number back.
import { isTyping } from "./keys.js";

const SLOWEST_MS = 60;
const SHORTEST = 3;
const IN_A_NUMBER = { shortest: 6, digits: 8 }; // a hand types no eight digits so fast
let text = "";
let last = 0;
let source = null; // the field for a number that the burst goes into, and what it said before
let before = "";

export function scanned(code) {
  const event = new CustomEvent("scan", { detail: { text: code }, bubbles: true, cancelable: true });
  if (document.dispatchEvent(event)) open(code);
}

const isCode = (typed) => typed.length >= (/^[\d.,-]*$/.test(typed) ? IN_A_NUMBER.digits : IN_A_NUMBER.shortest);

function taken(field) {
  const typed = field.value;
  field.value = before;
  const event = new CustomEvent("scan", { detail: { text }, bubbles: true, cancelable: true });
  const isTaken = !document.dispatchEvent(event);
  if (!isTaken) field.value = typed; // the form says what is wrong with it
  return isTaken;
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
  const number = event.target.matches?.("input[inputmode]") ? event.target : null;
  if (event.timeStamp - last > SLOWEST_MS || number !== source) {
    text = "";
    source = number;
    before = number?.value;
  }
  last = event.timeStamp;
  if ((isTyping(event.target) && !number) || document.querySelector("dialog[open]")) {
    text = "";
    return;
  }
  if (number && (event.key === "Enter" || event.key === "Tab")) {
    if (isCode(text) && taken(number)) {
      event.preventDefault();
      event.stopPropagation();
    }
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
