// Says so in the messages place when a live request could not be sent or was not answered well.
const say = (words) => {
  const place = document.getElementById("messages");
  const note = document.createElement("p");
  note.className = "notice notice-stop";
  note.textContent = words;
  place.replaceChildren(note);
};

document.addEventListener("htmx:sendError", () => say("The network is out of reach. What you see may be old, and nothing was saved."));
document.addEventListener("htmx:timeout", () => say("No answer came in time. Try again."));
document.addEventListener("htmx:responseError", (event) => {
  const refused = event.detail.xhr.status === 403;
  say(refused ? "You may not do that here, or you were signed out. Load the page again." : "Something went wrong here. Your work on this page is still in front of you; try again.");
});
