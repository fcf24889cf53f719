// A fragment is redrawn only where it differs from the one before it, as both came from the server: all else stays
// in the page as it is, with its focus, its open details and whatever a script has done to it.
// A piece (data-piece) is told from another by its name alone: of one that the page has already only the empty place
// comes, and fragments are kept and compared with such places in them.
const shown = new Map(); // by their ids: fragments, every piece an empty place, and the elements that show them
const whole = new Map(); // pieces by their names
const PIECES = "[data-piece]";
let typed = new WeakSet(); // fields that were typed in since the server was told what they say

document.addEventListener("input", (event) => typed.add(event.target));
export function told() {
  typed = new WeakSet();
}
export const isUntold = (field) => typed.has(field);

// The names of the pieces that the page has.
export function pieces() {
  const now = [...shown.values()].filter(({ live }) => live.isConnected); // not what another draft showed before
  const there = new Set(now.flatMap(({ names }) => names));
  for (const name of whole.keys()) if (!there.has(name)) whole.delete(name);
  return [...there];
}

// What came with the page, before a script did anything to it; `apart` are those in it that are redrawn on their own.
export function remember(there, apart = null) {
  if (!there || shown.get(there.id)?.live === there) return;
  const was = there.cloneNode(true);
  for (const one of apart ? was.querySelectorAll(apart) : []) one.remove();
  shown.set(there.id, { live: there, was, names: leavePlaces(was) });
}

export function redraw(there, comes) {
  const last = shown.get(there.id);
  const names = leavePlaces(comes);
  const isKnown = last?.live === there;
  const live = isKnown ? there : copy(comes);
  if (isKnown) change(live, last.was, comes);
  else there.replaceWith(live);
  shown.set(live.id, { live, was: comes, names });
}

function leavePlaces(fragment) {
  return [...fragment.querySelectorAll(PIECES)].map(leavePlace);
}

const nameOfPiece = (node) => node.dataset?.piece; // text has none
const wholeOf = (node) => whole.get(nameOfPiece(node)) ?? node;

function leavePlace(piece) {
  const name = nameOfPiece(piece);
  if (!piece.hasChildNodes()) return name;
  const place = document.createElement(piece.nodeName);
  place.dataset.piece = name;
  piece.replaceWith(place);
  whole.set(name, piece);
  return name;
}

function change(live, was, comes) {
  if (was.isEqualNode(comes)) return;
  if (comes.nodeType !== Node.ELEMENT_NODE) live.data = comes.data;
  else changeElement(live, wholeOf(was), wholeOf(comes));
}

function changeElement(live, was, comes) {
  rename(live, was, comes);
  const [now, before, after] = [live, was, comes].map(childrenOf);
  if (areAlike(now, before)) merge(live, now, before, after);
  else live.replaceChildren(...after.map(copy)); // a script has put something in between
}

function childrenOf(node) {
  const found = []; // many times as quick as spreading its list
  for (let child = node.firstChild; child; child = child.nextSibling) found.push(child);
  return found;
}

function rename(live, was, comes) {
  for (const { name } of was.attributes) if (!comes.hasAttribute(name)) live.removeAttribute(name);
  for (const { name, value } of comes.attributes) if (was.getAttribute(name) !== value) live.setAttribute(name, value);
}

// Children that come keep the place of their kin that were there; the rest comes in or goes.
function merge(live, now, before, after) {
  const same = sameAtTheEnd(before, after);
  const end = now.length - same;
  let at = 0;
  for (const child of after.slice(0, after.length - same)) {
    if (at < end && before[at].isEqualNode(child)) {
      at += 1;
      continue;
    }
    const kin = before.findIndex((one, n) => n >= at && n < end && areKin(one, child));
    if (kin < 0) {
      live.insertBefore(copy(child), now[at] ?? null);
      continue;
    }
    for (; at < kin; at += 1) now[at].remove();
    change(now[at], before[at], child);
    at += 1;
  }
  for (; at < end; at += 1) now[at].remove();
}

function sameAtTheEnd(some, others) {
  let count = 0;
  while (count < Math.min(some.length, others.length) && some.at(-1 - count).isEqualNode(others.at(-1 - count))) count += 1;
  return count;
}

// Elements with a name of their own are kin by it, the others by their kind.
function areKin(one, other) {
  return one.nodeName === other.nodeName && (one.nodeType !== Node.ELEMENT_NODE || nameOf(wholeOf(one)) === nameOf(wholeOf(other)));
}

const nameOf = (element) => element.dataset.keyOf || element.id;

function copy(node) {
  const found = wholeOf(node).cloneNode(true);
  for (const place of found.querySelectorAll?.(PIECES) ?? []) place.replaceWith(copy(wholeOf(place)));
  return found;
}

const areAlike = (some, others) => some.length === others.length && some.every((node, n) => node.nodeName === others[n].nodeName);
