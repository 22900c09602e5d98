// Vigour: the numbers on the screen are those of the command line; the trend, the season and the
// order are chosen; a long fit can be stopped.
import assert from "node:assert/strict";
import { mkdir } from "node:fs/promises";
import { join } from "node:path";
import { after, before, test } from "node:test";
import { artefacts } from "../help/browser.js";
import { visitDemo } from "../help/demo.js";
import { openPlot } from "../help/keeping.js";
import { looks } from "../help/looks.js";
import { leeward, onDisk, table } from "../help/plots.js";

let visit, page;

before(async () => {
  await mkdir(artefacts, { recursive: true });
  visit = await visitDemo("#/proof/scab");
  page = visit.page;
});

after(() => visit?.close());

/** To two decimals, halves away from 0. */
const two = (value) => String(Math.round(Math.abs(value) * 100) / 100);
const signed = (value) => (two(value) === "0" ? "0" : `${value < 0 ? "−" : "+"}${two(value)}`);

/** Waits until models with this trend are fitted and shown. */
async function fitted() {
  await page.locator(".vigour-told").waitFor({ timeout: 120_000 });
  await page.locator(".progress", { hasText: "Fitting" }).waitFor({ state: "detached", timeout: 120_000 });
}

/** The lines of a season that have a number, the most vigorous first; ties by id. */
const ranked = (lines, season) => lines
  .filter((line) => line.season === season && line.area_cm2 !== null)
  .sort((a, b) => b.adjusted - a.adjusted || (a.tree_id < b.tree_id ? -1 : 1));

/** The first lines on the screen say what the command line says. */
async function agrees(lines) {
  const shown = await page.locator(".rank-line").evaluateAll((all) => all.slice(0, 20).map((line) => ({
    rest: line.querySelector(".rank-rest").textContent,
    number: line.querySelector(".rank-number").textContent,
    growth: line.querySelector(".rank-word").textContent,
  })));
  assert.equal(shown.length, 20);
  shown.forEach(({ rest, number, growth }, nth) => {
    const line = lines[nth];
    const half = 1.6448536269514722 * line.adjusted_se;
    assert.equal(rest, `measured ${two(line.area_cm2)} · place ${signed(line.trend)} · `
      + `${two(line.adjusted - half)} to ${two(line.adjusted + half)}`);
    assert.equal(number, `${two(line.adjusted)}\u{a0}cm²`);
    const since = line.growth_cm2 === null ? "" : `${signed(line.growth_cm2)} since ${line.season - 1}`;
    assert.equal(growth, since);
  });
}

test("Proof leads to it, and the last season is ranked as on the command line", async () => {
  await page.getByRole("link", { name: "How strongly the trees grow" }).click();
  await fitted();
  assert.equal(await page.evaluate(() => location.hash), "#/vigour");
  await agrees(ranked(table("vigour", "demo-plot"), 2031));
  const said = leeward("vigour", "demo-plot").err.split("\n");
  const told = await page.locator(".vigour-told p").first().innerText();
  assert.ok(said.includes(told), told);
  assert.match(await page.locator(".vigour-caution").innerText(), /takes away what neighbours share/);
});

test("another trend and another season are other numbers", async () => {
  await page.getByLabel("Trend of the field").selectOption("ar1");
  assert.match(await page.locator("#trend-does").innerText(), /the nearer they stand/);
  await page.locator(".vigour-told", { hasText: "adjusted for an autoregression" }).waitFor({ timeout: 120_000 });
  await page.getByRole("button", { name: "2030", exact: true }).click();
  await agrees(ranked(table("vigour", "demo-plot", "--trend", "ar1"), 2030));
  await page.getByText("The numbers of the model").click();
  const correlations = (await page.locator(".vigour-correlations td").allInnerTexts()).map(Number);
  assert.equal(correlations.length, 2);
  assert.ok(correlations.every((one) => one >= -0.9 && one <= 0.998), `${correlations}`);
  assert.ok((await page.locator(".vigour-variances tr").count()) >= 3);
});

test("how diseases go with vigour is told as on the command line", async () => {
  await page.locator(".vigour-effect").nth(2).waitFor({ timeout: 120_000 });
  const shown = (await page.locator(".vigour-disease p").allInnerTexts()).map((line) => line.replaceAll("\u{a0}", " "));
  for (const disease of ["scab", "fire_blight", "canker"]) {
    const said = leeward("vigour", "demo-plot", "--disease", disease).err.replaceAll("\u{a0}", " ").split("\n");
    const lines = said.filter((line) => /Rank correlation|cannot be told|^The judgement of/.test(line));
    assert.equal(lines.length, 2, said.join("\n"));
    for (const line of lines) assert.ok(shown.includes(line), `${line}\n${shown.join("\n")}`);
  }
  assert.match(shown.join("\n"), /Ask your plant-health authority/);
});

