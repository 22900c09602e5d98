// Has the page's files kept for going without a network, and tells the page when a newer version
// waits. The page answers when a person wants it; by then every score is on disk.
export async function keepOffline() {
  const keeper = navigator.serviceWorker;
  if (!keeper) return;
  const had = Boolean(keeper.controller);
  const registration = await keeper.register("service-worker.js");
  const tell = () => {
    if (registration.waiting && had) window.dispatchEvent(new Event("leeward-newer-version"));
  };
  tell();
  registration.addEventListener("updatefound", () => {
    registration.installing?.addEventListener("statechange", tell);
  });
  window.addEventListener("leeward-take-newer-version", () => {
    keeper.addEventListener("controllerchange", () => location.reload(), { once: true });
    registration.waiting?.postMessage("take over");
  });
}
