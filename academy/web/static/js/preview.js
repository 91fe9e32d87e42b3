// Loads the page again when the source it was made from has changed.
const EVERY_MS = 1000;
const made = document.querySelector("[data-source-version]").dataset.sourceVersion;

async function look() {
  try {
    const answer = await fetch("/preview/version", { cache: "no-store" });
    if (answer.ok && (await answer.text()) !== made) location.reload();
  } catch {
    // The preview was stopped; it may be started again.
  }
  setTimeout(look, EVERY_MS);
}

setTimeout(look, EVERY_MS);
