// After a swap the reader is never lost: htmx puts focus back on the element of the same id; when that one is
// gone, focus goes to the first faulty field, else to what the new fragment names, else to its heading.
let before = null;

document.addEventListener("htmx:beforeSwap", () => {
  const active = document.activeElement;
  before = active && active !== document.body ? { id: active.id } : null;
});

document.addEventListener("htmx:afterSettle", (event) => {
  const wrong = document.querySelector("main [aria-invalid=true]");
  if (wrong && event.detail.xhr?.status === 422) {
    wrong.focus();
    return;
  }
  const active = document.activeElement;
  if (!before || (active && active !== document.body && active.isConnected)) return;
  const next =
    (before.id && document.getElementById(before.id)) ||
    document.querySelector("[data-focus-after]") ||
    document.querySelector("main h1") ||
    document.querySelector("main");
  if (!next) return;
  if (!next.matches("a, button, input, select, textarea, [tabindex]")) next.tabIndex = -1;
  next.focus({ preventScroll: true });
});
