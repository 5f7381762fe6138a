// A grid to point at instead of typing: choose a yarn, then the cell where its stripe ends. It only writes the field.
const CELLS = 48;

const make = (tag, properties, ...children) => {
  const made = Object.assign(document.createElement(tag), properties);
  made.append(...children);
  return made;
};

const codes = () => [...document.querySelectorAll('[name^="yarns-"][name$="-code"]')].map((field) => field.value.trim()).filter(Boolean);

const append = (field, ends, code) => {
  const before = field.value.trim().replace(/[,;]$/, "");
  field.value = before ? `${before}, ${ends} ${code}` : `${ends} ${code}`;
  field.dispatchEvent(new Event("input", { bubbles: true }));
};

// Where the last stripe begins; a bracket, with how many times it stands, is one stripe.
const lastStripe = (text) => {
  let depth = 0;
  for (let at = text.length - 1; at >= 0; at -= 1) {
    if (text[at] === ")") depth += 1;
    if (text[at] === "(") depth -= 1;
    if (depth <= 0 && ",;\n".includes(text[at])) return at;
  }
  return 0;
};

const undo = (field) => {
  const text = field.value.trim().replace(/[,;]+$/, "");
  field.value = text.slice(0, lastStripe(text)).trim();
  field.dispatchEvent(new Event("input", { bubbles: true }));
};

const rove = (event, items) => {
  const step = { ArrowRight: 1, ArrowDown: 1, ArrowLeft: -1, ArrowUp: -1 }[event.key];
  const at = items.indexOf(event.target);
  if (!step || at < 0) return;
  event.preventDefault();
  const next = items[(at + step + items.length) % items.length];
  for (const item of items) item.tabIndex = item === next ? 0 : -1;
  next.focus();
};

const build = () => {
  const place = document.getElementById("order-picker");
  const field = document.getElementById("id_colour_order");
  if (!place || !field || codes().length < 2) {
    if (place) place.hidden = true;
    return;
  }
  const chosen = codes().includes(place.dataset.yarn) ? place.dataset.yarn : codes()[0];
  place.dataset.yarn = chosen;
  const yarns = codes().map((code) => {
    const button = make("button", { type: "button", textContent: code, tabIndex: code === chosen ? 0 : -1 });
    button.setAttribute("role", "radio");
    button.setAttribute("aria-checked", String(code === chosen));
    return button;
  });
  const cells = Array.from({ length: CELLS }, (_, at) => {
    const cell = make("button", { type: "button", textContent: (at + 1) % 4 ? "" : at + 1, tabIndex: at ? -1 : 0 });
    cell.dataset.ends = at + 1;
    cell.setAttribute("aria-label", `${at + 1} ${at ? "ends" : "end"}`);
    return cell;
  });
  const bar = make("div", { className: "order-yarns" }, ...yarns);
  bar.setAttribute("role", "radiogroup");
  bar.setAttribute("aria-label", "Yarn of the next stripe");
  const grid = make("div", { className: "order-cells" }, ...cells);
  grid.setAttribute("role", "group");
  grid.setAttribute("aria-label", "How many ends it has");
  const back = make("button", { type: "button", className: "order-undo", textContent: "Take back the last stripe" });
  const words = make("p", { className: "hint", textContent: "Or choose a yarn, then how far its stripe goes:" });
  bar.addEventListener("click", (event) => { if (yarns.includes(event.target)) choose(event.target.textContent, place); });
  bar.addEventListener("keydown", (event) => {
    rove(event, yarns);
    if (event.key.startsWith("Arrow") && yarns.includes(document.activeElement)) choose(document.activeElement.textContent, place);
  });
  grid.addEventListener("keydown", (event) => rove(event, cells));
  grid.addEventListener("click", (event) => { if (event.target.dataset.ends) append(field, event.target.dataset.ends, place.dataset.yarn); });
  back.addEventListener("click", () => undo(field));
  place.replaceChildren(words, bar, grid, make("div", {}, back));
  place.hidden = false;
};

const choose = (code, place) => {
  place.dataset.yarn = code;
  for (const button of place.querySelectorAll('[role="radio"]')) {
    const on = button.textContent === code;
    button.setAttribute("aria-checked", String(on));
    button.tabIndex = on ? 0 : -1;
  }
};

build();
document.addEventListener("change", (event) => { if (/^yarns-.*-code$/.test(event.target.name ?? "")) build(); });
document.addEventListener("htmx:afterSwap", (event) => { if (event.detail.target.id !== "plan") build(); });
