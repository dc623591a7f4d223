// Keeps a copy of the app, so that it works without a network after the first visit.
// In: the list of files and its version, written here by the build. Out: answers from the copy.
// Always true: one version's files are never mixed with another's, and requests to elsewhere are left alone; a new
// version waits until the page asks for it, and leaves the old one's files to tabs that still run it.

const VERSION = "@version@";
const FILES = ["@files@"];
const CACHE = `turnleaf-${VERSION}`;

self.addEventListener("install", (event) => {
  event.waitUntil(caches.open(CACHE).then((cache) => cache.addAll(FILES.map((file) => new Request(file, { cache: "reload" })))));
});

self.addEventListener("activate", (event) => {
  event.waitUntil(
    (async () => {
      // Other tabs may still run an older version and ask for its files; those go with a later version.
      const tabs = await self.clients.matchAll({ type: "window", includeUncontrolled: true });
      if (tabs.length < 2) {
        for (const name of await caches.keys()) {
          if (name.startsWith("turnleaf-") && name !== CACHE) await caches.delete(name);
        }
      }
      await self.clients.claim();
    })(),
  );
});

self.addEventListener("message", (event) => {
  if (event.data === "take over") self.skipWaiting();
});

self.addEventListener("fetch", (event) => {
  const url = new URL(event.request.url);
  if (event.request.method !== "GET" || url.origin !== self.location.origin) return;
  event.respondWith(
    (async () => {
      const cache = await caches.open(CACHE);
      let kept = await cache.match(event.request, { ignoreSearch: true });
      // Any other address within the folder is the app itself.
      if (!kept && event.request.mode === "navigate") kept = await cache.match("./");
      // The names of built files carry a mark of their contents, so an older one is asked for only by its own page.
      return kept ?? (await caches.match(event.request, { ignoreSearch: true })) ?? fetch(event.request);
    })(),
  );
});
