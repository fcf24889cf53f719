// Forms post once, the token is always today's, undo has a key, and a row opens what it names.
import { onKey } from "./keys.js";

export function cookie(name) {
  const found = document.cookie.split("; ").find((pair) => pair.startsWith(`${name}=`));
  return found ? decodeURIComponent(found.slice(name.length + 1)) : "";
}

// A plain form is sent once; htmx sends one request for an element at a time by itself.
document.addEventListener("submit", (event) => {
  const form = event.target;
  if (event.defaultPrevented || form.method !== "post" || form.hasAttribute("hx-post")) return;
  if (form.getAttribute("aria-busy") === "true") {
    event.preventDefault();
    return;
  }
  form.setAttribute("aria-busy", "true");
  const token = form.elements.namedItem("csrfmiddlewaretoken");
  if (token && cookie("csrftoken")) token.value = cookie("csrftoken"); // signing in elsewhere changed it
});
window.addEventListener("pageshow", () => {
  for (const form of document.querySelectorAll("form[aria-busy]")) form.removeAttribute("aria-busy");
});

// Not the worktable, which answers every key: its buttons would fade and come back at each of them.
document.addEventListener("htmx:beforeRequest", ({ detail }) => detail.elt.matches(".table") || detail.elt.setAttribute("aria-busy", "true"));
document.addEventListener("htmx:afterRequest", ({ detail }) => detail.elt.removeAttribute("aria-busy"));

// Signing in again changes the token; the cookie knows the one that counts.
document.addEventListener("htmx:configRequest", (event) => {
  if (event.detail.verb === "get") return;
  event.detail.headers["X-CSRFToken"] = cookie("csrftoken");
  event.detail.parameters.delete?.("csrfmiddlewaretoken");
});

document.addEventListener("htmx:sendError", () => (say("The shop's computer does not answer. Nothing was sent.").dataset.silence = ""));
for (const answer of ["htmx:beforeOnLoad", "worktable:answered"])
  document.addEventListener(answer, () => document.querySelector("[data-silence]")?.remove()); // it answers again
document.addEventListener("htmx:responseError", (event) => {
  if (event.detail.xhr.status >= 500) say("Something went wrong here; nothing was changed. Try again.");
});

export function say(sentence) {
  const notice = document.createElement("div");
  notice.className = "notice";
  notice.textContent = sentence;
  document.getElementById("notices")?.replaceChildren(notice);
  return notice;
}

document.addEventListener("click", (event) => {
  const close = event.target.closest?.("[data-close-notice]");
  if (close) close.closest(".notice").remove();
  const row = event.target.closest?.("tr[data-href]");
  if (row && !event.target.closest("a, button, input, select, label") && !getSelection().toString())
    location.assign(row.dataset.href);
});

onKey("z", "undo what was just done", () => document.querySelector(".notice .undo")?.click());
