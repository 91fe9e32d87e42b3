// Keeps the pages of an open practical for when the network drops; the network always comes first.
// Signing out forgets all of it: a tablet is shared.
const KEPT = "panel-pages";

self.addEventListener("install", () => self.skipWaiting());
self.addEventListener("activate", (event) => event.waitUntil(self.clients.claim()));

self.addEventListener("message", (event) => {
  const { pages = [], files = [] } = event.data;
  event.waitUntil((async () => {
    const cache = await caches.open(KEPT);
    for (const url of new Set([...pages, ...files].filter(Boolean))) {
      try {
        const answer = await fetch(url, { cache: "no-store" });
        if (answer.ok && !answer.redirected) await cache.put(url, answer);
      } catch {
        return;  // no network: what is kept stays as it is
      }
    }
  })());
});

self.addEventListener("fetch", (event) => {
  const { request } = event;
  const { pathname } = new URL(request.url);
  if (request.method === "POST" && pathname === "/sign-out") event.waitUntil(caches.delete(KEPT));
  const ours = pathname.startsWith("/practicals/") || pathname.startsWith("/static/");
  if (request.method !== "GET" || !ours || pathname.endsWith("/recorded")) return;
  event.respondWith((async () => {
    try {
      return await fetch(request);
    } catch (gone) {
      const cache = await caches.open(KEPT);
      const found = await cache.match(request, { ignoreSearch: true });
      if (found) return found;
      throw gone;
    }
  })());
});
