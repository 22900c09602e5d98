// Events on the time line: what was done and what befell the plot, in letters and in words; and how
// a disease went on, as areas, where the events stand beside the scores.
import assert from "node:assert/strict";
import { mkdir } from "node:fs/promises";
import { join } from "node:path";
import { after, before, test } from "node:test";
import { artefacts, phone, visitSite } from "../help/browser.js";
import { field } from "../help/field.js";
import { openPlot } from "../help/keeping.js";
import { looks } from "../help/looks.js";
import { onDisk, table } from "../help/plots.js";

const LOOKS = [["2030-05-10", 1], ["2030-06-10", 2], ["2030-07-10", 3], ["2031-05-20", 4], ["2031-06-20", 5]];
const EVENTS = [
  "date,from,to,kind,rows,note",
  "2030-05-25,,,spray,1-2,\"sulphur, invented\"",
  ",2030-06-08,2030-06-12,hail,,",
  "2030-09-01,,,pruning,3,",
  "2031-04-28,,,Frost,,in bloom",
];

let visit, page, files, native;

before(async () => {
  await mkdir(artefacts, { recursive: true });
  const scores = ["score_id,tree_id,trait,value,scored_on,round"];
  LOOKS.forEach(([day, round], nth) => {
    for (let row = 1; row <= 4; row += 1) {
      for (let place = 1; place <= 6; place += 1) {
        const value = 1 + ((row + place + nth) % 5);
        scores.push(`s${round}-${row}-${place},${row}-${place},scab_leaf,${value},${day},${round}`);
      }
    }
  });
  files = field({ rows: 4, places: 6 });
  files["scores.csv"] = `${scores.join("\n")}\n`;
  files["events.csv"] = `${EVENTS.join("\n")}\n`;
  native = table("progress", onDisk(files), "--disease", "scab");
  visit = await visitSite();
  page = visit.page;
  await openPlot(page, files);
  await page.locator(".map-events").waitFor();
});

after(() => visit?.close());

const slider = () => page.locator(".map-foot").getByRole("slider");
const summary = () => page.locator(".event-list summary").innerText();

/** Moves the slider to its nth stop. */
const slide = (nth) => slider().evaluate((it, to) => {
  it.value = String(to);
  it.dispatchEvent(new Event("input", { bubbles: true }));
}, nth);

test("letters lie in time between the stops, and words say what they are", async () => {
  const marks = await page.locator(".map-foot .map-event").evaluateAll((all) => all.map((mark) => [
    mark.textContent, mark.getBoundingClientRect().left + mark.getBoundingClientRect().width / 2,
  ]));
  // Stops: three rounds, season 2030, two rounds, season 2031, all.
  assert.deepEqual(marks.map(([letter]) => letter), ["S", "H", "P", "F"]);
  const box = await slider().boundingBox();
  const at = (stops) => box.x + 8 + ((box.width - 16) * stops) / 7;
  [15 / 31, 29 / 31, 2.5, 3.5].forEach((stops, nth) => {
    assert.ok(Math.abs(marks[nth][1] - at(stops)) < 1.5, `${marks[nth]} and not ${at(stops)}`);
  });
  assert.equal(await summary(), "4 events: frost, hail, pruning, spray");
  await page.locator(".event-list summary").click();
  assert.deepEqual(await page.locator(".event-list li").allInnerTexts(), [
    "Spray, 25 May 2030, rows 1 to 2: sulphur, invented (between round 1 of 2030 and round 2 of 2030)",
    "Hail, 8 June 2030 to 12 June 2030, the whole plot (during round 2 of 2030)",
    "Pruning, 1 September 2030, row 3 (between round 3 of 2030 and round 4 of 2031)",
    "Frost, 28 April 2031, the whole plot: in bloom (between round 3 of 2030 and round 4 of 2031)",
  ]);
  assert.match(await page.locator(".event-list .caution").innerText(), /The label is the law/);
});

test("the slider says what happened since the round before, also to those who hear it", async () => {
  await slide(1);
  assert.equal(await summary(), "Events since the round before: 2 events");
  assert.deepEqual(
    (await page.locator(".event-list .event-now").allInnerTexts()).map((line) => line.split(",")[0]),
    ["Spray", "Hail"]);
  const heard = await slider().getAttribute("aria-valuetext");
  assert.match(heard, /round 2.*Before it: Spray, 25 May 2030, rows 1 to 2.*Hail/);
  await slide(2);
  // The hail went on after that round, so it is told of this one, too.
  assert.match(await summary(), /^Events since the round before: Hail, 8 June 2030 to 12 June 2030/);
  await slide(4);
  assert.match(await summary(), /^Events since the round before: Frost, 28 April 2031/);
  await slide(5);
  assert.equal(await summary(), "Events since the round before: none");
  await slide(3);
  assert.equal(await summary(), "Events of this season: 3 events");
  await slide(7);
});

test("it is readable for everyone, on a phone and a laptop, by day and in the evening", async () => {
  await looks(page, "events");
});

test("a tree's card has the events of its row, and how the disease went on", async () => {
  await page.setViewportSize(phone);
  const areas = (id) => native.filter((line) => line.tree_id === id).map((line) => line.audps).reverse();
  const two = (value) => String(Math.round(value * 100) / 100);
  const check = async (id, events, caution) => {
    await page.evaluate((it) => { location.hash = `#/tree/${it}`; }, id);
    await page.locator("#card-name", { hasText: `W${id}` }).waitFor();
    const shown = await page.locator(".history-event").evaluateAll(
      (all) => all.map((line) => line.lastElementChild.textContent.split(",")[0]));
    assert.deepEqual(shown, events);
    assert.equal(await page.locator(".history .caution").count(), caution);
    const told = await page.locator(".history-progress").evaluateAll((all) => all.map((line) => line.textContent));
    assert.deepEqual(told.map((line) => /AUDPS ([\d.]+) share-days/.exec(line)[1]), areas(id).map(two));
    assert.match(told[1], /^Scab on leaves: AUDPC [\d.]+, AUDPS [\d.]+ share-days: 3 looks over 61 days\.$/);
  };
  await check("2-3", ["Frost", "Hail", "Spray"], 1);
  await check("3-3", ["Frost", "Pruning", "Hail"], 0);
  await page.locator(".history").scrollIntoViewIfNeeded();
  await page.screenshot({ path: join(artefacts, "events-card-phone.png") });
});

test("Proof ranks the infected with the area of their worst season", async () => {
  await page.evaluate(() => { location.hash = "#/proof/scab"; });
  await page.locator(".verdict-counts").waitFor({ timeout: 120_000 });
  await page.getByRole("button", { name: "Infected, by gap" }).click();
  await page.locator(".rank-line").first().waitFor();
  assert.match(await page.locator(".rankings .hint").innerText(), /share-days/);
  const lines = await page.locator(".rank-line").evaluateAll((all) => all.map((line) => [
    line.querySelector(".rank-name").textContent, line.querySelector(".rank-rest").textContent,
  ]));
  assert.ok(lines.length > 10);
  for (const [name, rest] of lines) {
    const own = native.filter((line) => `W${line.tree_id}` === name);
    const worst = own.reduce((a, b) => (b.audps > a.audps ? b : a));
    assert.ok(rest.endsWith(`AUDPS ${Math.round(worst.audps * 100) / 100} in ${worst.season}`), `${name}: ${rest}`);
  }
});

test("nothing went wrong on the way", () => {
  assert.deepEqual(visit.errors, []);
});
