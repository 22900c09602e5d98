// Storage that is missing, refused or full: what is wrong is said, and every score is kept.
import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { join } from "node:path";
import { after, before, test } from "node:test";
import { killer, open, ready, serve } from "../help/browser.js";
import {
  altered, beforeKeeper, beginWalk, copied, link, openLittle, openPlot, reopened, saved, scored, scoresSince, tap, tapFast,
} from "../help/keeping.js";
import { looks } from "../help/looks.js";
import { lines, plotLogInBase, records } from "../help/log.js";
import { unscored } from "../help/plots.js";

const NO_FILES = "delete self.FileSystemSyncAccessHandle;";
const REFUSED = `FileSystemFileHandle.prototype.createSyncAccessHandle = async () => {
  throw new DOMException("refused for this journey", "UnknownError");
};`;
const NO_BASE = "Object.defineProperty(self, 'indexedDB', { value: undefined });";

let site;
before(async () => { site = await serve(); });
after(() => site?.close());

test("where files are missing, a database keeps every score through a kill and a reload", async (t) => {
  let visit = await open({ ...altered, keep: true });
  const { profile } = visit;
  await beforeKeeper(visit.context, NO_FILES);
  await visit.page.goto(site.address);
  await ready(visit.page);
  await openPlot(visit.page, unscored(2, 60));
  await beginWalk(visit.page);
  const values = Array.from({ length: 100 }, (_, nth) => (nth * 7) % 3 % 2);
  const kill = killer(visit);
  let shown = 0;
  await new Promise((resolve) => {
    tapFast(visit.page, values, (taps) => {
      shown = Math.max(shown, taps);
      if (shown >= 55) resolve();
    }).then(resolve, resolve);
  });
  await kill();

  visit = await open({ ...altered, profile });
  await beforeKeeper(visit.context, NO_FILES);
  await reopened(visit.page, site.address);
  const since = await scoresSince(visit.page);
  let log = await plotLogInBase(visit.page);
  t.diagnostic(`shown as saved ${shown}; found ${since}`);
  assert.ok(shown >= 55 && since >= shown, `${shown} were shown as saved, ${since} are there`);
  assert.equal(records(log).torn, 0);
  assert.deepEqual(lines(log).map((cells) => Number(cells[3])), values.slice(0, since));
  await beginWalk(visit.page);
  await tap(visit.page, 2);
  await saved(visit.page);
  await visit.page.reload();
  await visit.page.locator("nav.places").waitFor();
  assert.equal(await scoresSince(visit.page), since + 2);
  log = await plotLogInBase(visit.page);
  assert.equal(lines(log).length, since + 2);
  assert.deepEqual(visit.errors, []);
  await visit.close();
});

test("a storage that refuses to be written gives its scores to the database, and they stay there", async () => {
  let visit = await scored(site.address, 3, { keep: true });
  const { profile } = visit;
  await visit.context.close();

  visit = await open({ ...altered, profile, keep: true });
  await beforeKeeper(visit.context, REFUSED);
  await reopened(visit.page, site.address);
  assert.equal(await scoresSince(visit.page), 3);
  await beginWalk(visit.page);
  await tap(visit.page, 2);
  await saved(visit.page);
  await visit.page.reload();
  await visit.page.locator("nav.places").waitFor();
  assert.equal(await scoresSince(visit.page), 5);
  assert.deepEqual(visit.errors, []);
  await visit.context.close();

  visit = await open({ ...altered, profile });
  await reopened(visit.page, site.address);
  assert.equal(await scoresSince(visit.page), 5, "also once the files may be written again");
  await visit.close();
});

