// The drawings of the worktable: one is looked at, the next one is got ahead, and the latest that is asked for wins.
import { onKey } from "./keys.js";
import { place } from "./worktable-depths.js";

const table = () => document.querySelector("form#table");
const byId = (id) => document.getElementById(id);
let drawing = { name: "", asked: new AbortController() }; // the one that is on its way
const LOOKED_AHEAD = 2; // a day, and then a fortnight, take longer to draw than a key to press
const ahead = { texts: new Map(), asked: new AbortController() }; // likely to be asked for next, by their names
let lit; // the part that is pointed at

// On a phone a drawing has fewer and larger words; the page itself comes with the one for a desk.
const narrow = matchMedia("(max-width: 760px)");
export const width = () => (narrow.matches ? "narrow" : "wide");
narrow.addEventListener("change", drawWhatIsWanted);

export function drawForPhone() {
  if (narrow.matches) drawWhatIsWanted();
}

function drawWhatIsWanted() {
  if (byId("figures")?.dataset.wants) drawAnew();
}

// --- the drawing follows the figures and prices, which do not wait for it ----------------------------------------
document.addEventListener("htmx:beforeOnLoad", (event) => {
  const wants = event.detail.elt === table() && event.detail.xhr.getResponseHeader("X-Drawing");
  if (wants && wants !== shows()) drawAnew(wants); // while the figures are put in their places
});

// What is shown, as it is looked at by now; a drawing of another view, or of another width, shows nothing of it.
export const shows = () => (shownAs(byId("drawing").dataset) === drawnAs() ? byId("drawing").dataset.shows : "");
const shownAs = ({ view, width: wide = "wide" }) => `${view} ${wide}`;

export function leaveDrawing() {
  leaveThis();
  ahead.asked.abort();
  Object.assign(ahead, { texts: new Map(), asked: new AbortController() });
}

function leaveThis() {
  drawing.asked.abort();
  drawing = { name: "", asked: new AbortController() };
}

// Which drawing is looked at, and how wide it is.
export const drawnAs = (view = table().elements.view.value) => `${view} ${width()}`;
const nameOf = (wants, view) => `${drawnAs(view)} ${wants}`;

// The drawing of what `wants` names comes without being asked for, as it was looked at then; the signal tells when it
// is not waited for any more. Who looks at another one meanwhile asks for that.
export function awaitDrawing(wants, asDrawn) {
  if (asDrawn !== drawnAs()) {
    drawAnew(wants);
    return null;
  }
  leaveDrawing();
  drawing.name = nameOf(wants);
  return drawing.asked.signal;
}

export function drawingCame(text) {
  show(text);
  if (!text) drawAnew();
}

async function drawAnew(wants = byId("figures")?.dataset.wants) {
  const name = nameOf(wants);
  if (drawing.name === name) return; // it is on its way
  leaveThis(); // what is got ahead may be this one
  drawing.name = name;
  const { asked } = drawing;
  let text = "";
  try {
    text = (await ahead.texts.get(name)) || (await drawingOf(table().elements.view.value, asked));
  } finally {
    if (!asked.signal.aborted) show(text); // also when there is none: it may be asked for again
  }
}

function show(text) {
  drawing.name = "";
  if (!text || !byId("drawing")) return;
  const holder = document.createElement("div");
  holder.innerHTML = text;
  byId("drawing").replaceWith(holder.firstElementChild);
  byId("drawing").dataset.width = width();
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

export function tellScale() {
  const scale = byId("drawing")?.dataset.scale || "–";
  if (byId("scale") && byId("scale").textContent !== scale) byId("scale").textContent = scale;
}

export function light(part) {
  lit = part;
  for (const one of document.querySelectorAll(".lit")) one.classList.remove("lit");
  if (!part) return;
  for (const mark of document.querySelectorAll(`#drawing [data-callout="${part}"], #drawing [data-part="${part}"], #parts [data-part="${part}"]`)) mark.classList.add("lit");
}

// --- leafing through them -------------------------------------------------------------------------------------------
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
onKey("x", "next drawing", () => look(beside(document.querySelector("[role=tab][aria-selected=true]"), 1)), { now: true, group: "drawing" });

function beside(tab, step) {
  const tabs = [...tab.parentElement.querySelectorAll("[role=tab]")];
  return tabs[(tabs.indexOf(tab) + step + tabs.length) % tabs.length];
}

export function look(tab) {
  if (!tab) return undefined;
  for (const one of tab.parentElement.querySelectorAll("[role=tab]")) {
    one.setAttribute("aria-selected", String(one === tab));
    one.tabIndex = one === tab ? 0 : -1;
  }
  byId("paper").setAttribute("aria-labelledby", tab.id);
  table().elements.view.value = tab.dataset.view;
  return drawAnew().then(() => lookAhead(tab));
}

// Who leafs through the drawings finds the next ones there, got one after the other.
async function lookAhead(tab) {
  if (tab.getAttribute("aria-selected") !== "true") return; // somebody went on, and what is got ahead is theirs
  const { texts, asked } = ahead;
  const near = new Map();
  for (let step = 1; step <= LOOKED_AHEAD; step += 1) {
    const { view } = beside(tab, step).dataset;
    near.set(nameOf(byId("figures")?.dataset.wants, view), view);
  }
  for (const name of texts.keys()) if (!near.has(name)) texts.delete(name);
  for (const [name, view] of near) {
    if (asked.signal.aborted || tab.getAttribute("aria-selected") !== "true") return;
    if (!texts.has(name)) texts.set(name, drawingOf(view, asked));
    await texts.get(name);
  }
}
