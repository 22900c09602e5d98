// Has the page's files kept for going without a network, and tells the page when a newer version
// is there: it waits, or another tab took it. The page answers when a person wants it; by then
// every score is on disk.
export async function keepOffline() {
  const keeper = navigator.serviceWorker;
  if (!keeper) return;
  let controlled = Boolean(keeper.controller);
  const registration = await keeper.register("service-worker.js");
  let wanted = false;
  let taken = false;
  const tell = () => {
    if (controlled && (registration.waiting || taken)) window.dispatchEvent(new Event("leeward-newer-version"));
    if (wanted) registration.waiting?.postMessage("take over");
  };
  tell();
  registration.addEventListener("updatefound", () => {
    registration.installing?.addEventListener("statechange", tell);
  });
  keeper.addEventListener("controllerchange", () => {
    if (wanted) return location.reload();
    // The first of all versions is no newer one.
    taken = controlled;
    controlled = true;
    tell();
  });
  window.addEventListener("leeward-take-newer-version", async () => {
    if (taken) return location.reload();
    wanted = true;
    if (!registration.waiting) await registration.update().catch(() => {});
    if (!registration.waiting && !registration.installing) return location.reload();
    tell();
  });
}
