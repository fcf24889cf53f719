// The session's clock: a warning before it ends, one key to stay, and signing in again without losing a word.
import { cookie } from "./forms.js";

const WARN_S = 120;
const HEADER = "X-Session-Seconds";
const dialog = () => document.getElementById("session");
let ends = 0;
let timer = null;
let waiting = []; // requests that met an ended session

function start(seconds) {
  ends = Date.now() + seconds * 1000;
  clearTimeout(timer);
  timer = setTimeout(warn, Math.max(seconds - WARN_S, 0) * 1000);
}

function warn() {
  const left = Math.round((ends - Date.now()) / 1000);
  const words = dialog().querySelector("[data-left]");
  if (left <= 0) {
    words.textContent = "You have been signed out. What you typed is still here: sign in and carry on.";
    dialog().querySelector("[data-stay]").hidden = true;
  } else {
    words.textContent = `You will be signed out in ${left > 90 ? "two minutes" : left + " seconds"}.`;
    timer = setTimeout(warn, left > 20 ? 10_000 : 1_000);
  }
  if (!dialog().open) dialog().showModal();
}

async function stay() {
  const answer = await fetch(dialog().dataset.stay, {
    method: "POST",
    headers: { "X-CSRFToken": cookie("csrftoken"), "X-Requested-With": "fetch" },
  });
  if (answer.ok) {
    start(Number(answer.headers.get(HEADER)));
    dialog().close();
  }
}

// An ended session met by a fragment: the sign-in form comes as a dialog, then the same request goes again.
document.addEventListener("htmx:beforeSwap", (event) => {
  if (event.detail.xhr.status !== 401) return;
  event.detail.shouldSwap = false;
  event.stopImmediatePropagation();
  waiting.push(event.detail.requestConfig);
  const again = document.getElementById("sign-in-again");
  again.querySelector("[data-form]").innerHTML = event.detail.xhr.responseText;
  if (!again.open) again.showModal();
  toFill(again)?.focus();
}, true);

function toFill(again) {
  const fields = [...again.querySelectorAll("input:not([type=hidden])")];
  return fields.find((field) => field.getAttribute("aria-invalid") === "true") ?? fields.find((field) => !field.value) ?? fields[0];
}

async function signInAgain(form) {
  const data = new FormData(form);
  const answer = await fetch(form.action, {
    method: "POST",
    body: data,
    headers: { "X-CSRFToken": cookie("csrftoken"), "HX-Request": "true" },
  });
  const again = document.getElementById("sign-in-again");
  if (answer.status !== 204) {
    again.querySelector("[data-form]").innerHTML = await answer.text();
    toFill(again)?.focus();
    return;
  }
  again.close();
  start(Number(answer.headers.get(HEADER)));
  for (const field of document.querySelectorAll("input[name=csrfmiddlewaretoken]")) field.value = cookie("csrftoken");
  for (const config of waiting.splice(0)) repeat(config);
}

function repeat(config) {
  const elt = config.elt.isConnected ? config.elt : document.body;
  window.htmx.ajax(config.verb, config.path, { source: elt, target: config.target, values: config.unfilteredParameters ?? config.parameters });
}

document.addEventListener("submit", (event) => {
  if (!event.target.closest("#sign-in-again")) return;
  event.preventDefault();
  signInAgain(event.target);
}, true);
document.addEventListener("click", (event) => {
  if (event.target.closest?.("[data-stay]:not(dialog)")) stay();
});
document.addEventListener("htmx:afterRequest", ({ detail }) => tellTime(detail.xhr?.getResponseHeader(HEADER)));
document.addEventListener("worktable:answered", ({ detail }) => tellTime(detail.headers.get(HEADER)));

function tellTime(seconds) {
  if (seconds) start(Number(seconds));
}

const seconds = Number(document.body.dataset.sessionSeconds);
if (seconds > 0 && dialog()) start(seconds);
