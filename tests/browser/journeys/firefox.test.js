// A second browser: the three uses in Firefox, from the first visit to a copy on disk, and what
// docs/browsers.md says it has and has not.
import assert from "node:assert/strict";
import { createHash } from "node:crypto";
import { readFileSync } from "node:fs";
import { mkdir } from "node:fs/promises";
import { join } from "node:path";
import { after, before, test } from "node:test";
import { artefacts, laptop, phone, ready } from "../help/browser.js";
import { openFirefox } from "../help/firefox.js";
import { beginWalk, link, saved, scoresSince, tap } from "../help/keeping.js";
import { lines, plotLog } from "../help/log.js";
import { leeward, table, unpacked } from "../help/plots.js";
import { publishing } from "../help/site.js";

let site, visit, page;

before(async () => {
  await mkdir(artefacts, { recursive: true });
  site = await publishing();
  visit = await openFirefox();
  page = visit.page;
  await page.goto(site.address);
  await ready(page);
});

after(async () => {
  await visit?.close();
  site?.close();
});

/** Keeps a picture, in which nothing sticks out sideways. */
async function pictured(name) {
  await page.screenshot({ path: join(artefacts, `firefox-${name}.png`) });
  const wide = await page.evaluate(() => document.documentElement.scrollWidth - document.documentElement.clientWidth);
  assert.equal(wide, 0, `${name} is ${wide} px too wide`);
}
const arrived = () => page.locator(".on-its-way").waitFor({ state: "detached" });
const goTo = async (address) => {
  await page.evaluate((it) => { location.hash = it; }, address);
  await arrived();
};

// Not until its load is over: without a server the driver waits half a minute for what the browser
// asks behind the page's back.
const reload = () => page.reload({ waitUntil: "commit" });

test("at home: the plot on the map, and a tree found in words", async () => {
  await page.getByText("Open the demo plot").click();
  await page.locator("main [role=application]").waitFor();
  await page.locator(".stage-marks[width]").waitFor();
  const inks = await page.locator(".stage-marks").evaluate((canvas) => {
    const { data } = canvas.getContext("2d").getImageData(0, 0, canvas.width, canvas.height);
    return new Set(new Uint32Array(data.buffer)).size;
  });
  assert.ok(inks > 10, `${inks} colours are painted`);
  await pictured("map");
  await goTo("#/find?q=MB-33");
  await page.getByText("Row 1, 23rd from the brook end (place 38), between MB-32 and Sallow Queen.").waitFor();
  await pictured("find");
  await page.getByRole("button", { name: "Show on the map" }).or(page.getByRole("link", { name: "Show on the map" })).click();
  await page.locator("main [role=application]").waitFor();
});

test("in the orchard: scores that outlive the page, without a server", async () => {
  await page.evaluate(() => navigator.serviceWorker.ready);
  await page.waitForFunction(() => navigator.serviceWorker.controller !== null);
  site.close();
  await reload();
  await page.locator("nav.places").waitFor();
  await beginWalk(page);
  await tap(page, 5);
  await saved(page);
  await reload();
  await page.locator(".walk-key").first().waitFor();
  await tap(page, 3);
  await saved(page);
  await pictured("walk");
  const second = await visit.context.newPage();
  await second.goto(site.address, { waitUntil: "commit" });
  await second.getByText("Open in another tab. This one only reads").waitFor();
  await second.close();
  assert.equal(await scoresSince(page), 8);
  assert.equal(lines(await plotLog(page)).length, 8, "in files of the browser, line by line");
});

test("the judgement: as many of each verdict as the command line gives", async () => {
  await page.setViewportSize(laptop);
  await goTo("#/proof/scab");
  const counts = page.locator(".verdict-counts");
  await counts.waitFor({ timeout: 120_000 });
  await pictured("proof");
  const shown = await counts.innerText();
  await page.setViewportSize(phone);
  await link(page, "Folder");
  await page.getByRole("button", { name: "Save as a zip" }).click();
  const copy = unpacked(await visit.downloaded(".zip"));
  const scores = readFileSync(join(copy, "scores.csv"), "utf8").trimEnd().split("\n");
  assert.equal(scores.length, 1 + 23714 + 8);
  assert.equal(leeward("inspect", copy).code, 0);
  const verdicts = table("proof", copy, "--disease", "scab").map(({ verdict }) => verdict);
  for (const word of ["proven", "leaning", "untested", "infected"]) {
    const count = verdicts.filter((verdict) => verdict === word).length;
    assert.match(shown.replace(/\s+/g, " "), new RegExp(`\\b(${count} ${word}|${word} ${count})\\b`, "i"), shown);
  }
});

test("what it has not is not offered", async () => {
  const has = await page.evaluate(() => ({
    picker: "showDirectoryPicker" in window,
    barcodes: "BarcodeDetector" in window,
    share: "share" in navigator,
    files: "getDirectory" in navigator.storage,
    awake: "wakeLock" in navigator,
    locks: "locks" in navigator,
    trusted: "trustedTypes" in window,
  }));
  assert.deepEqual(has, {
    picker: false, barcodes: false, share: false, files: true, awake: true, locks: true, trusted: true,
  });
  await link(page, "Folder");
  await pictured("folder");
  assert.equal(await page.getByText("in step").count(), 0);
  assert.equal(await page.locator("input.folder-input").count() > 0, true, "a folder is chosen by a file input");
  // For each picture the driver itself puts in a style, which the page refuses it, too.
  const ofDriver = createHash("sha256").update("body {}").digest("base64");
  assert.deepEqual(visit.errors.filter((error) => !error.includes(ofDriver)), []);
});
