// Speed of hand: taps for each score, and the time from a tap to the painted next tree, on a plot
// of 20,000 trees. Counts are asserted; times are printed, since machines differ.
import assert from "node:assert/strict";
import { mkdirSync } from "node:fs";
import { writeFile } from "node:fs/promises";
import { join } from "node:path";
import { after, before, test } from "node:test";
import { artefacts, visitSite } from "../help/browser.js";
import { field, hand, openField } from "../help/field.js";
import { share } from "../help/frames.js";

const ROWS = 334;
const PLACES = 60;
let visit, page, on;

before(async () => {
  visit = await visitSite();
  page = visit.page;
  on = hand(page);
  await openField(page, field({ rows: ROWS, places: PLACES, name: "Long Reed" }));
});

after(() => visit?.close());

/** Taps a key and waits until the next frame after the next is there: then it is painted. */
const tap = (value) => page.evaluate((words) => new Promise((done) => {
  const key = [...document.querySelectorAll(".walk-key")]
    .find((it) => it.querySelector(".walk-value").textContent === words);
  const from = performance.now();
  key.click();
  const worked = performance.now() - from;
  requestAnimationFrame(() => requestAnimationFrame(() => {
    done({ painted: performance.now() - from, worked, name: document.querySelector(".walk-name")?.textContent });
  }));
}), String(value));

const line = (what, times) =>
  `${what}: median ${share(times, 0.5).toFixed(1)} ms, p95 ${share(times, 0.95).toFixed(1)} ms, worst ${Math.max(...times).toFixed(1)} ms`;

test("a row of 60 trees takes 60 taps and nothing else, at 20,000 trees", async (t) => {
  assert.match(await page.locator(".walk-start").innerText(), new RegExp(`Walk ${ROWS * PLACES} trees`));
  await page.locator(".walk-start").click();
  await page.locator(".walk-key").first().waitFor();
  assert.match(await page.locator(".walk-row").innerText(), /^Row 1 · 0 of 60/);
  const [painted, worked] = [[], []];
  const names = new Set([await on.name()]);
  let taps = 0;
  while (/^Row 1 /.test(await page.locator(".walk-row").innerText())) {
    const told = await tap(1 + (taps % 4));
    taps += 1;
    painted.push(told.painted);
    worked.push(told.worked);
    names.add(told.name);
  }
  assert.equal(taps, PLACES, "a tap for each tree");
  assert.equal(names.size, PLACES + 1, "each tap brought another tree");
  assert.equal(await on.name(), `W2-${PLACES}`, "and the next row from its near end");
  await on.saved();
  await page.locator(".walk-rows summary").click();
  assert.match(await page.locator(".walk-leg").first().innerText(), /^Row 1\s*60 of 60/);
  await page.locator(".walk-rows summary").click();
  const said = [
    `taps per score: ${taps / PLACES}`,
    line("tap to painted next tree, two frames", painted),
    line("of this, work on the tap itself", worked),
  ];
  for (const one of said) t.diagnostic(one);
  mkdirSync(artefacts, { recursive: true });
  await writeFile(join(artefacts, "walk-speed.txt"), `${said.join("\n")}\n`);
});

test("two traits take two taps for each tree, also far into the plot", async (t) => {
  await page.locator(".walk-rows summary").click();
  await on.button("End this walk").click();
  await page.getByLabel("Bloom").check();
  await page.getByLabel("Rows").fill(`${ROWS}`);
  await page.locator(".walk-start").click();
  await page.locator(".walk-key").first().waitFor();
  const painted = [];
  for (let taps = 0; taps < 2 * PLACES; taps += 1) painted.push((await tap(1)).painted);
  await page.getByText("Every tree of the route was looked at").waitFor();
  t.diagnostic(line("two traits, tap to painted next question", painted));
  await on.saved();
  assert.deepEqual(visit.errors, []);
});
