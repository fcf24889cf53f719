// A mix is worked out while one types. The fields are never swapped, only what stands below and beside them;
// a field is marked as wrong for as long as a sentence stands at it.
document.addEventListener("htmx:afterSettle", () => {
  for (const fault of document.querySelectorAll("#ask .error[id^=fault-]")) {
    const field = document.getElementById(fault.id.replace("fault-", ""));
    if (fault.textContent.trim()) field?.setAttribute("aria-invalid", "true");
    else field?.removeAttribute("aria-invalid");
  }
});