test("a log that is still held is waited for, and nothing is scored meanwhile", async () => {
  let visit = await scored(site.address, 3, { keep: true });
  const { profile } = visit;
  await visit.context.close();

  visit = await open({ ...altered, profile });
  await beforeKeeper(visit.context, `const real = FileSystemFileHandle.prototype.createSyncAccessHandle;
    const free_at = performance.now() + 4000;
    FileSystemFileHandle.prototype.createSyncAccessHandle = async function () {
      if (performance.now() > free_at) return real.call(this);
      throw new DOMException("held", "NoModificationAllowedError");
    };`);
  await reopened(visit.page, site.address);
  await visit.page.getByText("Open in another tab").waitFor();
  assert.equal(await scoresSince(visit.page), 3);
  await visit.page.getByText("Open in another tab").waitFor({ state: "detached" });
  await beginWalk(visit.page);
  await tap(visit.page, 1);
  await saved(visit.page);
  assert.equal(await scoresSince(visit.page), 4);
  assert.deepEqual(visit.errors, []);
  await visit.close();
});

test("a browser without any storage says that scores do not survive, and they can be saved", async () => {
  const visit = await open(altered);
  const { page } = visit;
  await beforeKeeper(visit.context, NO_FILES + NO_BASE);
  await page.goto(site.address);
  await ready(page);
  await page.getByText("This browser gives no storage here").waitFor();
  await openLittle(page);
  await beginWalk(page);
  await tap(page, 2);
  await page.getByText(/^Not saved/).waitFor();
  await link(page, "Folder");
  const scores = readFileSync(join(await copied(page), "scores.csv"), "utf8");
  assert.equal(scores.trim().split("\n").length, 1 + 12 + 2);
  assert.deepEqual(visit.errors, []);
  await visit.close();
});

/** Lets the page's origin keep so many bytes; none: as many as it likes. */
async function room(visit, quotaSize) {
  const session = await visit.context.newCDPSession(visit.page);
  const { origin } = new URL(site.address);
  await session.send("Storage.overrideQuotaForOrigin", quotaSize ? { origin, quotaSize } : { origin });
}

test("a full storage is said; every score stays in the tab and is written once there is room", async () => {
  const visit = await open();
  const { page } = visit;
  await page.goto(site.address);
  await ready(page);
  await openPlot(page, unscored(4, 130));
  await beginWalk(page);
  await tap(page, 3);
  await saved(page);
  // The browser sets room aside for an open log; a new visit has none of that yet.
  await room(visit, 1000);
  await page.reload();
  await page.locator(".walk-key").first().waitFor();
  await tap(page, 1);
  const trouble = page.locator(".notice-bar", { hasText: "no room left" });
  await trouble.waitFor();
  await page.getByText(/^Not saved/).waitFor();
  await tap(page, 2);
  const only_here = await page.locator(".only-here").innerText();
  assert.equal(Number.parseInt(only_here, 10), 6);
  await looks(page, "storage-full");
  const lowest = await page.locator(".walk-key").last().evaluate((key) => key.getBoundingClientRect().bottom);
  assert.ok(lowest <= page.viewportSize().height - 64, "the keys stay above the bar of places");
  await room(visit);
  await page.getByText("All saved").waitFor({ timeout: 10_000 });
  await trouble.waitFor({ state: "detached" });
  await page.reload();
  await page.locator("nav.places").waitFor();
  assert.equal(await scoresSince(page), 6);
  assert.deepEqual(visit.errors, []);
  await visit.close();
});

test("a plot that finds no room is open, can be saved as a copy, and is kept on a later try", async () => {
  const visit = await open();
  const { page } = visit;
  await page.goto(site.address);
  await ready(page);
  await room(visit, 1000);
  await openPlot(page, { ...unscored(4, 130), "field-book.txt": "x".repeat(1 << 20) });
  await page.getByText("could not keep the plot: there is no room left").waitFor();
  await beginWalk(page);
  await tap(page, 2);
  await page.getByText(/^Not saved/).waitFor();
  await room(visit);
  await page.getByRole("button", { name: "Try again" }).click();
  await saved(page);
  await page.reload();
  await page.locator("nav.places").waitFor();
  assert.equal(await scoresSince(page), 2);
  assert.deepEqual(visit.errors, []);
  await visit.close();
});
