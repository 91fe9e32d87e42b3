// Escape puts away the meaning that stands below a word the keyboard is on.
// Without this module the meaning goes when the keyboard moves on.
document.addEventListener("keydown", (event) => {
  const word = document.activeElement;
  if (event.key === "Escape" && word?.matches("button.term")) word.dataset.dismissed = "";
});
document.addEventListener("focusout", (event) => {
  if (event.target.matches("button.term")) delete event.target.dataset.dismissed;
});
