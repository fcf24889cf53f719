// The worktable: every change is worked out while one types, the latest wins, and no key is lost on the way.
import { onKey, isTyping } from "./keys.js";
import { enhance } from "./combo.js";
import { say } from "./forms.js";
import { place, takeHome } from "./worktable-depths.js";
import { pieces, redraw } from "./redraw.js";

const WAIT_MS = 150;
const NOW = { now: true }; // every change of a draft can be undone
const table = () => document.querySelector("form#table");
const byId = (id) => document.getElementById(id);
let timer = null;
let deedUnderWay = "";
let changeWaits = false;
let visit = 0;
let kept = null;
let unsettled = false;
let lit; // the part that is pointed at
const REDRAWN = ["faults", "figures", "parts", "care", "block"];
let drawing = { name: "", asked: new AbortController() }; // the one that is being asked for
let ahead = null; // the drawing that is likely to be asked for next

// On the worktable S takes a substitute; the rooms keep their links.
for (const link of document.querySelectorAll(".rooms [data-key=s], .rooms [data-key=q], .rooms [data-key=o]")) link.removeAttribute("data-key");
document.documentElement.classList.add("scripted");

// --- changes -------------------------------------------------------------------------------------------------
function changeSoon(wait = WAIT_MS) {
  clearTimeout(timer);
  if (wait) timer = setTimeout(changeNow, wait);
  else changeNow();
}

function changeNow() {
  timer = null;
  if (deedUnderWay) changeWaits = true;
  else if (table()) window.htmx.trigger(table(), "worktable:change");
}

document.addEventListener("focusin", () => (visit += 1));
document.addEventListener("input", (event) => {
  const form = event.target.closest?.("form#table");
  if (!form || event.target.name === "add") return;
  form.elements.touched.value = event.target.matches("input:not([type=checkbox]), textarea") ? `${event.target.name} ${visit}` : "";
  if (event.target.name === "own") tellOwned(form);
  if (event.target.closest("#lid")) tellLid(form);
  // A figure is worked out at once: while one answer is under way only the last change waits (hx-sync).
  changeSoon(event.target.matches("select, [type=checkbox], [inputmode]") ? 0 : WAIT_MS);
});

function tellOwned(form) {
  const count = form.querySelectorAll("[name=own]:checked").length;
  form.querySelector("[data-owned]").textContent = count || "nothing";
}

function tellLid({ elements: { covered, air, slot, latitude } }) {
  const told = document.querySelector("[data-lid]");
  told.textContent = [[covered, " %"], [air, "/h"], [slot, " mm"], [latitude, "°"]].map(([field, unit]) => field.value && field.value + unit).filter(Boolean).join(" ") || told.dataset.usual;
}

// What opens over the sheet closes again when it is left, by Escape or by going on.
document.addEventListener("keydown", (event) => {
  const open = event.key === "Escape" && event.target.closest?.("#strip details[open]");
  if (!open) return;
  open.open = false;
  open.querySelector("summary").focus();
});
document.addEventListener("focusin", (event) => {
  if (!matchMedia("(min-width: 761px)").matches) return; // there it stands between the fields
  for (const open of document.querySelectorAll("#strip details[open]")) if (!open.contains(event.target)) open.open = false;
});

// A deed carries every field with it. The same deed pressed twice is asked for once; changes wait for it.
document.addEventListener("submit", (event) => {
  if (event.target !== table()) return;
  const deed = event.submitter?.value ?? "change";
  if (deedUnderWay === deed) {
    event.preventDefault();
    event.stopImmediatePropagation();
    return;
  }
  clearTimeout(timer);
  deedUnderWay = deed;
}, true);
document.addEventListener("htmx:configRequest", (event) => {
  if (event.detail.elt !== table()) return;
  leaveDrawing();
  const { before } = table().elements;
  const serial = Math.max(Date.now(), Number(before.value) + 1);
  event.detail.parameters.before = before.value;
  event.detail.parameters.serial = String(serial);
  before.value = serial; // also when its answer is lost on the way
  event.detail.parameters.has = pieces().join(" ");
  if (event.detail.triggeringEvent?.type === "worktable:change") event.detail.parameters.deed = "change";
  else event.detail.parameters.touched = "";
});
const isElsewhere = ({ xhr, requestConfig }) => xhr.getResponseHeader("X-Serial") && xhr.getResponseHeader("X-Serial") !== requestConfig.parameters.serial;
document.addEventListener("htmx:beforeOnLoad", ({ detail: { elt, xhr, requestConfig } }) => {
  if (elt === table()) table().elements.before.value = xhr.getResponseHeader("X-Serial") ?? requestConfig.parameters.before;
});
document.addEventListener("htmx:afterRequest", (event) => {
  if (event.detail.elt !== table() || event.detail.requestConfig.triggeringEvent?.type === "worktable:change") return;
  deedUnderWay = "";
  if (changeWaits) changeSoon(0);
  changeWaits = false;
});

