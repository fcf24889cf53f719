// The lines of the parts list: which one the keys are in, and what points at it from the drawing.
import { isTyping, onKey } from "./keys.js";
import { light, look } from "./worktable-drawings.js";

const KIT = { group: "kit" };
const NOW = { ...KIT, now: true }; // every change of a draft can be undone
const byId = (id) => document.getElementById(id);

export const lines = () => [...document.querySelectorAll("#parts tbody[data-part]")];
export const here = () => document.activeElement?.closest?.("tbody[data-part]");

export function focusLine(number) {
  const all = lines();
  if (!all.length) return;
  const line = all[Math.min(Math.max(number, 1), all.length) - 1];
  line.querySelector("summary").focus({ preventScroll: true });
  line.scrollIntoView({ block: "nearest" });
}

const move = (step) => () => focusLine(here() ? Number(here().dataset.part) + step : 1);
onKey("j", "next line", move(1), NOW);
onKey("k", "line above", move(-1), NOW);
onKey("s", "take the first substitute of the line", () => (here() ?? lines().find((l) => l.querySelector(".alt [data-take]")))?.querySelector("[data-take]")?.click(), NOW);
onKey("-", "take the line off, or leave its job out", () => here()?.querySelector("[data-remove]")?.click(), NOW);
onKey("f", "fill from what is free, or as suits best", () => {
  const fill = byId("fill");
  if (!fill) return;
  fill.selectedIndex = 1 - fill.selectedIndex;
  fill.dispatchEvent(new Event("input", { bubbles: true }));
}, NOW);
onKey("e", "the enclosure", () => byId("enclosure")?.focus(), KIT);
onKey("d", "the depths", async () => {
  const depth = () => document.querySelector("[data-depth-field] input");
  if (!depth()?.getClientRects().length) await look(byId("tab-section")); // the other drawings have no place for them
  depth()?.focus();
}, { group: "drawing" });
onKey("↑ ↓", "line above, line below", () => {}, KIT);
onKey("Enter", "open the line: why, and what else would do", () => {}, KIT);
document.addEventListener("keydown", (event) => {
  if (isTyping(event.target) || !here() || event.ctrlKey || event.metaKey || event.altKey) return;
  if (event.key !== "ArrowDown" && event.key !== "ArrowUp") return;
  event.preventDefault();
  move(event.key === "ArrowDown" ? 1 : -1)();
});

const partOf = (target) => {
  const mark = target.closest?.("#parts [data-part], #drawing [data-callout], #drawing [data-part]");
  return mark?.dataset.callout ?? mark?.dataset.part;
};
document.addEventListener("pointerover", (event) => light(partOf(event.target) ?? here()?.dataset.part));
document.addEventListener("focusin", (event) => light(partOf(event.target)));
document.addEventListener("click", (event) => {
  const mark = event.target.closest?.("#drawing [data-callout], #drawing [data-part]");
  if (mark) focusLine(Number(mark.dataset.callout ?? mark.dataset.part));
});

