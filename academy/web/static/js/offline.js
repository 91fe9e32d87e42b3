// At the panel without a network: what is entered is kept in this browser and sent when it is back.
// Everything works without this module as long as there is a network.
import { drop, find, keep, newId, waiting } from "./kept.js";
import { ask, sendWaiting } from "./sending.js";

const AGAIN_MS = 15_000;
const panel = document.querySelector("[data-practical][data-recorded]");
const form = document.querySelector("form[data-step]");

if (panel && "indexedDB" in window) {
  const { practical, recorded, person } = panel.dataset;
  const says = document.createElement("p");
  says.className = "kept";
  says.setAttribute("role", "status");
  says.hidden = true;
  panel.prepend(says);

  const tell = (text, url) => {
    says.hidden = !text;
    says.textContent = text;
    if (!url) return;
    const link = document.createElement("a");
    link.href = url;
    link.textContent = ` ${panel.dataset.open}`;
    says.append(link);
  };

  const send = async () => {
    const result = await sendWaiting(practical, recorded);
    if (result.refused) tell(`${panel.dataset.refused} ${result.refused}`, result.stage);
    else if (result.left) tell((result.signedOut ? panel.dataset.signedOut : panel.dataset.waiting).replace("{count}", result.left));
    else if (result.sent) {
      tell(panel.dataset.sent);
      if (!form) location.reload();
    }
    return result;
  };

  window.addEventListener("online", send);
  setInterval(async () => { if ((await waiting(practical)).length) send(); }, AGAIN_MS);
  if (form) enter(form, { practical, recorded, person, panel, tell, send });
  else forget(recorded).then(send);
  prepare();
}

/** Drop the drafts of steps that the server has. */
async function forget(recorded) {
  const stands = await ask(recorded);
  for (const link of document.querySelectorAll(".steps a")) {
    const place = new URL(link.href).pathname;
    const draft = await find("drafts", place);
    if (draft && stands?.recorded.includes(draft.step_id)) await drop("drafts", place);
  }
}

/** Let the worker keep the pages of the stages ahead, where the connection allows a worker. */
async function prepare() {
  if (!("serviceWorker" in navigator) || !panel.dataset.worker) return;
  try {
    await navigator.serviceWorker.register(panel.dataset.worker, { scope: "/" });
    const ready = await navigator.serviceWorker.ready;
    const pages = panel.dataset.pages.split(" ").filter(Boolean);
    const files = [...document.querySelectorAll("link[rel=stylesheet], script[src]")].map((one) => one.href || one.src);
    ready.active.postMessage({ pages, files: [...files, ...panel.dataset.files.split(" ")] });
  } catch {
    // over plain HTTP, or in a private window: the form still keeps what was typed
  }
}

async function enter(form, { practical, recorded, person, panel, tell, send }) {
  const place = location.pathname;
  const id = form.elements.step_id;
  const others = await waiting(practical);
  const again = others.find((step) => step.url === place && step.refused);
  const draft = await find("drafts", place);
  const fresh = !form.closest("main").querySelector(".fault, .faults");
  if (again) {
    restore(form, again.fields);
    await drop("steps", again.step_id);
    tell(`${panel.dataset.refused} ${again.refused}`);
  } else if (draft && fresh) {
    const stands = await ask(recorded);
    if (stands?.recorded.includes(draft.step_id) || others.some((step) => step.step_id === draft.step_id)) {
      await drop("drafts", place);
    } else {
      restore(form, draft.fields);
      id.value = draft.step_id;
      tell(panel.dataset.again);
    }
  }
  // a page out of the worker's store has an id that may wait or be recorded already
  if (others.some((step) => step.step_id === id.value)) id.value = newId();
  if (others.length) send();

  let soon = 0;
  form.addEventListener("input", () => {
    clearTimeout(soon);
    soon = setTimeout(() => keep("drafts", { place, step_id: id.value, fields: fieldsOf(form) }), 250);
  });

  form.addEventListener("submit", async (event) => {
    if (event.submitter?.name === "understand") return;
    event.preventDefault();
    clearTimeout(soon);
    await keep("drafts", { place, step_id: id.value, fields: fieldsOf(form) });
    const before = await send();
    const stands = before.left ? null : await ask(recorded);
    if (stands && stands.person === person) {
      form.elements.csrf_token.value = stands.token;
      form.submit();
      return;
    }
    const ahead = (await waiting(practical)).length;
    const fields = fieldsOf(form).map(([name, value]) =>
      name === "version" ? [name, String(Number(value) + ahead)] : [name, value]);
    await keep("steps", { step_id: id.value, practical, person, url: place, fields, at: Date.now(), refused: "" });
    await drop("drafts", place);
    tell((stands ? panel.dataset.signedOut : panel.dataset.waiting).replace("{count}", ahead + 1));
    if (navigator.serviceWorker?.controller && panel.dataset.following) location.assign(panel.dataset.following);
    else id.value = newId();
  });
}

function fieldsOf(form) {
  return [...new FormData(form)].filter(([name, value]) =>
    name !== "csrf_token" && !(value instanceof File && !value.size));
}

function restore(form, fields) {
  const files = new Map();
  for (const [name, value] of fields) {
    if (name === "version" || name === "step_id") continue;
    if (value instanceof File) { files.set(name, [...(files.get(name) || []), value]); continue; }
    for (const control of form.querySelectorAll(`[name="${CSS.escape(name)}"]`)) {
      if (["radio", "checkbox"].includes(control.type)) control.checked ||= control.value === value;
      else control.value = value;
    }
  }
  for (const [name, kept] of files) {
    const control = form.querySelector(`input[type=file][name="${CSS.escape(name)}"]`);
    if (!control) continue;
    const transfer = new DataTransfer();
    for (const file of kept) transfer.items.add(file);
    control.files = transfer.files;
  }
}
