// A fragment is redrawn only where it differs from the one before it, as both came from the server: all else stays
// in the page as it is, with its focus, its open details and whatever a script has done to it.
// Of a piece that is in the page already only the place comes (data-piece).
const shown = new Map();
const PIECES = "[data-piece]";

export const pieces = () => [...shown.values()].flatMap((was) => [...was.querySelectorAll(PIECES)].map((one) => one.dataset.piece));

export function redraw(live, comes) {
  const was = shown.get(live.id);
  if (was) putBack(was, comes);
  shown.set(live.id, comes);
  if (was) change(live, was, comes);
  else live.replaceWith(comes.cloneNode(true));
  for (const field of document.getElementById(live.id).querySelectorAll("input"))
    if (field !== document.activeElement) field.value = field.defaultValue; // what was typed and not kept is gone
}

function putBack(was, comes) {
  const kept = new Map([...was.querySelectorAll(PIECES)].map((one) => [one.dataset.piece, one]));
  for (const place of comes.querySelectorAll(`${PIECES}:empty`)) place.replaceWith(copy(kept.get(place.dataset.piece)));
}

function change(live, was, comes) {
  if (was.isEqualNode(comes)) return;
  if (comes.nodeType !== Node.ELEMENT_NODE) {
    live.data = comes.data;
    return;
  }
  rename(live, was, comes);
  const [now, before, after] = [live, was, comes].map((node) => [...node.childNodes]);
  if (alike(now, before)) merge(live, now, before, after);
  else live.replaceChildren(...after.map(copy)); // a script has put something in between
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
  return one.nodeName === other.nodeName && nameOf(one) === nameOf(other);
}

const nameOf = (node) => node.dataset?.keyOf || node.id;
const copy = (node) => node.cloneNode(true);

function alike(some, others) {
  return some.length === others.length && some.every((node, n) => areKin(node, others[n]));
}
