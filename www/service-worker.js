// Keeps the page's files, so that it opens without a network. The build writes the list and its
// version here. A new version waits until a person takes it: nothing changes under a walk.
const VERSION = "__VERSION__";
const FILES = __FILES__;

self.addEventListener("install", (event) => {
  event.waitUntil(
    caches.open(VERSION).then((cache) =>
      cache.addAll(FILES.map((file) =>
        // A hashed name never changes what it holds; a page is asked for anew.
        new Request(file, { cache: file === "./" || file.endsWith(".html") ? "no-cache" : "default" })))),
  );
});

// The version before this one stays: a tab that runs it may yet fetch one of its pieces.
self.addEventListener("activate", (event) => {
  event.waitUntil(
    caches.keys()
      .then((names) => Promise.all(
        names.filter((name) => name !== VERSION).slice(0, -1).map((name) => caches.delete(name))))
      .then(() => self.clients.claim()),
  );
});

self.addEventListener("message", (event) => {
  if (event.data === "take over") self.skipWaiting();
});

self.addEventListener("fetch", (event) => {
  if (event.request.method !== "GET") return;
  event.respondWith(kept(event.request).then((answer) => answer ?? fetch(event.request)));
});

// What is kept of this version, else of another. To go to any other address is to open the app.
async function kept(request) {
  const cache = await caches.open(VERSION);
  const how = { ignoreSearch: true };
  return (await cache.match(request, how))
    ?? (request.mode === "navigate" ? await cache.match("./") : undefined)
    ?? caches.match(request, how);
}
