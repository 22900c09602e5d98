// The whole job: a tree is found, seen and scored, the scores outlive a reload, and the verdicts
// are those of the command line on the saved folder.
import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { join } from "node:path";
import { after, before, test } from "node:test";
import { visitSite } from "../help/browser.js";
import { copied } from "../help/keeping.js";
import { table } from "../help/plots.js";

let visit, page;

before(async () => {
  visit = await visitSite();
  page = visit.page;
});

after(() => visit?.close());

const places = () => page.getByRole("navigation", { name: "Places" });
const go = (name) => places().getByRole("link", { name, exact: true }).click();
const tags = [];
let folder;

/** A share as the page says it. */
function percent(share) {
  const rounded = Math.round(share * 100);
  if (share > 0 && rounded < 1) return "under 1 %";
  if (share < 1 && rounded > 99) return "over 99 %";
  return `${rounded} %`;
}

test("the first page has three ways, and one tap opens the demo plot", async () => {
  assert.deepEqual(await page.locator(".way-name").allInnerTexts(), [
    "Open the demo plot", "Open a plot folder", "Start a new plot",
  ]);
  await page.getByText("Open the demo plot").click();
  await page.locator("nav.places").waitFor();
  assert.deepEqual(await page.locator("nav.places a").allInnerTexts(), [
    "Map", "Find", "Walk", "Proof", "Folder", "Guide",
  ]);
});

test("a tree is found by its tag, and its card is seen", async () => {
  await go("Find");
  await page.locator("#find-query").fill("MB-33");
  await page.waitForFunction(() => location.hash === "#/find?q=MB-33");
  assert.equal(await page.locator("#answer-name").innerText(), "MB-33");
  await page.getByRole("link", { name: "Show on the map" }).click();
  await page.locator(".card").waitFor();
  assert.match(await page.locator(".card").innerText(), /MB-33/);
});

test("ten trees are walked", async () => {
  await go("Walk");
  await page.getByLabel("Rows").fill("7");
  await page.locator(".walk-start").click();
  for (let taps = 0; taps < 10; taps += 1) {
    tags.push(await page.locator(".walk-name").innerText());
    await page.locator(".walk-key").nth(1).click();
  }
  assert.equal(new Set(tags).size, 10);
  await page.getByText("All saved").waitFor();
});

test("after a reload the scores are there", async () => {
  await page.reload();
  await page.locator("nav.places").waitFor();
  await go("Folder");
  await page.getByText("10 scores since").waitFor();
  folder = await copied(page);
  await page.getByText("no score since").waitFor();
  const before_ = readFileSync(new URL("../../../demo-plot/scores.csv", import.meta.url));
  const saved = readFileSync(join(folder, "scores.csv"));
  assert.ok(saved.subarray(0, before_.length).equals(before_), "old lines byte for byte");
  const added = saved.subarray(before_.length).toString().trim().split("\n");
  assert.equal(added.length, 10);
});

test("the verdicts are those of the command line on the saved folder", async () => {
  for (const disease of ["scab", "fire_blight"]) {
    const native = table("proof", folder, "--disease", disease);
    const expected = ["proven", "leaning", "untested", "infected"].map(
      (verdict) => native.filter((line) => line.verdict === verdict).length);
    await page.evaluate((disease) => { location.hash = `#/proof/${encodeURIComponent(disease)}`; }, disease);
    await page.locator(".verdict-counts").waitFor({ timeout: 120_000 });
    await page.waitForFunction(
      (sum) => [...document.querySelectorAll(".verdict-number")].reduce((all, one) => all + Number(one.textContent), 0) === sum,
      native.length, { timeout: 120_000 });
    const shown = (await page.locator(".verdict-number").allInnerTexts()).map(Number);
    assert.deepEqual(shown, expected, disease);
  }
});

test("a tree's luck and its interval are those of the command line", async () => {
  await page.evaluate(() => { location.hash = "#/proof/scab"; });
  await page.locator(".rank-line").first().waitFor();
  const clean = table("proof", folder, "--disease", "scab").filter((line) => line.luck !== null);
  const lucks = [];
  for (let nth = 0; nth < 3; nth += 1) {
    const line = page.locator(".rank-line").nth(nth);
    await line.click();
    const told = await page.locator(".proof-luck strong").innerText();
    const address = await page.locator(".proof-detail a[href^='#/tree/']").getAttribute("href");
    const id = decodeURIComponent(address.replace("#/tree/", ""));
    const row = clean.find((one) => one.tree_id === id);
    assert.ok(row, `${id} is a clean tree of the saved folder`);
    const [luck, low, high] = [row.luck, row.luck_low, row.luck_high].map((it) => percent(Number(it)));
    assert.equal(told.replaceAll("\u00a0", " "), `${luck} (${low} to ${high})`, id);
    lucks.push(row.luck);
  }
  assert.deepEqual(lucks, [...lucks].sort((a, b) => a - b), "the least luck comes first");
});

test("nothing went wrong on the way, and no request left the machine", () => {
  assert.deepEqual(visit.errors, []);
});
