// The fields of the worktable that come with an answer: what the server says stands in them, and only what differs
// is laid out anew. A depth field stands in the drawing or in the strip, wherever it has its place by now.
import { restore } from "./combo.js";
import { isUntold, redraw, remember } from "./redraw.js";

const DEPTH_FIELDS = "[data-depth-field]";
const byId = (id) => document.getElementById(id);
const nameOf = ({ name, type, value }) => (type === "checkbox" ? `${name} ${value}` : name);

// As they came with the page, before a script has done anything to them.
export function rememberFields() {
  for (const field of document.querySelectorAll(DEPTH_FIELDS)) remember(field);
  remember(byId("strip"), DEPTH_FIELDS);
  remember(byId("who"));
}

export function redrawFields(there, comes, { isOurs }) {
  const said = [...comes.querySelectorAll("[name]")];
  for (const field of comes.querySelectorAll(DEPTH_FIELDS)) {
    redraw(byId(field.id), field);
    field.remove();
  }
  redraw(there, comes);
  const controls = new Map([...byId("table").elements].map((control) => [nameOf(control), control]));
  for (const one of said) if (controls.has(nameOf(one))) follow(controls.get(nameOf(one)), one, isOurs);
  tellOwned();
  tellLid();
}

function follow(control, { value, checked }, isOurs) {
  const isKept = isOurs && (control === document.activeElement || isUntold(control));
  if (!isKept) {
    if (control.type === "checkbox") control.checked = checked;
    else if (control.value !== value) control.value = value;
  }
  restore(control, { isOurs });
}

export function tellOwned() {
  const count = document.querySelectorAll("#strip [name=own]:checked").length;
  say(document.querySelector("[data-owned]"), String(count || "nothing"));
}

export function tellLid() {
  const { covered, air, slot, latitude } = byId("table").elements;
  const told = document.querySelector("[data-lid]");
  const words = [[covered, " %"], [air, "/h"], [slot, " mm"], [latitude, "°"]].map(([field, unit]) => field.value && field.value + unit);
  say(told, words.filter(Boolean).join(" ") || told.dataset.usual);
}

function say(told, words) {
  if (told.textContent.trim() !== words) told.textContent = words;
}
