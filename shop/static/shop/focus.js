// After a swap the reader is never lost: htmx puts focus back on the element of the same id; when that one is
// gone, focus goes to the first faulty field, else to the row it was in, else to what the new fragment names,
// else to its heading.
let before = null;

document.addEventListener("htmx:beforeSwap", () => {
  const active = document.activeElement;
  if (!active || active === document.body) return; // Of two swaps at once the first one knows.
  before = { id: active.id, row: active.closest("tr[id]")?.id };
});

// Who leaves a field that is still there (by Escape, say) means to; only what a swap took away is looked for.
document.addEventListener("focusout", (event) => {
  queueMicrotask(() => {
    if (event.target.isConnected) before = null;
  });
});

document.addEventListener("htmx:afterSettle", (event) => {
  const wrong = document.querySelector("main [aria-invalid=true]");
  if (wrong && event.detail.xhr?.status === 422) {
    wrong.focus();
    return;
  }
  const left = before;
  const active = document.activeElement;
  if (!left || (active && active !== document.body && active.isConnected)) return;
  before = null;
  const next = [
    left.id && document.getElementById(left.id),
    left.row && document.getElementById(left.row),
    document.querySelector("[data-focus-after]"),
    document.querySelector("main h1"),
    document.querySelector("main"),
  ].find((one) => one && one.getClientRects().length); // what has closed around it takes no focus
  if (!next) return;
  if (!next.matches("a, button, input, select, textarea, [tabindex]")) next.tabIndex = -1;
  next.focus({ preventScroll: true });
});

// A page that comes as the answer to a deed tells it; whoever reads on from there begins at its heading.
const heading = document.querySelector("main h1");
if (heading && document.querySelector("#notices .notice") && document.activeElement === document.body) {
  heading.tabIndex = -1;
  heading.focus({ preventScroll: true });
}
