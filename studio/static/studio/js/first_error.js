// Puts the cursor on the first field that was refused, after a page load or a form sent by htmx; never while typing.
const focusFirst = (place) => place.querySelector?.('[aria-invalid="true"]')?.focus();

focusFirst(document);
document.addEventListener("htmx:afterSettle", (event) => {
  if (event.detail.requestConfig?.triggeringEvent?.type === "submit") focusFirst(event.detail.elt);
});
