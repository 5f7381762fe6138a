// Loaded plainly in <head>, before paint, so that a chosen scheme never flashes the other one.
(() => {
  const root = document.documentElement;
  const key = "warproom-scheme";

  const kept = () => {
    try { return localStorage.getItem(key) || "device"; } catch { return "device"; }
  };
  const apply = (choice) => {
    if (choice === "device") delete root.dataset.theme;
    else root.dataset.theme = choice;
  };
  const show = (choice) => {
    for (const button of document.querySelectorAll("[data-theme-choice]")) {
      button.setAttribute("aria-pressed", String(button.dataset.themeChoice === choice));
    }
  };

  apply(kept());
  document.addEventListener("DOMContentLoaded", () => {
    for (const group of document.querySelectorAll("[data-theme-switch]")) group.hidden = false;
    show(kept());
  });
  document.addEventListener("click", (event) => {
    const button = event.target.closest?.("[data-theme-choice]");
    if (!button) return;
    const choice = button.dataset.themeChoice;
    try { localStorage.setItem(key, choice); } catch { /* a private window keeps nothing: fine */ }
    apply(choice);
    show(choice);
  });
})();
