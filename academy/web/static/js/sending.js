// Steps that wait are sent in order with a fresh token, one after another; the same step sent twice
// is answered and not doubled, because its id was made when it was entered.
import { drop, keep, waiting } from "./kept.js";

const PATIENCE_MS = 6000;

/** Ask the server what it has of a practical, with a token for sending; null without a network. */
export async function ask(url) {
  try {
    const answer = await fetch(url, { cache: "no-store", signal: AbortSignal.timeout(PATIENCE_MS) });
    if (answer.redirected) return { token: "", person: "", recorded: [], signedOut: true };
    return answer.ok ? await answer.json() : null;
  } catch {
    return null;
  }
}

function faults(html) {
  const page = new DOMParser().parseFromString(html, "text/html");
  const found = [...page.querySelectorAll(".faults li, p.fault")].map((fault) => fault.textContent.trim());
  return [...new Set(found)].join(" ");
}

async function sendOne(step, token) {
  const form = new FormData();
  for (const [name, value] of step.fields) form.append(name, value);
  form.set("csrf_token", token);
  const answer = await fetch(step.url, { method: "POST", body: form });
  if (answer.redirected) return "";
  return faults(await answer.text()) || `${answer.status}`;
}

/**
 * Send what waits of one practical; return how many still wait and the first sentence that refuses one.
 * Only the person who entered a step sends it: a tablet is shared.
 */
export async function sendWaiting(practical, url) {
  let steps = await waiting(practical);
  if (!steps.length) return { left: 0, refused: "", sent: 0, signedOut: false };
  const stands = await ask(url);
  if (!stands) return { left: steps.length, refused: "", sent: 0, signedOut: false };
  let sent = 0;
  for (const step of steps.filter((one) => one.person === stands.person)) {
    if (stands.recorded.includes(step.step_id)) {
      await drop("steps", step.step_id);
      sent += 1;  // it arrived although the answer did not
      continue;
    }
    if (step.refused) break;
    try {
      step.refused = await sendOne(step, stands.token);
    } catch {
      break;  // the network went again: it stays
    }
    if (step.refused) {
      await keep("steps", step);
      break;
    }
    await drop("steps", step.step_id);
    sent += 1;
  }
  steps = await waiting(practical);
  const refused = steps.find((one) => one.refused);
  return { left: steps.length, refused: refused?.refused || "", stage: refused?.url || "", sent, signedOut: Boolean(stands.signedOut) };
}