test("crosses and copies are told as on the command line", async () => {
  const crosses = table("vigour", "demo-plot", "--trend", "ar1", "--by", "cross");
  await page.getByText("Cross by cross").click();
  const rows = await page.locator(".vigour-groups details").first().locator("tbody tr").evaluateAll(
    (all) => all.map((row) => [...row.children].map((cell) => cell.textContent)));
  const of = crosses.filter((line) => line.season === 2030);
  assert.equal(rows.length, of.length);
  for (const line of of) {
    const name = `${line.seed_parent || "?"} × ${line.pollen_parent || "?"}`;
    const row = rows.find((one) => one[0] === name);
    assert.deepEqual(row.slice(1, 4), [String(line.trees), two(line.raw_mean), two(line.adjusted)]);
  }
});

test("the list goes by keys, and a tree shows its growth from year to year", async () => {
  const total = Number(await page.locator(".rank-line").first().getAttribute("aria-setsize"));
  assert.ok(total > 1000 && (await page.locator(".rank-line").count()) < 60);
  await page.locator(".ranking").focus();
  await page.keyboard.press("Home");
  await page.locator(".vigour-history").waitFor();
  const lines = table("vigour", "demo-plot", "--trend", "ar1");
  const [first] = ranked(lines, 2030);
  const own = lines.filter((line) => line.tree_id === first.tree_id);
  const rows = await page.locator(".vigour-history tbody tr").evaluateAll(
    (all) => all.map((row) => [...row.children].map((cell) => cell.firstChild.textContent)));
  assert.deepEqual(rows, own.map((line) => [
    String(line.season), two(line.area_cm2), line.growth_cm2 === null ? "–" : signed(line.growth_cm2),
    signed(line.trend), two(line.adjusted),
  ]));
  await page.screenshot({ path: join(artefacts, "vigour-tree-phone.png") });
  await page.getByRole("button", { name: "By growth" }).click();
  const grown = (await page.locator(".rank-word").allInnerTexts()).map((words) => Number(/^[+−]?([\d.]+)/.exec(words)[1]));
  assert.deepEqual(grown, [...grown].sort((a, b) => b - a));
  // Another season keeps the order, and who was chosen.
  await page.locator(".vigour-seasons").getByRole("button", { name: "2030" }).click();
  await page.locator(".vigour-seasons").getByRole("button", { name: "2030", pressed: true }).waitFor();
  assert.equal(await page.getByRole("button", { name: "By growth" }).getAttribute("aria-pressed"), "true");
  assert.equal(await page.locator(".proof-detail").count(), 1);
  await page.locator(".vigour-seasons").getByRole("button", { name: "2031" }).click();
  await page.getByRole("button", { name: "Close" }).click();
  assert.equal(await page.locator(".proof-detail").count(), 0);
});

test("the card of a tree leads to it, with the tree chosen", async () => {
  await page.evaluate(() => { location.hash = "#/tree/T0003"; });
  const to = page.locator(".card-ways").getByRole("link", { name: "Vigour" });
  await to.waitFor();
  const name = await page.locator("#card-name").innerText();
  await to.click();
  await fitted();
  assert.equal(await page.locator(".proof-detail h2").innerText(), name);
  await page.locator(".proof-detail").getByRole("button", { name: "Close" }).click();
});

test("it is readable for everyone, on a phone and a laptop, by day and in the evening", async () => {
  await page.evaluate(() => window.scrollTo(0, 0));
  await looks(page, "vigour");
  assert.deepEqual(visit.errors, []);
});

test("a long fit shows how far it is, leaves the page free, and is stopped", async () => {
  const trees = ["tree_id,row,place"];
  const scores = ["score_id,tree_id,trait,value,scored_on"];
  for (let row = 1; row <= 80; row += 1) {
    for (let place = 1; place <= 100; place += 1) {
      trees.push(`${row}-${place},${row},${place}`);
      const own = ((row * 7919 + place * 104729) % 97) / 10 + 4 * Math.sin(place / 9 + row / 5);
      for (const year of [2030, 2031, 2032]) {
        scores.push(`s${year}-${row}-${place},${row}-${place},trunk_diameter,${(20 + own).toFixed(1)},${year}-10-10`);
      }
    }
  }
  const files = {
    "plot.json": JSON.stringify({
      format: "leeward-plot", version: 1, name: "Long Withy",
      layout: { row_spacing_m: 3, place_spacing_m: 0.75 },
      traits: [{ id: "trunk_diameter", label: "Trunk diameter", kind: "number", unit: "mm", min: 1, max: 400 }],
    }),
    "trees.csv": `${trees.join("\n")}\n`,
    "scores.csv": `${scores.join("\n")}\n`,
  };
  await openPlot(page, files);
  await page.evaluate(() => { location.hash = "#/vigour"; });
  await page.getByLabel("Trend of the field").selectOption("ar1");
  await page.locator(".progress", { hasText: "Fitting" }).waitFor();
  // A frame is drawn while the models are fitted.
  const late = await page.evaluate(() => new Promise((done) => {
    const from = performance.now();
    requestAnimationFrame(() => requestAnimationFrame(() => done(performance.now() - from)));
  }));
  assert.ok(late < 1000, `${late} ms`);
  await page.locator(".progress").getByRole("button", { name: "Stop" }).click();
  await page.getByText("Not fitted.").waitFor();
  await page.getByLabel("Trend of the field").selectOption("rows");
  await fitted();
  await agrees(ranked(table("vigour", onDisk(files), "--trend", "rows"), 2032));
  assert.deepEqual(visit.errors, []);
});
