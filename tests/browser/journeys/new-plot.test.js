// A new plot: what cannot be planted is said; what is planted is kept and is a sound plot folder.
import assert from "node:assert/strict";
import { mkdtemp } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { test } from "node:test";
import { open, ready, serve } from "../help/browser.js";
import { leeward, unpacked } from "../help/plots.js";

test("rows, places and spacings give a tree for every place", async () => {
  const site = await serve();
  const visit = await open();
  const { page } = visit;
  await page.goto(site.address);
  await ready(page);
  await page.getByText("Start a new plot").click();
  await page.getByLabel("Name of the plot").fill("Reed Corner");
  await page.getByLabel("Rows", { exact: true }).fill("two");
  await page.getByRole("button", { name: "Plant it" }).click();
  await page.getByText('Rows: "two"; expected a whole number from 1 to 9999.').waitFor();
  await page.getByLabel("Rows", { exact: true }).fill("2");
  await page.getByLabel("Places in a row").fill("5");
  await page.getByLabel("Metres between rows").fill("0");
  await page.getByRole("button", { name: "Plant it" }).click();
  await page.getByText("Metres between rows: 0; expected metres above 0 and at most 1000.").waitFor();
  await page.getByLabel("Metres between rows").fill("2,5");
  await page.getByRole("button", { name: "Plant it" }).click();
  await page.waitForFunction(() => location.hash === "#/map");
  await page.reload();
  await page.getByRole("link", { name: "Folder", exact: true }).click();
  await page.locator(".folder-name", { hasText: "Reed Corner" }).waitFor();
  assert.equal(await page.locator(".facts dd").first().innerText(), "10");
  const [download] = await Promise.all([
    page.waitForEvent("download"),
    page.getByRole("button", { name: "Save as a zip" }).click(),
  ]);
  const zip = join(await mkdtemp(join(tmpdir(), "leeward-")), download.suggestedFilename());
  await download.saveAs(zip);
  const inspected = leeward("inspect", unpacked(zip));
  assert.equal(inspected.code, 0, inspected.err);
  assert.match(inspected.out, /Reed Corner,10/);
  assert.deepEqual(visit.errors, []);
  await visit.close();
  site.close();
});
