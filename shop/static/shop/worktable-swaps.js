// What comes from the server is put in its place: what stood open stays open, what is being typed stays typed.
import { enhance } from "./combo.js";
import { isTyping } from "./keys.js";
import { isUntold, redraw, remember } from "./redraw.js";
import { place } from "./worktable-depths.js";
import { tellScale } from "./worktable-drawings.js";
import { focusLine, lines } from "./worktable-lines.js";
import { redrawFields, rememberFields } from "./worktable-strip.js";

const REDRAWN = ["faults", "figures", "parts", "care", "block"];
const FIELDS = ["strip", "who"];
const FRAGMENTS = /(?=<\w+ [^<>]*hx-swap-oob="true")/;
const texts = new WeakMap(); // of the elements that were put there last
const byId = (id) => document.getElementById(id);
let kept = null;
let unsettled = false;

// `isOurs`: what was typed here counts; else another window's text stands there now.
export function keep({ isOurs }) {
  unsettled = true;
  const field = document.activeElement;
  const typing = field?.id && field.matches("input, textarea") && isTyping(field);
  kept = {
    isOurs,
    id: field?.id,
    element: field,
    line: field?.closest?.("tbody[data-part]")?.dataset.part,
    field: typing && { value: isOurs ? field.value : null, start: field.selectionStart, end: field.selectionEnd },
    open: [...document.querySelectorAll("#parts details[open]")].map((d) => d.closest("[data-key-of]")?.dataset.keyOf),
  };
}

export const isOurs = (counts, sent) => !counts || counts === sent;

// Fragments as text, each to the element of its id; one that says the same as before is not even read.
export function put(text) {
  for (const fragment of text.split(FRAGMENTS)) {
    const target = byId(/ id="([^"]+)"/.exec(fragment)?.[1]);
    if (!target) continue;
    if (texts.get(target) === fragment) forgetUnkept(target);
    else {
      const holder = document.createElement("div");
      holder.innerHTML = fragment;
      putAt(target, holder.firstElementChild);
      if (!FIELDS.includes(target.id)) texts.set(byId(target.id), fragment); // fields are typed in between
    }
    restoreFocus(); // at once, so that no key falls beside its field
  }
}

function putAt(target, comes) {
  comes.removeAttribute("hx-swap-oob");
  if (FIELDS.includes(target.id)) redrawFields(target, comes, kept);
  else if (!REDRAWN.includes(target.id)) target.isEqualNode(comes) || target.replaceWith(comes);
  else {
    redraw(target, comes);
    forgetUnkept(byId(target.id));
  }
}

function forgetUnkept(fragment) {
  for (const field of fragment.querySelectorAll("input")) {
    const isKept = field === document.activeElement || isUntold(field);
    if (!isKept && field.value !== field.defaultValue) field.value = field.defaultValue;
  }
}

// What stands on the table from the start is redrawn from its first answer on.
export function rememberAll() {
  for (const id of REDRAWN) remember(byId(id));
  if (byId("strip")) rememberFields();
}

document.addEventListener("htmx:beforeSwap", (event) => {
  const { xhr, requestConfig } = event.detail;
  const { deed, add } = requestConfig.parameters;
  if (deed === "add" && xhr.status === 200 && byId("add").value === add) byId("add").value = ""; // not the next one
  keep({ isOurs: isOurs(xhr.getResponseHeader("X-Serial"), requestConfig.parameters.serial) });
});
document.addEventListener("htmx:oobBeforeSwap", (event) => {
  const { target, fragment } = event.detail;
  if (!target.closest("form#table")) return;
  event.detail.shouldSwap = false;
  texts.delete(target);
  putAt(target, fragment.firstElementChild);
  restoreFocus();
});
document.addEventListener("htmx:afterSettle", settle);
document.addEventListener("htmx:afterSwap", (event) => event.detail.xhr && requestAnimationFrame(settle));

export function settle() {
  if (!unsettled) return;
  unsettled = false;
  rememberAll();
  enhance();
  tellFaults();
  if (kept) reopen();
  place();
  restoreFocus();
  kept = null;
  tellScale();
}

function tellFaults() {
  if (!byId("faults")) return;
  const told = new Map([...byId("faults").children].map((fault) => [fault.dataset.fault, fault.textContent]));
  for (const slot of document.querySelectorAll("#table .error[id^=fault-]")) {
    const name = slot.id.replace("fault-", "");
    const sentence = told.get(name) ?? "";
    if (slot.textContent !== sentence) slot.textContent = sentence;
    if (sentence) slot.closest("details")?.setAttribute("open", ""); // what is wrong does not stay behind a lid
    if (sentence) byId(name)?.setAttribute("aria-invalid", "true");
    else byId(name)?.removeAttribute("aria-invalid");
  }
}

function reopen() {
  for (const body of document.querySelectorAll("#parts [data-key-of]"))
    if (kept.open.includes(body.dataset.keyOf)) body.querySelector("details").open = true;
}

function restoreFocus() {
  const active = document.activeElement;
  if (kept?.field && byId(kept.id)) {
    const field = byId(kept.id);
    if (!field.matches("input, textarea")) return; // a choice that is not made a type-ahead yet
    if (field === kept.element) return; // not redrawn, or given back already: whoever left it since meant to
    if (active !== field) field.focus({ preventScroll: true });
    kept.element = field;
    if (kept.field.value === null) return;
    if (field.value !== kept.field.value) field.value = kept.field.value;
    if (kept.field.start !== null) field.setSelectionRange(kept.field.start, kept.field.end);
  } else if (kept?.line && !active?.closest?.("tbody[data-part]")) focusLine(Number(kept.line));
  else if (active === byId("list") && lines().length) focusLine(1);
}

