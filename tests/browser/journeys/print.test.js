// Print: what is shown is what comes out, a page to a sheet of its size and nothing else on it; and a
// copy for a colleague that opens from disk.
import assert from "node:assert/strict";
import { existsSync, mkdtempSync, readFileSync, readdirSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { after, before, test } from "node:test";
import { laptop, top } from "../help/browser.js";
import { visitDemo } from "../help/demo.js";
import { looks } from "../help/looks.js";
import { leeward } from "../help/plots.js";

let visit, page;

before(async () => {
  visit = await visitDemo("#/folder", { viewport: laptop });
  page = visit.page;
  await page.getByRole("link", { name: "Print", exact: true }).click();
  await page.getByRole("heading", { name: "Print" }).waitFor();
});

after(() => visit?.close());

const pages = () => page.locator(".paper-page img");

/** Waits until what is chosen now is laid out, every picture loaded. */
async function laidOut() {
  await page.locator(".print .progress").waitFor({ timeout: 2000 }).catch(() => {});
  await page.locator(".print .progress").waitFor({ state: "detached", timeout: 90_000 });
  await page.waitForFunction(() => {
    const button = [...document.querySelectorAll(".print-head .button-first")].at(0);
    return button && !button.disabled;
  });
}

/** Sizes of the sheets that come out, in points. */
async function printed() {
  const pdf = (await page.pdf({ preferCSSPageSize: true, printBackground: false })).toString("latin1");
  const sheets = pdf.match(/\/Type\s*\/Page\b(?!s)/g) ?? [];
  const sizes = [...pdf.matchAll(/\/MediaBox\s*\[0 0 ([\d.]+) ([\d.]+)\]/g)]
    .map(([, width, height]) => [Number(width), Number(height)]);
  assert.equal(sizes.length, sheets.length, "each sheet says its size");
  return sizes;
}

const near = (sizes, [width, height]) => sizes.forEach((size) => {
  // Chromium rounds to its own pixels.
  assert.ok(Math.abs(size[0] - width) < 1.5 && Math.abs(size[1] - height) < 1.5, `${size}`);
});

/** How many pages the command line makes of the same. */
function native(...words) {
  const out = join(mkdtempSync(join(tmpdir(), "leeward-print-")), "pages");
  const run = leeward("print", join(top, "demo-plot"), ...words, "--format", "svg", "--out", out);
  assert.equal(run.code, 0, run.err);
  return readdirSync(out).length;
}

const choose = (name) => page.getByLabel(name, { exact: true }).check();

test("field sheets come out a page to a sheet, as the command line makes them", async () => {
  await laidOut();
  const traits = await page.locator(".print-what", { hasText: "A box for each" }).locator("input:checked").count();
  assert.ok(traits >= 1);
  const shown = await pages().count();
  const ids = JSON.parse(readFileSync(join(top, "demo-plot/plot.json"), "utf8")).traits.slice(0, 3);
  assert.equal(shown, native("--what", "field-sheets", ...ids.flatMap(({ id }) => ["--trait", id])));
  await page.getByText(`${shown} pages`, { exact: true }).waitFor();
  const sizes = await printed();
  assert.equal(sizes.length, shown);
  near(sizes, [595.3, 841.9]);
  await looks(page, "print-field-sheets");
});

test("nothing but the pages is on paper, and each picture is as large as the sheet", async () => {
  await page.emulateMedia({ media: "print" });
  assert.equal(await page.locator(".print-head").isVisible(), false);
  assert.equal(await page.locator("nav.places").isVisible(), false);
  const box = await pages().first().boundingBox();
  const mm = 96 / 25.4;
  assert.ok(Math.abs(box.width - 210 * mm) < 1 && Math.abs(box.height - 297 * mm) < 1, JSON.stringify(box));
  assert.ok(Math.abs(box.x) < 1, "from the sheet's edge");
  await page.emulateMedia({ media: null });
});

test("tags of some rows on Letter, a map on its long side", async () => {
  await choose("Tags");
  await choose("Letter");
  await page.getByLabel("Rows", { exact: true }).fill("2-3");
  await laidOut();
  const shown = await pages().count();
  assert.equal(shown, native("--what", "tags", "--rows", "2-3", "--page", "letter"));
  const sizes = await printed();
  assert.equal(sizes.length, shown);
  near(sizes, [612, 792]);
  await looks(page, "print-tags");
  await page.getByLabel("Rows", { exact: true }).fill("two");
  await page.getByRole("alert").getByText('rows: found "two"').waitFor();
  assert.equal(await pages().count(), 0);

  await choose("Map");
  await choose("A4");
  await choose("On its long side");
  await page.locator(".paper-a4-lying").waitFor();
  await laidOut();
  const maps = await printed();
  assert.equal(maps.length, await pages().count());
  near(maps, [841.9, 595.3]);
  await looks(page, "print-map");
});

test("the report is read on the screen and printed on as many sheets as it needs", async () => {
  await page.getByLabel("On its long side").uncheck();
  await choose("Report");
  await page.locator(".paper-report").waitFor({ timeout: 120_000 });
  const said = await page.locator(".paper-report").innerText();
  assert.match(said, /Lantern Bank/);
  assert.match(said, /scab/);
  assert.ok((await page.locator(".paper-report table").count()) > 1);
  const sizes = await printed();
  assert.ok(sizes.length > 2, `${sizes.length} sheets`);
  near(sizes, [595.3, 841.9]);
  await looks(page, "print-report");
});

test("a copy for a colleague opens from disk without a script or a network", async () => {
  const [download] = await Promise.all([
    page.waitForEvent("download", { timeout: 120_000 }),
    page.getByRole("button", { name: "Save a copy for a colleague" }).click(),
  ]);
  assert.match(download.suggestedFilename(), /^lantern-bank-.*-copy\.html$/);
  await page.getByText(`Saved as ${download.suggestedFilename()}.`).waitFor();
  const path = join(mkdtempSync(join(tmpdir(), "leeward-copy-")), "copy.html");
  await download.saveAs(path);
  assert.ok(existsSync(path));
  await visit.context.setOffline(true);
  const other = await visit.context.newPage();
  await other.goto(`file://${path}`);
  await other.getByRole("heading", { name: /Lantern Bank/ }).first().waitFor();
  assert.equal(await other.locator("script").count(), 0);
  await other.close();
  await visit.context.setOffline(false);
  assert.deepEqual(visit.errors, []);
});
