// The depth fields stand where the drawing shows their depth; on a narrow page they stay in the strip.
// The fields themselves are never redrawn: only the places of their frames move, so that the caret stays.

const NS = "http://www.w3.org/2000/svg";
const MARGIN = 58; // room that is added left of the drawing, in its own units
const WIDE = 46;
const HIGH = 17;
const GAP = 1;
const CAP_SHARE = 0.36; // half the height of a capital, of its size: its middle above the base line
const wide = matchMedia("(min-width: 941px)");

const fields = () => [...document.querySelectorAll("[data-depth-field]")];
const home = () => document.getElementById("depths");
const ORDER = ["drainage", "substrate_front", "substrate_back", "litter"];
const over = () => document.getElementById("over");

export function place() {
  const drawing = document.querySelector("#drawing-section");
  showComputed();
  if (!over() || !home()) return;
  const marks = drawing && wide.matches ? marksOf(drawing) : new Map();
  if (marks.size) widen(drawing);
  const placed = [];
  for (const field of fields()) {
    const mark = marks.get(field.dataset.depthField);
    if (field.contains(document.activeElement) && !field.closest("#over")) continue; // never under the hands
    if (mark) placed.push([field, mark]);
    else if (!field.contains(document.activeElement) || !field.closest("#over")) bringHome(field);
  }
  for (const side of ["left", "right"]) layOut(placed.filter(([, mark]) => mark.side === side));
  sortHome();
  const isHidden = home().children.length === 0 || (wide.matches && !drawing);
  if (home().hidden !== isHidden) home().hidden = isHidden;
}

function sortHome() {
  const place = (field) => ORDER.indexOf(field.dataset.depthField);
  const there = [...home().children];
  const sorted = [...there].sort((a, b) => place(a) - place(b));
  if (!home().contains(document.activeElement) && sorted.some((field, n) => field !== there[n])) home().append(...sorted);
}

function showComputed() {
  const drawn = document.getElementById("figures");
  for (const field of fields()) {
    const input = field.querySelector("input");
    const depth = drawn?.getAttribute(`data-${input.name.replace("_", "")}`) ?? "";
    if (input.placeholder !== depth) input.placeholder = depth;
  }
}

// Where a depth is written, from the attributes of its text: asking for its box would lay out the whole page first.
function marksOf(drawing) {
  const marks = new Map();
  for (const mark of drawing.querySelectorAll("[data-depth]")) {
    const text = mark.querySelector("text");
    const [x, y, size] = ["x", "y", "font-size"].map((name) => Number(text.getAttribute(name)));
    const side = text.getAttribute("text-anchor") === "end" ? "left" : "right";
    marks.set(mark.dataset.depth, { inner: x, side, middle: y - CAP_SHARE * size });
    mark.classList.add("typed");
  }
  return marks;
}

function widen(drawing) {
  if (drawing.dataset.widened) return;
  const [x, y, width, height] = drawing.getAttribute("viewBox").split(" ").map(Number);
  const box = `${x - MARGIN} ${y} ${width + MARGIN + MARGIN / 2} ${height}`;
  drawing.setAttribute("viewBox", box);
  drawing.dataset.widened = "1";
  if (over().getAttribute("viewBox") !== box) over().setAttribute("viewBox", box);
}

function layOut(placed) {
  const sorted = placed.sort((a, b) => a[1].middle - b[1].middle);
  const pitch = HIGH + GAP;
  const middles = sorted.map(([, mark]) => mark.middle);
  for (let round = 0; round < 60; round += 1)
    for (let n = 1; n < middles.length; n += 1) {
      const lack = pitch - (middles[n] - middles[n - 1]);
      if (lack > 0.01) {
        middles[n - 1] -= lack / 2;
        middles[n] += lack / 2;
      }
    }
  sorted.forEach(([field, mark], n) => put(field, mark, middles[n]));
}

function put(field, mark, middle) {
  const name = field.dataset.depthField;
  let frame = over().querySelector(`[data-for=${name}]`);
  if (!frame) {
    frame = document.createElementNS(NS, "foreignObject");
    frame.dataset.for = name;
    const leader = document.createElementNS(NS, "line");
    leader.dataset.leader = name;
    over().append(leader, frame);
  }
  const { inner, side } = mark;
  const x = side === "left" ? inner - WIDE - 5 : inner + 4;
  const end = side === "left" ? [inner - 5, inner + 1] : [inner + 4, inner - 1];
  set(frame, { x, y: middle - HIGH / 2, width: WIDE, height: HIGH });
  set(over().querySelector(`[data-leader=${name}]`), { x1: end[0], y1: middle, x2: end[1], y2: mark.middle });
  if (field.parentElement !== frame) frame.append(field);
}

function set(element, attributes) {
  for (const [name, value] of Object.entries(attributes)) {
    const text = value.toFixed(2);
    if (element.getAttribute(name) !== text) element.setAttribute(name, text);
  }
}

function bringHome(field) {
  const name = field.dataset.depthField;
  for (const part of over()?.querySelectorAll(`[data-for=${name}], [data-leader=${name}]`) ?? []) {
    if (part.contains(field)) home()?.append(field);
    part.remove();
  }
}

wide.addEventListener("change", place);
