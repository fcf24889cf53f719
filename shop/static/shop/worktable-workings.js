// How a figure is worked out is asked for when somebody opens it: a key changes figures, and few of them are opened.

document.addEventListener("beforetoggle", ({ target, newState }) => {
  if (newState === "open" && target.dataset.working) fill(target);
}, true);

async function fill(popover) {
  const answer = await fetch(popover.dataset.working, { headers: { "HX-Request": "true" } }).catch(() => null);
  if (answer?.ok && !answer.redirected) popover.innerHTML = await answer.text(); // else its link leads on
}
