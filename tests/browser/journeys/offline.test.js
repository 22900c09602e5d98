// Offline: installable; after the first visit never a request again; a newer version is taken on a
// tap, once every score is on disk, also by a tab that did not tap.
import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { join } from "node:path";
import { after, before, test } from "node:test";
import { open, ready } from "../help/browser.js";
import { beginWalk, copied, link, openLittle, openPlot, reopened, saved, scoresSince, tap } from "../help/keeping.js";
import { publishing } from "../help/site.js";
import { unscored } from "../help/plots.js";

let site;
before(async () => { site = await publishing(); });
after(() => site?.close());

const version = (page) => page.locator("html").getAttribute("data-version");

/** A first visit, over when everything is kept for going without a network. */
async function visited() {
  const visit = await open();
  await visit.page.goto(site.address);
  await ready(visit.page);
  await visit.page.evaluate(() => navigator.serviceWorker.ready);
  await visit.page.waitForFunction(() => navigator.serviceWorker.controller !== null);
  return visit;
}

test("the browser finds no fault that would keep it from being installed", async () => {
  const visit = await visited();
  const session = await visit.context.newCDPSession(visit.page);
  const manifest = await session.send("Page.getAppManifest");
  assert.deepEqual(manifest.errors, []);
  const said = JSON.parse(manifest.data);
  for (const field of ["name", "short_name", "description", "start_url", "scope", "id", "display", "icons"]) {
    assert.ok(said[field], field);
  }
  for (const icon of said.icons) {
    const answer = await visit.page.request.get(new URL(icon.src, manifest.url).href);
    assert.equal(answer.status(), 200, icon.src);
    const bytes = await answer.body();
    if (icon.type !== "image/png") continue;
    const [width, height] = [bytes.readUInt32BE(16), bytes.readUInt32BE(20)];
    assert.equal(`${width}x${height}`, icon.sizes, "a picture as large as it says");
  }
  assert.ok(said.icons.some(({ purpose }) => purpose?.includes("maskable")), "one that may be cut round");
  const { installabilityErrors } = await session.send("Page.getInstallabilityErrors");
  assert.deepEqual(installabilityErrors, []);
  await visit.close();
});

test("after the first visit a whole day's work asks for nothing", async () => {
  const visit = await visited();
  const { page } = visit;
  site.asked();
  await visit.context.setOffline(true);
  await page.reload();
  await ready(page);
  await openPlot(page, unscored(2, 8));
  await beginWalk(page);
  await tap(page, 8);
  await saved(page);
  await page.reload();
  await page.locator(".walk-key").first().waitFor();
  await tap(page, 8);
  await saved(page);
  await page.reload();
  for (const place of ["Map", "Find", "Walk", "Proof", "Folder"]) {
    await link(page, place);
    await page.locator("nav.places").getByRole("link", { name: place, exact: true, current: "page" }).waitFor();
    await page.locator(".on-its-way").waitFor({ state: "detached" });
  }
  assert.equal(await scoresSince(page), 16);
  const scores = readFileSync(join(await copied(page), "scores.csv"), "utf8");
  assert.equal(scores.trim().split("\n").length, 17);
  await page.getByText(/no score since/).waitFor();
  await page.locator(".only-here").waitFor({ state: "detached" });
  // The browser itself looks now and then whether the service worker is still the same.
  assert.deepEqual(site.asked().filter((path) => path !== "/service-worker.js"), []);
  await visit.close();
});

test("a newer version waits for a tap, and a tab that did not tap is told, too", async () => {
  const visit = await visited();
  const { page } = visit;
  const words = "A newer version of Leeward is here";
  await openLittle(page);
  await beginWalk(page);
  await tap(page, 2);
  await saved(page);
  assert.equal(await version(page), "1");

  site.publish("2");
  const second = await visit.context.newPage();
  await reopened(second, site.address);
  await page.getByText(words).waitFor();
  assert.equal(await version(second), "1", "nothing changes by itself");
  await tap(page, 1);
  await saved(page);
  await second.getByText(words).waitFor();
  await second.getByRole("button", { name: "Take it" }).click();
  await second.waitForFunction(() => document.documentElement.dataset.version === "2");
  await second.locator("nav.places").waitFor();

  // The first tab runs on as it was, told, until it is tapped there.
  assert.equal(await version(page), "1");
  await tap(page, 1);
  await saved(page);
  await link(page, "Proof");
  await page.locator(".on-its-way").waitFor({ state: "detached" });
  await page.getByRole("button", { name: "Take it" }).click();
  await page.waitForFunction(() => document.documentElement.dataset.version === "2");
  await page.locator("nav.places").waitFor();
  assert.equal(await scoresSince(page), 4);
  assert.equal(await page.getByText(words).count(), 0);
  assert.deepEqual(visit.errors, []);
  await visit.close();
});
