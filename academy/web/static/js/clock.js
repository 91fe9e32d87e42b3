// Says when ten and two minutes of an examination are left, and when they are over.
// The server's clock counts; the page shows when the time ends without this module.
const box = document.querySelector(".time-left[data-ends]");
if (box) {
  const says = box.querySelector("[role=status]");
  const ahead = Date.parse(box.dataset.now) - Date.now();
  const left = () => Date.parse(box.dataset.ends) - (Date.now() + ahead);
  const at = (minutes, words) => {
    const wait = left() - minutes * 60_000;
    if (wait > 0) setTimeout(() => { says.textContent = words; }, wait);
  };
  at(10, box.dataset.ten);
  at(2, box.dataset.two);
  at(0, box.dataset.over);
  if (left() > 0 && left() <= 120_000) says.textContent = box.dataset.two;
}
