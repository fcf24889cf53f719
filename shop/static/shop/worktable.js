// The worktable: every change is worked out while one types, the latest wins, and no key is lost on the way.
import { onKey } from "./keys.js";
import { enhance } from "./combo.js";
import { say } from "./forms.js";
import { place } from "./worktable-depths.js";
import { drawForPhone, leaveDrawing } from "./worktable-drawings.js";
import { focusLine, here, lines } from "./worktable-lines.js";
import { tellLid, tellOwned } from "./worktable-strip.js";
import { rememberAll } from "./worktable-swaps.js";
import "./worktable-workings.js";
import { afterAnswer, change, isAsking, sealed } from "./worktable-typing.js";

const WAIT_MS = 150;
const table = () => document.querySelector("form#table");
const byId = (id) => document.getElementById(id);
let timer = null;
let deedUnderWay = null;
const deeds = []; // what was pressed meanwhile, in its order
let released = null; // the one whose turn it is
let isScan = false;
let changeWaits = false;
let visit = 0;

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
  else if (table()) change(table());
}

document.addEventListener("focusin", () => (visit += 1));
document.addEventListener("input", (event) => {
  const form = event.target.closest?.("form#table");
  if (!form || event.target.name === "add") return;
  form.elements.touched.value = event.target.matches("input:not([type=checkbox]), textarea") ? `${event.target.name} ${visit}` : "";
  if (event.target.name === "own") tellOwned();
  if (event.target.closest("#lid")) tellLid();
  // A figure is worked out at once: while one answer is under way only the last change waits.
  changeSoon(event.target.matches("select, [type=checkbox], [inputmode]") ? 0 : WAIT_MS);
});

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

// A deed carries every field with it. What is pressed while something is under way waits for its turn; the same deed
// pressed twice is asked for once. Changes wait for deeds.
document.addEventListener("submit", (event) => {
  if (event.target !== table()) return;
  const deed = released ?? { name: event.submitter?.value ?? "change", add: byId("add").value, isScan };
  const isBusy = deedUnderWay || isAsking();
  if (isBusy) {
    event.preventDefault();
    event.stopImmediatePropagation();
  }
  if ([deedUnderWay, ...deeds].some((one) => one && isSame(one, deed))) return;
  clearTimeout(timer);
  if (isBusy) deeds.push(deed);
  else deedUnderWay = deed;
}, true);

// Two scans of one code are two pieces.
const isSame = (one, other) => one.name === other.name && (one.name !== "add" || (one.add === other.add && !other.isScan));

function doNext() {
  released = deeds.shift();
  if (!released) return false;
  const button = [...table().elements].find((one) => one.name === "deed" && one.value === released.name && !one.disabled);
  if (button) table().requestSubmit(button);
  else changeSoon(0); // it was about a line that is not there any more; what was typed since counts
  released = null;
  return true;
}
afterAnswer(doNext);

document.addEventListener("htmx:configRequest", (event) => {
  if (event.detail.elt !== table()) return;
  leaveDrawing();
  Object.assign(event.detail.parameters, sealed(table()));
  if (event.detail.triggeringEvent?.type === "worktable:change") event.detail.parameters.deed = "change";
  else {
    event.detail.parameters.touched = "";
    if (deedUnderWay) event.detail.parameters.deed = deedUnderWay.name; // htmx knows the button that was pressed last
    if (deedUnderWay?.name === "add") event.detail.parameters.add = deedUnderWay.add;
  }
});
document.addEventListener("htmx:afterRequest", (event) => {
  if (event.detail.elt !== table() || event.detail.requestConfig.triggeringEvent?.type === "worktable:change") return;
  const { status } = event.detail.xhr;
  if (status !== 401 && (status < 200 || status > 299)) deeds.length = 0; // what builds on a deed that was not done
  deedUnderWay = null;
  if (!doNext() && changeWaits) changeSoon(0);
  changeWaits = false;
});

// --- scanning, and where to go next ------------------------------------------------------------------------------
document.addEventListener("scan", (event) => {
  if (!byId("add")) return;
  event.preventDefault();
  byId("add").value = event.detail.text;
  isScan = true;
  byId("add-go").click();
  isScan = false;
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
  document.documentElement.classList.toggle("at-table", Boolean(table()));
  rememberAll();
  enhance();
  place();
  drawForPhone();
  if (!table() || here()) return;
  if (!byId("animal-value").value && !byId("enclosure-value").value) byId("animal").focus();
  else if (!byId("enclosure-value").value) byId("enclosure").focus();
  else if (matchMedia("(min-width: 941px)").matches) goOn("list");
}

document.addEventListener("htmx:afterSettle", (event) => {
  if (event.detail.requestConfig?.elt?.matches("#begin, #begin-with") && event.detail.successful !== false) begin();
});
begin();
