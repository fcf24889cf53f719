// Counting out by scanner: each scan of a lot, an item code or a barcode counts one more on its line.
const rows = () => [...document.querySelectorAll("#handover tr[data-codes]")];
const said = () => document.getElementById("scanned");
const field = (row) => row.querySelector("input.quantity");
let counting = false;

function mark(row) {
  const isFull = Number(field(row).value) >= Number(row.dataset.wanted);
  row.classList.toggle("marked", counting && isFull);
}

document.addEventListener("click", (event) => {
  if (!event.target.closest?.("#count-out")) return;
  counting = true;
  for (const row of rows()) {
    field(row).value = "0";
    mark(row);
  }
  said().textContent = "Nothing counted yet. Scan what leaves.";
});

document.addEventListener("scan", (event) => {
  const code = event.detail.text.trim();
  const named = rows().filter((row) => row.dataset.codes.toUpperCase().split(" ").includes(code.toUpperCase()));
  if (!named.length) return;
  event.preventDefault();
  if (!counting) document.getElementById("count-out").click();
  const row = named.find((one) => Number(field(one).value) < Number(one.dataset.wanted));
  if (!row) {
    said().textContent = `${code}: all that is ordered is counted already.`;
    return;
  }
  field(row).value = String(Number(field(row).value) + 1);
  mark(row);
  said().textContent = `${field(row).value} of ${row.dataset.wanted}: ${row.cells[0].firstChild.textContent}`;
});

document.addEventListener("htmx:afterSettle", () => {
  counting = false;
});
