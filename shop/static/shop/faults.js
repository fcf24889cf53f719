// A field whose sentence has come or gone says so to those who cannot see it.
document.addEventListener("htmx:afterSettle", () => {
  for (const slot of document.querySelectorAll("[data-fault-of]")) {
    const field = document.getElementById(slot.dataset.faultOf);
    if (slot.textContent.trim()) field?.setAttribute("aria-invalid", "true");
    else field?.removeAttribute("aria-invalid");
  }
});
