// The warp sheet while one types: mistakes beside their fields, opened sums stay open, units give way to typed ones.
const sheet = () => document.getElementById("sheet");
const showsUnit = /^\s*[-−]?[\d.,/ ¼½¾⅛⅜⅝⅞⅓⅔]*\s*$/;

const markFields = () => {
  const said = new Map();
  for (const line of document.querySelectorAll("#mistakes [data-field]")) {
    said.set(line.dataset.field, [...(said.get(line.dataset.field) ?? []), line.querySelector("span").textContent]);
  }
  for (const place of sheet().querySelectorAll("ul.error")) {
    const id = place.id.replace(/_error$/, "");
    const sentences = said.get(id.replace(/^id_/, "")) ?? [];
    const control = document.getElementById(id);
    place.replaceChildren(...sentences.map((text) => Object.assign(document.createElement("li"), { textContent: text })));
    place.hidden = sentences.length === 0;
    if (sentences.length) openFor(id);
    if (!control || control.matches("fieldset")) continue;
    const help = document.getElementById(`${id}_helptext`) ? `${id}_helptext` : "";
    const described = [help, sentences.length ? place.id : ""].filter(Boolean).join(" ");
    control.toggleAttribute("aria-invalid", false);
    if (sentences.length) control.setAttribute("aria-invalid", "true");
    if (described) control.setAttribute("aria-describedby", described);
    else control.removeAttribute("aria-describedby");
  }
};

const opened = new Set();
const keepOpen = (event) => {
  const key = event.target.dataset?.key;
  if (!key) return;
  opened[event.target.open ? "add" : "delete"](key);
  if (event.target.dataset.asks) askFor(event.target);
};

// While they are folded up sums and choices are left out of live answers; opened, they are asked for.
const askFor = (part) => {
  const { asks } = part.dataset;
  const wish = sheet().elements[asks];
  wish.value = document.querySelector(`details[open][data-asks="${asks}"]`) ? "open" : "";
  if (part.open && part.querySelector("[data-awaited]")) wish.dispatchEvent(new Event("input", { bubbles: true }));
};
const openAgain = (place) => {
  for (const part of place.querySelectorAll("details[data-key]")) if (opened.has(part.dataset.key)) part.open = true;
};

const openFor = (id) => {
  for (let part = document.getElementById(id)?.closest("details"); part; part = part.parentElement.closest("details")) part.open = true;
};

document.addEventListener("toggle", keepOpen, true);
// Browsers bring only the caret of a tall field into sight, and leave the rest of it under the bar.
document.addEventListener("focusin", (event) => {
  if (event.target.matches("#sheet textarea")) event.target.scrollIntoView({ block: "nearest" });
});
document.addEventListener("input", (event) => {
  const unit = event.target.closest?.(".field-unit")?.querySelector(".unit");
  if (unit) unit.hidden = !showsUnit.test(event.target.value);
});
document.addEventListener("click", (event) => {
  const link = event.target.closest?.('a[href^="#id_"]');
  if (!link) return;
  const id = link.hash.slice(1);
  openFor(id);
  const target = document.getElementById(id);
  const control = target?.matches("fieldset, div") ? target.querySelector("input") : target;
  if (!control) return;
  event.preventDefault();
  control.focus();
});
// A button that redraws the whole sheet would lose the cursor; it goes on to what the button was for.
const AFTER = { try_width: "#plan-pane", wind_chains: "#plan-pane", add_yarn: ".yarn-row:last-of-type [name$='-yarn']", remove_yarn: "[name='add_yarn']", fill: "#id_draw_in" };

document.addEventListener("htmx:afterSwap", (event) => {
  const next = AFTER[event.detail.requestConfig?.elt?.name];
  if (next) document.querySelector(next)?.focus();
  openAgain(document.getElementById("sheet-page") ?? document);
  if (event.detail.target.id === "plan") markFields();
  hideWorkOut();
});

// With scripts the plan follows by itself; the button stays only as what the Enter key presses.
const hideWorkOut = () => {
  for (const button of document.querySelectorAll("[data-work-out]")) button.hidden = true;
};
hideWorkOut();
