// A comfort of the calendar: arrow keys walk its links, which Tab reaches one by one.
const cells = (row) => [...row.querySelectorAll("td a, th a")];
const middle = (box) => box.left + box.width / 2;

const nearest = (row, from) => cells(row)
  .map((link) => ({ link, box: link.getBoundingClientRect() }))
  .sort((one, other) => Math.abs(middle(one.box) - from) - Math.abs(middle(other.box) - from))[0]?.link;

document.querySelector(".week")?.addEventListener("keydown", (event) => {
  const row = event.target.closest("tbody tr");
  if (!row || event.altKey || event.ctrlKey || event.metaKey || event.shiftKey) return;
  const across = { ArrowLeft: -1, ArrowRight: 1 }[event.key];
  const down = { ArrowUp: row.previousElementSibling, ArrowDown: row.nextElementSibling }[event.key];
  const links = cells(row);
  const next = across ? links[links.indexOf(event.target) + across]
    : down && nearest(down, middle(event.target.getBoundingClientRect()));
  if (!next) return;
  event.preventDefault();
  next.focus();
});
