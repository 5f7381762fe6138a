// Warns before leaving a changed form: <form data-warn-unsaved>. A form that came back with errors counts as changed.
const selector = "form[data-warn-unsaved]";

const mark = (event) => {
  const form = event.target.form;
  if (form?.matches(selector)) form.dataset.changed = "";
};

document.addEventListener("input", mark);
document.addEventListener("change", mark);
document.addEventListener("submit", (event) => delete event.target.dataset.changed);
window.addEventListener("beforeunload", (event) => {
  const unsaved = document.querySelector(`${selector}[data-changed], ${selector}:has([aria-invalid="true"])`);
  if (unsaved && !unsaved.dataset.leaving) event.preventDefault();
});
document.addEventListener("submit", (event) => { event.target.dataset.leaving = "yes"; });
document.addEventListener("htmx:afterRequest", (event) => { delete event.target.closest?.("form")?.dataset.leaving; });
