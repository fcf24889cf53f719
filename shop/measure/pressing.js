// Runs in the measured page: the time from a key going down to what answers it being painted.
window.pressed = { waits: "", waiting: null };
window.pressed.await = (kind) => {
  window.pressed.waits = kind;
  offers.disconnect();
  if (kind === "offers") offers.observe(document.body, { childList: true, subtree: true, attributes: true });
  window.pressed.waiting = null;
  window.pressed.next = new Promise((tell, fail) => {
    window.pressed.tell = tell;
    setTimeout(() => fail(new Error("Nothing answered the key in 20 s.")), 20_000);
  });
};
const told = (kind) => {
  const now = window.pressed;
  if (!now.waiting || now.waits !== kind || now.waiting.told) return;
  now.waiting.told = performance.now();
  requestAnimationFrame(() => {
    const painted = new MessageChannel(); // its message comes after the frame has been painted
    painted.port1.onmessage = () => {
      now.tell({ ...now.waiting, painted: performance.now() });
      now.waiting = null;
    };
    painted.port2.postMessage(0);
  });
};
const offers = new MutationObserver((changes) => changes.some(({ target }) => target.closest?.(".offers")) && told("offers"));
addEventListener("keydown", (event) => {
  if (window.pressed.waits && event.key.length === 1) window.pressed.waiting = { at: event.timeStamp };
}, true);
const note = (name) => (event) => {
  if (window.pressed.waiting && event.detail?.elt?.id !== "watch") window.pressed.waiting[name] = performance.now();
};
addEventListener("DOMContentLoaded", () => {
  document.addEventListener("worktable:asked", note("sent")); // what is typed
  document.addEventListener("worktable:answered", note("answered"));
  document.addEventListener("worktable:told", () => told("fragment"));
  document.addEventListener("htmx:beforeSend", note("sent")); // a deed
  document.addEventListener("htmx:beforeOnLoad", note("answered"));
  document.addEventListener("htmx:afterRequest", (event) => event.detail.elt?.id !== "watch" && told("fragment"));
  document.addEventListener("worktable:drawn", () => told("drawn"));
  document.addEventListener("focusin", () => told("focus"));
});
