// Keeps the page's files, so that it opens without a network. The build writes the list and its
// version here. A new version waits until a person takes it: nothing changes under a walk.
const VERSION = "__VERSION__";
const FILES = __FILES__;

self.addEventListener("install", (event) => {
  event.waitUntil(
    caches.open(VERSION).then((cache) =>
      cache.addAll(FILES.map((file) =>
        // A hashed name never changes what it holds; the page itself is asked for anew.
        new Request(file, { cache: file === "./" ? "no-cache" : "default" })))),
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
  const wanted = event.request.mode === "navigate" ? "./" : event.request;
  event.respondWith(
    caches.open(VERSION)
      .then((cache) => cache.match(wanted, { ignoreSearch: true }))
      .then((kept) => kept ?? caches.match(wanted, { ignoreSearch: true }))
      .then((kept) => kept ?? fetch(event.request)),
  );
});
