// Closes an open member's menu on Escape or on a click elsewhere, and gives [data-print] buttons their deed.
const openMenu = () => document.querySelector(".member-menu[open]");

document.addEventListener("keydown", (event) => {
  const menu = openMenu();
  if (event.key !== "Escape" || !menu) return;
  menu.open = false;
  menu.querySelector("summary").focus();
});
document.addEventListener("click", (event) => {
  const menu = openMenu();
  if (menu && !menu.contains(event.target)) menu.open = false;
  if (event.target.closest("[data-print]")) window.print();
});
for (const button of document.querySelectorAll("[data-print]")) button.hidden = false;
