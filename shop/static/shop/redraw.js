// A fragment is redrawn only where it differs from the one before it, as both came from the server: all else stays
// in the page as it is, with its focus, its open details and whatever a script has done to it.
const shown = new Map();

export function redraw(live, comes) {
  const was = shown.get(live.id);
  shown.set(live.id, comes);
  if (was) change(live, was, comes);
  else live.replaceWith(comes.cloneNode(true));
  for (const field of document.getElementById(live.id).querySelectorAll("input"))
    if (field !== document.activeElement) field.value = field.defaultValue; // what was typed and not kept is gone
}

function change(live, was, comes) {
  if (was.isEqualNode(comes)) return;
  if (comes.nodeType !== Node.ELEMENT_NODE) {
    live.data = comes.data;
    return;
  }
  rename(live, was, comes);
  const [now, before, after] = [live, was, comes].map((node) => [...node.childNodes]);
  if (alike(before, after) && alike(now, before)) before.forEach((_, n) => change(now[n], before[n], after[n]));
  else live.replaceChildren(...after.map((node) => node.cloneNode(true)));
}

function rename(live, was, comes) {
  for (const { name } of was.attributes) if (!comes.hasAttribute(name)) live.removeAttribute(name);
  for (const { name, value } of comes.attributes) if (was.getAttribute(name) !== value) live.setAttribute(name, value);
}

function alike(some, others) {
  return some.length === others.length && some.every((node, n) => node.nodeName === others[n].nodeName && node.id === others[n].id);
}