// --- swaps: what stood open stays open, what is being typed stays typed -----------------------------------------
document.addEventListener("htmx:beforeSwap", (event) => {
  unsettled = true;
  if (event.detail.requestConfig.parameters.deed === "add" && event.detail.xhr.status === 200) byId("add").value = "";
  const field = document.activeElement;
  const typing = field?.id && field.matches("input, textarea") && isTyping(field);
  kept = {
    id: field?.id,
    element: field,
    line: field?.closest?.("tbody[data-part]")?.dataset.part,
    field: typing && { value: isElsewhere(event.detail) ? null : field.value, start: field.selectionStart, end: field.selectionEnd },
    open: [...document.querySelectorAll("#parts details[open]")].map((d) => d.closest("[data-key-of]")?.dataset.keyOf),
  };
});
document.addEventListener("htmx:oobBeforeSwap", (event) => {
  const { target, fragment } = event.detail;
  if (target.id === "strip") takeHome();
  if (!REDRAWN.includes(target.id)) return;
  event.detail.shouldSwap = false;
  redraw(target, fragment.firstElementChild);
  restoreFocus(); // at once, so that no key falls beside its field
});
document.addEventListener("htmx:afterSettle", settle);
document.addEventListener("htmx:oobAfterSwap", restoreFocus); // at once, so that no key falls beside its field
document.addEventListener("htmx:afterSwap", (event) => event.detail.xhr && requestAnimationFrame(() => settle(event)));

function settle() {
  if (!unsettled) return;
  unsettled = false;
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

// --- the drawing follows the figures and prices, which do not wait for it; the latest wins -----------------------
document.addEventListener("htmx:beforeOnLoad", (event) => {
  const wants = event.detail.elt === table() && event.detail.xhr.getResponseHeader("X-Drawing");
  if (wants && wants !== byId("drawing").dataset.shows) drawAnew(wants); // while the figures are put in their places
});

// On a phone a drawing has fewer and larger words; the page itself comes with the one for a desk.
const narrow = matchMedia("(max-width: 760px)");
const width = () => (narrow.matches ? "narrow" : "wide");
narrow.addEventListener("change", () => byId("figures")?.dataset.wants && drawAnew());

function leaveDrawing() {
  drawing.asked.abort();
  drawing = { name: "", asked: new AbortController() };
}

async function drawAnew(wants = byId("figures")?.dataset.wants) {
  const { view } = table().elements;
  const name = `${view.value} ${width()} ${wants}`;
  if (drawing.name === name) return; // it is on its way
  leaveDrawing();
  drawing.name = name;
  const { asked } = drawing;
  const found = ahead?.name === name && (await ahead.text);
  const text = found || (await drawingOf(view.value, asked));
  if (asked.signal.aborted) return;
  drawing.name = "";
  if (!text || !byId("drawing")) return;
  const holder = document.createElement("template");
  holder.innerHTML = text;
  redraw(byId("drawing"), holder.content.firstElementChild);
  place();
  light(lit);
  tellScale();
  document.dispatchEvent(new CustomEvent("worktable:drawn"));
}

async function drawingOf(view, asked) {
  try {
    const address = `${table().dataset.drawing}?view=${view}&${width()}`;
    const answer = await fetch(address, { headers: { "HX-Request": "true" }, signal: asked.signal });
    return answer.ok && !answer.redirected ? await answer.text() : "";
  } catch (fault) {
    if (fault.name === "AbortError") return "";
    throw fault;
  }
}

// Who leafs through the drawings finds the next one there.
function lookAhead(tab) {
  if (drawing.asked.signal.aborted) return;
  const { view } = beside(tab, 1).dataset;
  const name = `${view} ${width()} ${byId("figures")?.dataset.wants}`;
  if (ahead?.name !== name) ahead = { name, text: drawingOf(view, drawing.asked) };
}

function tellScale() {
  if (byId("scale")) byId("scale").textContent = byId("drawing")?.dataset.scale || "–";
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
    if (kept.field.value === null) return; // another window's text stands there now
    if (field.value !== kept.field.value) field.value = kept.field.value;
    if (kept.field.start !== null) field.setSelectionRange(kept.field.start, kept.field.end);
  } else if (kept?.line && !active?.closest?.("tbody[data-part]")) focusLine(Number(kept.line));
  else if (active === byId("list") && lines().length) focusLine(1);
}

// --- lines and callouts ----------------------------------------------------------------------------------------
const lines = () => [...document.querySelectorAll("#parts tbody[data-part]")];
const here = () => document.activeElement?.closest?.("tbody[data-part]");

function focusLine(number) {
  const all = lines();
  if (!all.length) return;
  const line = all[Math.min(Math.max(number, 1), all.length) - 1];
  line.querySelector("summary").focus({ preventScroll: true });
  line.scrollIntoView({ block: "nearest" });
}

