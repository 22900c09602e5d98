// Out of the browser: every format is the bytes that the command line writes, what a format cannot
// hold is told, what was edited in a spreadsheet comes back alone, all of it without a network.
import assert from "node:assert/strict";
import { mkdtempSync, readFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { basename, join } from "node:path";
import { test } from "node:test";
import { lists } from "../help/bring-in.js";
import { top, visitSite } from "../help/browser.js";
import { visitDemo } from "../help/demo.js";
import { copied, link, openPlot } from "../help/keeping.js";
import { looks } from "../help/looks.js";
import { leeward, little, onDisk, unpacked } from "../help/plots.js";

const FORMATS = {
  zip: "Save as a zip", csv: "Save as CSV", xlsx: "Save as xlsx", geojson: "Save as GeoJSON",
  brapi: "Save as BrAPI", datapackage: "Save as a Data Package",
};

/** Saves the open plot; gives the file's name and where it lies. */
async function saved(page, format) {
  const [download] = await Promise.all([
    page.waitForEvent("download"),
    page.getByRole("button", { name: FORMATS[format], exact: true }).click(),
  ]);
  return { name: download.suggestedFilename(), path: await download.path() };
}

const said = (page) => page.locator("section[aria-labelledby=folder-save] [role=status]");

test("each format is byte for byte what the command line writes, also without a network", async () => {
  const visit = await visitDemo("#/folder");
  const { page } = visit;
  await page.evaluate(() => navigator.serviceWorker.ready);
  await page.waitForFunction(() => navigator.serviceWorker.controller !== null);
  await visit.context.setOffline(true);
  const folder = mkdtempSync(join(tmpdir(), "leeward-save-as-"));
  for (const format of Object.keys(FORMATS)) {
    const { name, path } = await saved(page, format);
    assert.match(name, /^lantern-bank-an-invented-orchard-\d{4}-\d\d-\d\d/);
    const out = join(folder, name);
    const native = leeward("export", join(top, "demo-plot"), "--to", format, "--out", out);
    assert.equal(native.code, 0, native.err);
    assert.ok(readFileSync(path).equals(readFileSync(out)), `${name} as the command line has it`);
    await said(page).getByText(`Saved as ${basename(name)}`).waitFor();
  }
  // Only the zip is a copy of everything.
  await page.getByText(/Last copy outside of this browser/).waitFor();
  await looks(page, "save-as");
  assert.deepEqual(visit.errors.filter((error) => !/ERR_INTERNET_DISCONNECTED/.test(error)), []);
  await visit.close();
});

test("what a format cannot hold, and what it leaves out, is told as the command line tells it", async () => {
  const visit = await visitSite();
  const { page } = visit;
  const twice = little();
  twice["scores.csv"] += "s-late,1-1,scab_leaf,0,2031-06-14\n";
  await openPlot(page, twice);
  await link(page, "Folder");
  await page.getByRole("button", { name: FORMATS.geojson }).click();
  await page.getByText("This format cannot hold the plot as it is").waitFor();
  const native = leeward("export", onDisk(twice), "--to", "geojson");
  const cells = await page.locator(".refused td").allInnerTexts();
  assert.ok(native.err.includes(`found ${cells[4]}, expected ${cells[5]}`), `${cells} ${native.err}`);
  const outside = () => page.locator("section[aria-labelledby=folder-safety] p").nth(1).innerText();
  const before = await outside();
  const { path } = await saved(page, "csv");
  const table = leeward("export", onDisk(twice), "--to", "csv");
  assert.equal(readFileSync(path, "utf8"), table.out);
  await said(page).getByText(table.err.trim()).waitFor();
  assert.match(await said(page).innerText(), /12 trees/);
  assert.equal(await outside(), before, "a table is no copy of everything");

  const faulty = little();
  faulty["trees.csv"] = faulty["trees.csv"].replace("1-2,1,2", "1-2,one,2");
  await openPlot(page, faulty);
  await link(page, "Folder");
  await page.getByRole("button", { name: FORMATS.csv }).click();
  await page.locator(".refused").getByText('"one"').waitFor();
  const kept = await copied(page);
  assert.equal(readFileSync(join(kept, "trees.csv"), "utf8"), faulty["trees.csv"]);
  await visit.close();
});

test("what was edited in a spreadsheet comes back, and nothing else", async () => {
  const visit = await visitSite();
  const { page } = visit;
  const files = little();
  const trees = files["trees.csv"].trim().split("\n");
  files["trees.csv"] = [
    `${trees[0]},note,health`,
    `${trees[1]},=1+1,dead`,
    `${trees[2]},old; older,alive`,
    ...trees.slice(3).map((line) => `${line},,`),
    "",
  ].join("\n");
  await openPlot(page, files);
  await link(page, "Folder");
  const { path } = await saved(page, "csv");
  const table = readFileSync(path, "utf8");
  assert.ok(table.includes("'=1+1"), "guarded");
  // As a spreadsheet of another country saves it.
  const edited = table.replace("\ufeff", "").replace("old; older", "mended").replace("W-13", "W-99")
    .replaceAll("\r\n", "\n").replaceAll(",", ";");
  await lists.begin(page);
  await lists.handIn(page, "edited.csv", edited);
  for (const name of ["2 changed", "10 unchanged"]) {
    await page.getByRole("button", { name, exact: true }).waitFor();
  }
  await page.getByRole("button", { name: "Take these 2 trees" }).click();
  await page.getByText("Taken: 2 changed.").or(page.getByText("Taken: 2 trees changed.")).waitFor();
  const now = readFileSync(join(await copied(page), "trees.csv"), "utf8");
  assert.equal(now, files["trees.csv"].replace("old; older", "mended").replace("W-13", "W-99"));
  await visit.close();
});

test("a Data Package opens as a plot, and a zip of another walk is united", async () => {
  const visit = await visitSite();
  const { page } = visit;
  const files = little();
  await openPlot(page, files);
  await link(page, "Folder");
  const { name, path } = await saved(page, "datapackage");
  const buffer = readFileSync(path);
  assert.equal(leeward("inspect", unpacked(path)).code, 0);
  await page.locator("input.files-input").last().setInputFiles({ name, mimeType: "application/zip", buffer });
  await page.waitForFunction(() => location.hash === "#/map");
  await link(page, "Folder");
  const facts = await page.locator(".facts dd").allInnerTexts();
  assert.deepEqual(facts.slice(0, 3), ["12", "12", "1"]);

  const theirs = { ...files, "scores.csv": `${files["scores.csv"]}x1,2-6,scab_leaf,1,2031-07-01\n` };
  const out = join(mkdtempSync(join(tmpdir(), "leeward-zip-")), "theirs.zip");
  assert.equal(leeward("export", onDisk(theirs), "--to", "zip", "--out", out).code, 0);
  await page.locator("section[aria-labelledby=folder-other-phone] input.files-input")
    .setInputFiles({ name: "theirs.zip", mimeType: "application/zip", buffer: readFileSync(out) });
  await page.getByText("1 score is new.").waitFor();
  const news = await page.locator(".news td").allInnerTexts();
  assert.deepEqual(news, ["2031-07-01", "Scab on leaves", "", "1"]);
  await looks(page, "other-phone-zip");
  await page.getByRole("button", { name: "Take it in" }).click();
  await page.locator(".news").waitFor({ state: "detached" });
  const scores = readFileSync(join(await copied(page), "scores.csv"), "utf8");
  assert.equal(scores, theirs["scores.csv"]);
  assert.deepEqual(visit.errors, []);
  await visit.close();
});
