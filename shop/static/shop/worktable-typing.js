// What is typed is asked for here, not through htmx: the answer is read as it comes, so that the figures are in their
// places while their drawing is still being drawn. While one answer is under way only the last change waits.
// What is no plain answer (an ended session, a refusal, a server that is silent) is asked for again through htmx,
// which knows what to do with it: a change may come twice, since its serial counts once.
import { cookie } from "./forms.js";
import { pieces, told } from "./redraw.js";
import { awaitDrawing, drawingCame, drawnAs, leaveDrawing, shows, width } from "./worktable-drawings.js";
import { isOurs, keep, put, settle } from "./worktable-swaps.js";

const BETWEEN = "\u001e"; // stands between the figures and the drawing that follows them
let underWay = false;
let another = false; // a change came meanwhile
let next = () => false; // begins what waits for the answer, and tells whether anything did
let throughHtmx = false;

export function change(form) {
  if (throughHtmx) window.htmx.trigger(form, "worktable:change");
  else if (underWay) another = true;
  else ask(form);
}

export const isAsking = () => underWay;

// Deeds wait for the answer; they are done before any further change, which they carry with them.
export function afterAnswer(begins) {
  next = begins;
}

// What every request of the form tells: when it was made, the last change that it knows of, and the pieces that the
// page has already.
export function sealed({ elements: { before } }) {
  const asks = { serial: String(Math.max(Date.now(), Number(before.value) + 1)), before: before.value, has: pieces().join(" ") };
  before.value = asks.serial; // also when its answer is lost on the way
  told();
  return asks;
}

document.addEventListener("htmx:beforeOnLoad", ({ detail: { elt, xhr, requestConfig } }) => {
  if (elt.id === "table") elt.elements.before.value = xhr.getResponseHeader("X-Serial") ?? requestConfig.parameters.before;
});

document.addEventListener("htmx:afterRequest", ({ detail }) => {
  if (detail.requestConfig.triggeringEvent?.type === "worktable:change") throughHtmx = false;
});

async function ask(form) {
  underWay = true;
  form.dataset.asking = "";
  leaveDrawing();
  const asks = sealed(form);
  const asDrawn = drawnAs();
  document.dispatchEvent(new CustomEvent("worktable:asked"));
  const answer = await sent(form, asks).catch(() => null); // htmx tells that there is none
  if (answer) form.elements.before.value = answer.headers.get("X-Serial") ?? asks.before;
  const isPlain = answer?.headers.has("X-Drawing");
  const reader = isPlain ? answer.body.pipeThrough(new TextDecoderStream()).getReader() : null;
  const figures = reader && (await readTo(BETWEEN, reader).catch(() => null));
  let left = null;
  try {
    left = figures && tell(figures[0], answer.headers, asks, asDrawn);
  } finally {
    done(form, Boolean(figures));
  }
  if (left) follow(left, reader, figures[1]);
  else reader?.cancel().catch(() => null); // what else comes is not looked at any more; it may have ended in a fault
}

function sent(form, asks) {
  const body = new URLSearchParams(new FormData(form));
  body.delete("csrfmiddlewaretoken"); // signing in again changes it; the cookie knows the one that counts
  for (const [name, value] of Object.entries({ ...asks, deed: "change", drawn: shows(), [width()]: "" })) body.set(name, value);
  const headers = { "HX-Request": "true", "X-CSRFToken": cookie("csrftoken") };
  return fetch(form.action, { method: "POST", body, headers, redirect: "error" });
}

// What comes before the mark, and what has come after it.
async function readTo(mark, reader) {
  let text = "";
  for (;;) {
    const { done: ended, value } = await reader.read();
    text += value ?? "";
    const at = mark ? text.indexOf(mark) : -1;
    if (at >= 0) return [text.slice(0, at), text.slice(at + 1)];
    if (ended) return [text, ""];
  }
}

// The figures and prices are in their places; gives the signal of the drawing that follows, if one does.
function tell(text, headers, asks, asDrawn) {
  document.dispatchEvent(new CustomEvent("worktable:answered", { detail: { headers } }));
  const wants = headers.get("X-Drawing");
  const left = wants && wants !== shows() ? awaitDrawing(wants, asDrawn) : null;
  keep({ isOurs: isOurs(headers.get("X-Serial"), asks.serial) });
  put(text);
  settle();
  document.dispatchEvent(new CustomEvent("worktable:told"));
  return left;
}

function done(form, isTold) {
  const changed = another;
  underWay = another = false;
  delete form.dataset.asking;
  if (!isTold) {
    throughHtmx = true;
    window.htmx.trigger(form, "worktable:change");
  }
  if (!next() && isTold && changed) ask(form);
}

async function follow(left, reader, begun) {
  left.addEventListener("abort", () => reader.cancel());
  if (left.aborted) {
    reader.cancel();
    return;
  }
  const came = await readTo(null, reader).catch(() => null);
  if (!left.aborted) drawingCame(came && begun + came[0]); // half a drawing is none
}
