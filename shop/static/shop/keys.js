// One key, one deed: `/` finds, `?` lists the keys, and whatever the page names with data-key.
//
// <button data-key="h" data-key-label="hold">…</button>   pressing h clicks it (a field is focused instead)
// onKey("s", "take the substitute", () => …)               for deeds without a control of their own
// data-key-group="quote" on a part of the page, or onKey(…, { group: "quote" }): where `?` lists its keys
//
// A key acts only outside text fields and only when no second one follows at once: a burst is a scanner. What can
// be undone, or only looks elsewhere, does not wait for that: data-key-now, or onKey(…, { now: true }). Whatever
// leads into a text field waits, or the rest of a code would be typed there.
// Keys can be turned off in the list of keys (WCAG 2.1.4); the choice stays in this browser.

const TOGETHER_MS = 35; // a scanner sends a key every 1 to 20 ms, a held key repeats every 33, a hand needs 60
const OFF = "kitwright-keys-off";
const bound = new Map();
let waiting = null;
let last = 0;
let acted = ""; // the key that has just acted without waiting

export function onKey(key, label, act, { now = false, group = "page" } = {}) {
  bound.set(key, { label, act, now, group });
  return () => bound.delete(key);
}

export function isTyping(target) {
  if (!(target instanceof Element)) return false;
  if (target.closest("[contenteditable]")) return true;
  const field = target.closest("input, textarea, select");
  return Boolean(field) && !["checkbox", "radio", "button", "submit", "range"].includes(field.type);
}

export function keysAreOff() {
  return localStorage.getItem(OFF) === "1";
}

function controlFor(key) {
  const dialog = document.querySelector("dialog[open]");
  const found = [...(dialog ?? document).querySelectorAll("[data-key]")];
  return found.find((control) => control.dataset.key === key && control.getClientRects().length > 0);
}

function act(key) {
  const control = controlFor(key);
  if (control) {
    if (control.matches("input, textarea, select")) {
      control.focus();
      control.select?.();
    } else control.click();
    return;
  }
  if (isBound(key)) bound.get(key).act();
}

function actsNow(key) {
  const control = controlFor(key);
  return control ? control.hasAttribute("data-key-now") : bound.get(key).now;
}

// A code that begins with such a key has done what the key does, and that must not stay unseen.
function tellScanned(key) {
  const label = controlFor(key)?.dataset.keyLabel ?? bound.get(key)?.label;
  document.dispatchEvent(new CustomEvent("scanned:key", { detail: { key, label } }));
}

function known(key) {
  return Boolean(controlFor(key)) || isBound(key);
}

function isBound(key) {
  const open = document.querySelector("dialog[open]");
  return bound.has(key) && (!open || (key === "?" && open.id === "keys"));
}

document.addEventListener("keydown", (event) => {
  const now = event.timeStamp; // Its own time: a page busy for a moment must not tell hands from scanners.
  const isBurst = now - last < TOGETHER_MS;
  last = event.key.length === 1 ? now : 0;
  if (isBurst && acted) tellScanned(acted);
  acted = "";
  if (waiting) {
    clearTimeout(waiting);
    waiting = null;
  }
  if (event.defaultPrevented || event.ctrlKey || event.metaKey || event.altKey || event.isComposing) return;
  if (isTyping(event.target) || isBurst || event.key.length > 1 || !known(event.key)) return;
  if (keysAreOff() && event.key !== "?") return;
  event.preventDefault();
  if (actsNow(event.key)) {
    acted = event.key;
    act(event.key);
    return;
  }
  waiting = setTimeout(() => {
    waiting = null;
    act(event.key);
  }, TOGETHER_MS);
});

document.addEventListener("scan", () => {
  last = 0; // The scanner has ended its burst; what follows is a hand.
});

// Escape leaves a text field, so that keys act again.
document.addEventListener("keydown", (event) => {
  if (event.key === "Escape" && isTyping(event.target) && !event.target.closest("dialog")) event.target.blur();
});

function listKeys() {
  const dialog = document.getElementById("keys");
  if (!dialog) return;
  if (dialog.open) {
    dialog.close();
    return;
  }
  const rows = new Map();
  for (const control of document.querySelectorAll("[data-key]")) {
    const label = control.dataset.keyLabel || control.getAttribute("aria-label") || control.textContent.trim();
    const group = control.closest("[data-key-group]")?.dataset.keyGroup ?? "page";
    if (!control.closest("dialog")) rows.set(control.dataset.key, { label, group });
  }
  for (const [key, { label, group }] of bound) rows.set(key, { label, group });
  for (const section of dialog.querySelectorAll("[data-keys-of]")) {
    const own = [...rows].filter(([, { group }]) => group === section.dataset.keysOf);
    section.hidden = !own.length;
    section.querySelector("dl").replaceChildren(...own.map(([key, { label }]) => keyRow(key, label)));
  }
  const off = dialog.querySelector("input[type=checkbox]");
  off.checked = keysAreOff();
  dialog.showModal();
}

function keyRow(key, label) {
  const row = document.createElement("div");
  const [left, right] = [document.createElement("dt"), document.createElement("dd")];
  const cap = document.createElement("kbd");
  cap.textContent = key;
  left.append(cap);
  right.textContent = label;
  row.append(left, right);
  return row;
}

onKey("?", "list the keys", listKeys, { group: "about" });
document.addEventListener("click", (event) => {
  if (event.target.closest?.("[data-list-keys]")) listKeys();
  if (event.target.closest?.("[data-close-dialog]")) event.target.closest("dialog").close();
});
document.addEventListener("change", (event) => {
  if (event.target.matches?.("[data-keys-off]")) localStorage.setItem(OFF, event.target.checked ? "1" : "0");
});
