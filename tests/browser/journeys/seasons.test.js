// Seasons: weather, a spray and what a cross promises, on the demo plot with all three put beside it.
// The page says what the command line says.
import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { join } from "node:path";
import { after, before, test } from "node:test";
import { artefacts, top, visitSite } from "../help/browser.js";
import { openPlot } from "../help/keeping.js";
import { looks } from "../help/looks.js";
import { onDisk, table } from "../help/plots.js";

const hour = (date, nth) => `${date.toISOString().slice(0, 10)}T${String(nth).padStart(2, "0")}:00`;

/** Three seasons from April to October, invented: every seventh day wet for twelve hours at 14 °C. */
function weather() {
  const lines = ["time,temp_c,rain_mm,leaf_wetness"];
  for (const year of [2029, 2030, 2031]) {
    for (let date = new Date(Date.UTC(year, 3, 1)); date.getUTCMonth() < 10; date.setUTCDate(date.getUTCDate() + 1)) {
      for (let nth = 0; nth < 24; nth += 1) {
        const wet = date.getUTCDate() % 7 === 0 && nth >= 8 && nth < 20;
        lines.push(`${hour(date, nth)},14,${wet ? 0.4 : 0},${wet ? 1 : 0}`);
      }
    }
  }
  return `${lines.join("\n")}\n`;
}

let visit, page, native, verdicts;

before(async () => {
  const read = (name) => readFileSync(join(top, "demo-plot", name), "utf8");
  const head = JSON.parse(read("plot.json"));
  head.crosses = [{ seed_parent: "Marl Beauty", pollen_parent: "TR-9", expected_resistant: { scab: 0.25 } }];
  const files = {
    "plot.json": JSON.stringify(head, null, 2),
    "trees.csv": read("trees.csv"),
    "scores.csv": read("scores.csv"),
    "weather.csv": weather(),
    "events.csv": "date,kind,rows,note\n2030-04-20,spray,1-10,invented\n2030-07-01,hail,,invented\n",
  };
  const folder = onDisk(files);
  native = table("season", folder, "--disease", "scab");
  verdicts = table("proof", folder, "--disease", "scab");
  visit = await visitSite();
  page = visit.page;
  await openPlot(page, files);
  await page.evaluate(() => { location.hash = "#/proof/scab"; });
  await page.locator(".verdict-counts").waitFor({ timeout: 120_000 });
});

after(() => visit?.close());

test("each season says how hard it tested, by trees and by weather", async () => {
  const lines = await page.locator(".season-list li").allInnerTexts();
  assert.deepEqual(native.map((line) => line.season), ["2029", "2030", "2031"]);
  native.forEach((line, nth) => {
    assert.ok(lines[nth].startsWith(`${line.season}: ${line.strength}`), lines[nth]);
    assert.match(lines[nth], new RegExp(`had ${line.infections_allowed} infection periods of scab`));
  });
  assert.ok(native.every((line) => Number(line.infections_allowed) > 5));
  assert.match(lines[1], /The clean looks of \d+ trees after a spray are no test/);
  assert.doesNotMatch(lines[0], /spray/);
});

test("the verdicts are those of the command line, and a sprayed tree says so", async () => {
  const shown = (await page.locator(".verdict-number").allInnerTexts()).map(Number);
  assert.deepEqual(shown, ["proven", "leaning", "untested", "infected"].map(
    (verdict) => verdicts.filter((line) => line.verdict === verdict).length));
  await page.locator("section[aria-labelledby=proof-seasons]").scrollIntoViewIfNeeded();
  await page.screenshot({ path: join(artefacts, "seasons-phone-light.png") });
  const clean = verdicts.find((line) => line.verdict === "untested" && /^T00\d\d$/.test(line.tree_id));
  await page.evaluate((id) => { location.hash = `#/tree/${id}`; }, clean.tree_id);
  const said = page.getByText("It was sprayed in 2030: its clean looks after that are no test.").first();
  await said.waitFor({ state: "attached" });
  await page.locator("details", { has: said }).last().locator("summary").click();
  await said.waitFor();
});

test("a cross is held against what it promises", async () => {
  await page.evaluate(() => { location.hash = "#/proof/scab"; });
  const cell = page.locator(".proof-crosses tr", { hasText: "Marl Beauty × TR-9" });
  await cell.getByText(/^\d+ of \d+ clean, 25\s% expected: more than it allows; corrected for escapes/).waitFor();
});

test("it is readable for everyone, on a phone and a laptop, by day and in the evening", async () => {
  await page.locator("section[aria-labelledby=proof-seasons]").scrollIntoViewIfNeeded();
  await looks(page, "seasons");
});

test("nothing went wrong on the way", () => {
  assert.deepEqual(visit.errors, []);
});
