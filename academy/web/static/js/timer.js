// A start and stop button for the time of a set.  It counts on through a reload and another page,
// because only the moment of the start is kept, in this browser.  Without it seconds are typed.
const box = document.querySelector(".timer[data-practical]");
if (box) {
  const minutes = box.querySelector("[name=minutes]");
  const seconds = box.querySelector("[name=seconds]");
  const key = `timer ${box.dataset.practical} ${box.dataset.stage}`;
  const clock = document.createElement("div");
  clock.className = "timer-clock";
  const button = document.createElement("button");
  button.type = "button";
  const shown = document.createElement("output");
  clock.append(button, shown);
  box.querySelector("legend").after(clock);

  const began = () => Number(localStorage.getItem(key)) || 0;
  const held = () => 60 * (Number(minutes.value) || 0) + (Number(seconds.value) || 0);
  const write = (total) => { minutes.value = String(Math.floor(total / 60)); seconds.value = String(total % 60); };
  const passed = () => Math.max(Math.round((Date.now() - began()) / 1000), 0);
  const inWords = (total) => `${Math.floor(total / 60)}:${String(total % 60).padStart(2, "0")}`;
  let tick = 0;

  const show = () => {
    const running = began() > 0;
    button.textContent = running ? box.dataset.stop : box.dataset.start;
    button.setAttribute("aria-pressed", String(running));
    shown.textContent = running ? inWords(passed()) : held() ? inWords(held()) : "0:00";
    clearTimeout(tick);
    if (running) tick = setTimeout(show, 1000);
  };
  button.addEventListener("click", () => {
    if (began()) {
      write(passed());
      localStorage.removeItem(key);
    } else {
      localStorage.setItem(key, String(Date.now() - held() * 1000));  // goes on from what stands there
    }
    show();
  });
  // Saving while it runs takes the time so far: nobody has to stop it first.
  box.closest("form").addEventListener("submit", () => {
    if (!began()) return;
    write(passed());
    localStorage.removeItem(key);
  });
  for (const field of [minutes, seconds]) field.addEventListener("input", show);
  show();
}
