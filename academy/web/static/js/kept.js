// What waits in this browser: steps that were not sent yet, and drafts of forms being filled in.
// IndexedDB works over plain HTTP as well; photographs are kept as they are.
const NAME = "academy-panel";

const opened = new Promise((resolve, reject) => {
  const request = indexedDB.open(NAME, 1);
  request.onupgradeneeded = () => {
    request.result.createObjectStore("steps", { keyPath: "step_id" });
    request.result.createObjectStore("drafts", { keyPath: "place" });
  };
  request.onsuccess = () => resolve(request.result);
  request.onerror = () => reject(request.error);
});

async function run(store, mode, act) {
  const database = await opened;
  return new Promise((resolve, reject) => {
    const transaction = database.transaction(store, mode, { durability: "strict" });
    const request = act(transaction.objectStore(store));
    transaction.oncomplete = () => resolve(request.result);
    transaction.onabort = transaction.onerror = () => reject(transaction.error);
  });
}

export const keep = (store, value) => run(store, "readwrite", (rows) => rows.put(value));
export const drop = (store, key) => run(store, "readwrite", (rows) => rows.delete(key));
export const find = (store, key) => run(store, "readonly", (rows) => rows.get(key));

/** Every waiting step of a practical, in the order in which they were entered. */
export async function waiting(practical) {
  const rows = await run("steps", "readonly", (all) => all.getAll());
  return rows.filter((row) => row.practical === practical).sort((a, b) => a.at - b.at);
}

/** A random id, where crypto.randomUUID is missing too (plain HTTP). */
export function newId() {
  const bytes = crypto.getRandomValues(new Uint8Array(16));
  bytes[6] = (bytes[6] & 0x0f) | 0x40;
  bytes[8] = (bytes[8] & 0x3f) | 0x80;
  const hex = [...bytes].map((byte) => byte.toString(16).padStart(2, "0")).join("");
  return hex.replace(/^(.{8})(.{4})(.{4})(.{4})(.{12})$/, "$1-$2-$3-$4-$5");
}
