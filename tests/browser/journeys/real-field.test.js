// Real input: the open bell-pepper field, 400 quadrats looked at once. It is shown, and the proof
// says what disease of one date cannot tell.
import assert from "node:assert/strict";
import { spawnSync } from "node:child_process";
import { mkdtempSync, readdirSync, readFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { test } from "node:test";
import { artefacts, laptop, open, ready, serve, target } from "../help/browser.js";
import { handed, table } from "../help/plots.js";

test("a field of quadrats is opened, counted and judged with its limits said", async () => {
  const folder = join(mkdtempSync(join(tmpdir(), "leeward-pepper-")), "pepper");
  const made = spawnSync(join(target, "debug/pepper"), [folder], { encoding: "utf8" });
  assert.equal(made.status, 0, made.stderr);
  const files = Object.fromEntries(
    readdirSync(folder).map((name) => [name, readFileSync(join(folder, name))]));
  const native = table("proof", folder, "--disease", "phytophthora_blight");

  const site = await serve();
  const visit = await open({ context: { viewport: laptop } });
  const { page } = visit;
  await page.goto(site.address);
  await ready(page);
  await page.getByText("Open a plot folder").click();
  await page.locator("input.files-input").last().setInputFiles(handed(files));
  await page.waitForFunction(() => location.hash === "#/map");
  await page.waitForTimeout(500);
  await page.screenshot({ path: join(artefacts, "pepper-map-laptop.png") });
  await page.getByRole("link", { name: "Folder", exact: true }).click();
  assert.equal(await page.locator(".facts dd").first().innerText(), "400");
  await page.evaluate(() => { location.hash = "#/proof/phytophthora_blight"; });
  await page.locator(".verdict-counts").waitFor({ timeout: 120_000 });
  const shown = (await page.locator(".verdict-number").allInnerTexts()).map(Number);
  // 61 of the 400 quadrats are diseased: Gumpertz, Graham & Ristaino 1997, field 2.
  assert.equal(shown[3], 61);
  assert.deepEqual(shown, ["proven", "leaning", "untested", "infected"].map(
    (verdict) => native.filter((line) => line.verdict === verdict).length));
  assert.match(await page.locator(".proof").innerText(), /one round|one date|single round/i);
  await page.screenshot({ path: join(artefacts, "pepper-proof-laptop.png"), fullPage: true });
  assert.deepEqual(visit.errors, []);
  await visit.close();
  site.close();
});
