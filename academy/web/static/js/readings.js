// Readings with gloves on: the leading digits stay, at most three taps a reading, the spot moves on
// by itself.  A gauge that types digits and Enter or Tab fills one box after another.  The form
// works without this module; what is understood, asked or refused is the server's answer.

/** Digits typed for one reading: tens and ones, and the decimals the gauge shows; never more than three. */
export const taps = (decimals) => Math.min(2 + decimals, 3);

/**
 * The reading meant by its last digits: of all that end in them the one nearest to what is usual here.
 * @param {string} digits   as tapped, for example "124"
 * @param {number} decimals of the gauge, 0 to 2
 * @param {number} usual    about what a reading here is, in micrometres
 */
export function nearest(digits, decimals, usual) {
  const part = Number(digits) / 10 ** decimals;
  const span = 10 ** (digits.length - decimals);
  const steps = Math.max(Math.round((usual - part) / span), 0);
  const value = part + steps * span;
  return (value > 0 ? value : value + span).toFixed(decimals);
}

const median = (values) => {
  const sorted = [...values].sort((a, b) => a - b);
  const middle = sorted.length >> 1;
  return sorted.length % 2 ? sorted[middle] : (sorted[middle - 1] + sorted[middle]) / 2;
};

const entry = document.querySelector(".reading-entry[data-usual]");
if (entry) {
  const form = entry.closest("form");
  const boxes = [...entry.querySelectorAll("input[data-needed]")];
  const all = [...entry.querySelectorAll("input[name^='reading-']")];
  const decimals = Number(entry.dataset.decimals);
  const save = [...form.querySelectorAll("button")].at(-1);
  const spotOf = (box) => box.name.split("-")[1];
  const read = (box) => Number(box.value.replace(",", "."));
  let current = null;
  let digits = "";
  let says = null;

  const usual = (box) => {
    const here = all.filter((other) => other !== box && spotOf(other) === spotOf(box) && read(other) > 0);
    const values = (here.length ? here : all.filter((other) => other !== box && read(other) > 0)).map(read);
    return values.length ? median(values) : Number(entry.dataset.usual);
  };

  const show = () => {
    for (const box of all) box.toggleAttribute("data-current", box === current);
    if (!says) return;
    const [, spot, number] = current ? current.name.split("-") : [];
    says.querySelector("b").textContent = current
      ? entry.dataset.at.replace("{spot}", spot).replace("{number}", number) : entry.dataset.done;
    says.querySelector("output").textContent = digits || (current && current.value) || "";
  };

  const go = (box) => {
    current = box || null;
    digits = "";
    if (current) {
      current.focus({ preventScroll: true });
      current.scrollIntoView({ block: "center", behavior: "instant" });
      current.select();
    } else {
      save.focus();
    }
    show();
  };

  /** The next box that is still empty, in the order in which spots are read. */
  const onward = (box) => {
    const from = boxes.indexOf(box);
    return boxes.slice(from + 1).find((other) => !other.value) || boxes.find((other) => !other.value);
  };

  entry.addEventListener("focusin", (event) => {
    if (event.target.matches("input[name^='reading-']") && event.target !== current) {
      current = event.target;
      digits = "";
      show();
    }
  });

  // A gauge that types ends each reading with Enter (or Tab, which moves on by itself).
  entry.addEventListener("keydown", (event) => {
    if (event.key !== "Enter" || !event.target.matches("input[name^='reading-']")) return;
    event.preventDefault();
    if (event.target.value.trim()) go(onward(event.target));
  });

  // Several readings pasted at once are taken apart by the server.
  entry.addEventListener("paste", (event) => {
    const text = event.clipboardData.getData("text");
    if (!event.target.matches("input[name^='reading-']") || !/[\n\t;]|\s\d/.test(text.trim())) return;
    event.preventDefault();
    form.querySelector("#column").value = text;
    form.querySelector("button[name=understand]").click();
  });

  const tap = (digit) => {
    if (!current) return;
    digits += digit;
    if (digits.length < taps(decimals)) return show();
    current.value = nearest(digits, decimals, usual(current));
    current.dispatchEvent(new Event("input", { bubbles: true }));
    go(onward(current));
  };

  const undo = () => {
    if (digits) { digits = ""; return show(); }
    const filled = boxes.filter((box) => box.value);
    const last = current && current.value ? current : filled.at(-1);
    if (!last) return;
    last.value = "";
    last.dispatchEvent(new Event("input", { bubbles: true }));
    go(last);
  };

  /** The reading just taken, a hundred further: for paint unlike what is usual here. */
  const further = () => {
    const last = boxes.filter((box) => box.value).at(-1);
    if (!last) return;
    const span = 10 ** (taps(decimals) - decimals);
    last.value = (read(last) + span).toFixed(decimals);
    last.dispatchEvent(new Event("input", { bubbles: true }));
    show();
  };

  const key = (label, act, name) => {
    const button = document.createElement("button");
    button.type = "button";
    button.textContent = label;
    if (name) button.className = name;
    button.addEventListener("pointerdown", (event) => event.preventDefault());  // the box keeps the focus
    button.addEventListener("click", act);
    return button;
  };

  const pad = document.createElement("div");
  pad.className = "number-pad";
  pad.setAttribute("role", "group");
  pad.setAttribute("aria-label", entry.dataset.keys);
  says = document.createElement("p");
  says.innerHTML = "<b></b> <output></output>";
  pad.append(says);
  for (const digit of ["1", "2", "3", "4", "5", "6", "7", "8", "9"]) pad.append(key(digit, () => tap(digit)));
  pad.append(key(entry.dataset.undo, undo, "undo"), key("0", () => tap("0")), key(`+${10 ** (taps(decimals) - decimals)}`, further, "up"));

  const own = key("", () => usePad(pad.hidden), "own-keys");
  const usePad = (on) => {
    pad.hidden = !on;
    document.body.toggleAttribute("data-number-pad", on);
    own.textContent = on ? entry.dataset.own : entry.dataset.pad;
    for (const box of all) box.inputMode = on ? "none" : "decimal";
    show();
  };
  entry.before(own);
  form.append(pad);
  const faulty = entry.querySelector("input[aria-invalid]");
  usePad(navigator.maxTouchPoints > 0);
  go(faulty || onward(null) || null);
}