const move = (step) => () => focusLine(here() ? Number(here().dataset.part) + step : 1);
onKey("j", "next line", move(1), NOW);
onKey("k", "line above", move(-1), NOW);
onKey("s", "take the first substitute of the line", () => (here() ?? lines().find((l) => l.querySelector(".alt [data-take]")))?.querySelector("[data-take]")?.click(), NOW);
onKey("-", "take the line off, or leave its job out", () => here()?.querySelector("[data-remove]")?.click(), NOW);
onKey("f", "fill from what is free, or as suits best", () => {
  const fill = byId("fill");
  if (!fill) return;
  fill.selectedIndex = 1 - fill.selectedIndex;
  fill.dispatchEvent(new Event("input", { bubbles: true }));
}, NOW);
onKey("e", "the enclosure", () => byId("enclosure")?.focus());
onKey("d", "the depths", async () => {
  const depth = () => document.querySelector("[data-depth-field] input");
  if (!depth()?.getClientRects().length) await look(byId("tab-section")); // the other drawings have no place for them
  depth()?.focus();
});
onKey("↑ ↓", "line above, line below", () => {});
onKey("Enter", "open the line: why, and what else would do", () => {});
document.addEventListener("keydown", (event) => {
  if (isTyping(event.target) || !here() || event.ctrlKey || event.metaKey || event.altKey) return;
  if (event.key !== "ArrowDown" && event.key !== "ArrowUp") return;
  event.preventDefault();
  move(event.key === "ArrowDown" ? 1 : -1)();
});

function light(part) {
  lit = part;
  for (const one of document.querySelectorAll(".lit")) one.classList.remove("lit");
  if (!part) return;
  for (const mark of document.querySelectorAll(`#drawing [data-callout="${part}"], #drawing [data-part="${part}"], #parts [data-part="${part}"]`)) mark.classList.add("lit");
}
const partOf = (target) => {
  const mark = target.closest?.("#parts [data-part], #drawing [data-callout], #drawing [data-part]");
  return mark?.dataset.callout ?? mark?.dataset.part;
};
document.addEventListener("pointerover", (event) => light(partOf(event.target) ?? here()?.dataset.part));
document.addEventListener("focusin", (event) => light(partOf(event.target)));
document.addEventListener("click", (event) => {
  const mark = event.target.closest?.("#drawing [data-callout], #drawing [data-part]");
  if (mark) focusLine(Number(mark.dataset.callout ?? mark.dataset.part));
});

// --- the drawings -----------------------------------------------------------------------------------------
document.addEventListener("click", (event) => {
  const tab = event.target.closest?.("[role=tab][data-view]");
  if (tab) look(tab);
});
document.addEventListener("keydown", (event) => {
  const tab = event.target.closest?.("[role=tab][data-view]");
  if (!tab || (event.key !== "ArrowLeft" && event.key !== "ArrowRight")) return;
  const other = beside(tab, event.key === "ArrowRight" ? 1 : -1);
  look(other);
  other.focus();
});
onKey("x", "next drawing", () => look(beside(document.querySelector("[role=tab][aria-selected=true]"), 1)), NOW);

function beside(tab, step) {
  const tabs = [...tab.parentElement.querySelectorAll("[role=tab]")];
  return tabs[(tabs.indexOf(tab) + step + tabs.length) % tabs.length];
}

function look(tab) {
  if (!tab) return undefined;
  for (const one of tab.parentElement.querySelectorAll("[role=tab]")) {
    one.setAttribute("aria-selected", String(one === tab));
    one.tabIndex = one === tab ? 0 : -1;
  }
  byId("paper").setAttribute("aria-labelledby", tab.id);
  table().elements.view.value = tab.dataset.view;
  return drawAnew().then(() => lookAhead(tab));
}

// --- scanning, and where to go next ------------------------------------------------------------------------------
document.addEventListener("scan", (event) => {
  if (!byId("add")) return;
  event.preventDefault();
  byId("add").value = event.detail.text;
  byId("add-go").click();
});
document.addEventListener("scanned:key", ({ detail: { key, label } }) =>
  say(`The code began with ${key}, which is a key as well: ${label}. ${key === "u" ? "R does it again" : "U undoes it"}.`),
);
document.addEventListener("worktable:onward", (event) => goOn(event.detail.to));

function goOn(to) {
  if (to === "enclosure" && !byId("enclosure-value")?.value) byId("enclosure").focus();
  else if (lines().length) focusLine(1);
  else if (!byId("animal-value")?.value && !byId("style")?.value) byId("animal").focus();
  else byId("list").focus();
}

function begin() {
  enhance();
  place();
  if (narrow.matches && table() && byId("figures")?.dataset.wants) drawAnew();
  if (!table() || here()) return;
  if (!byId("animal-value").value && !byId("enclosure-value").value) byId("animal").focus();
  else if (!byId("enclosure-value").value) byId("enclosure").focus();
  else if (matchMedia("(min-width: 941px)").matches) goOn("list");
}

document.addEventListener("htmx:afterSettle", (event) => {
  if (event.detail.requestConfig?.elt?.matches("#begin, #begin-with") && event.detail.successful !== false) begin();
});
begin();
