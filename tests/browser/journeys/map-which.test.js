// Which trees the map shows, and two seasons side by side.
import assert from "node:assert/strict";
import { after, before, test } from "node:test";
import { laptop, phone } from "../help/browser.js";
import { visitDemo } from "../help/demo.js";
import { looks } from "../help/looks.js";

let visit, page, choice;
before(async () => {
  visit = await visitDemo("#/map");
  ({ page } = visit);
  choice = (name) => page.locator(".which-choice", { hasText: name }).locator("select");
  await page.locator(".stage-marks[width]").waitFor();
  await page.locator(".which summary").click();
});
after(async () => {
  assert.deepEqual(visit.errors, []);
  await visit.close();
});

const sum = (numbers) => numbers.reduce((a, b) => a + b, 0);
const counts = async () => (await page.locator(".legend-count:not(.legend-beside)").allTextContents()).map(Number);
const beside = async () => (await page.locator(".legend-beside").allTextContents()).map(Number);
const summary = () => page.locator(".which summary").innerText();
const said = (words) => page.waitForFunction(
  (it) => document.querySelector(".which summary").textContent.includes(it), words);
/** The number behind an option: `Marl × TR-9 (59)`. */
const size = (words) => Number(/\((\d+)\)$/.exec(words)[1]);

test("a cross alone is on the map, in the legend and in the table", async () => {
  const crosses = await choice("Cross").locator("option").allTextContents();
  assert.ok(crosses.length > 3, crosses.join("; "));
  const all = sum(await counts());
  await choice("Cross").selectOption({ index: 1 });
  await said(" trees of ");
  const [shown] = [sum(await counts())];
  assert.ok(shown > 0 && shown <= size(crosses[1]) && shown < all, `${shown} of ${all}`);
  assert.match(await summary(), new RegExp(`^Shown: ${shown} trees of `));
  await page.getByRole("button", { name: "Table" }).click();
  assert.equal(Number(await page.getByRole("grid").getAttribute("aria-rowcount")) - 1, shown);
  const parents = crosses[1].replace(/ \(\d+\)$/, "");
  const lines = await page.locator(".twin-line:not(.twin-head) .twin-cross").allTextContents();
  assert.ok(lines.length > 3 && lines.every((line) => line.startsWith(parents)), lines.join("; "));
  await page.getByRole("button", { name: "Table" }).click();
  await choice("Cross").selectOption({ index: 0 });
  await said("all trees");
  assert.equal(sum(await counts()), all);
});

test("kind and verdict narrow down together, and all comes back at once", async () => {
  const all = sum(await counts());
  await choice("Kind").selectOption({ label: "susceptible checks" });
  await said("susceptible checks");
  const checks = sum(await counts());
  assert.ok(checks > 5 && checks < all / 4, `${checks} of ${all}`);
  await choice("Verdict").selectOption({ label: "infected" });
  await page.waitForFunction((before) => {
    const said = /(\d+) infected susceptible checks/.exec(document.querySelector(".which summary").textContent);
    return said && Number(said[1]) < before;
  }, checks, { timeout: 60_000 });
  const infected = sum(await counts());
  assert.ok(infected > 0, "some checks took scab");
  await page.getByRole("button", { name: "All trees, one map" }).click();
  await said("all trees");
  assert.equal(sum(await counts()), all);
});

test("two seasons stand side by side, moved together, each with its own scores", async () => {
  await page.setViewportSize(laptop);
  const seasons = await choice("Beside it").locator("option").allTextContents();
  assert.ok(seasons.length >= 3, seasons.join());
  await choice("Beside it").selectOption({ index: 1 });
  await page.locator(".pane + .pane .stage-marks[width]").waitFor();
  const titles = await page.locator(".stage-moment").allTextContents();
  assert.equal(titles.length, 2);
  assert.notEqual(titles[0], titles[1]);
  assert.equal(titles[1].toLowerCase(), seasons[1]);
  assert.notDeepEqual(await counts(), await beside());
  assert.equal(sum(await counts()), sum(await beside()), "the same trees");
  // What the counts beside say is what the map shows when the slider goes to that season.
  const there = await beside();
  const slider = page.getByRole("slider");
  await slider.focus();
  await page.keyboard.press("Home");
  for (let steps = 0; steps < 20; steps += 1) {
    if ((await page.locator(".map-round-name").innerText()) === titles[1]) break;
    await page.keyboard.press("ArrowRight");
    await page.waitForTimeout(80);
  }
  const some = (numbers) => numbers.filter((count) => count > 0);
  assert.deepEqual(some(await counts()), some(there));
  // One eye for both.
  const scales = () => page.locator(".stage-scale text").allTextContents();
  const pictures = () => page.locator(".stage-marks").evaluateAll((all) => all.map((canvas) => {
    const { data } = canvas.getContext("2d").getImageData(0, 0, canvas.width, canvas.height);
    let hash = 0;
    for (let at = 0; at < data.length; at += 4) hash = (hash * 31 + data[at] * 7 + data[at + 1]) | 0;
    return hash;
  }));
  const [before, far] = [await pictures(), await scales()];
  assert.equal(before[0], before[1], "the same season looks the same on both");
  const box = await page.locator(".pane + .pane .stage").boundingBox();
  await page.mouse.move(box.x + box.width / 2, box.y + box.height / 2);
  for (let turns = 0; turns < 6; turns += 1) await page.mouse.wheel(0, -120);
  await page.waitForTimeout(500);
  assert.notDeepEqual(await scales(), far);
  const near = await pictures();
  assert.notEqual(near[0], before[0]);
  await page.keyboard.press("End");
});

test("a tree chosen in one is shown in both, beside its card", async () => {
  await page.getByRole("application").last().focus();
  await page.keyboard.press("Enter");
  await page.locator(".card").waitFor();
  await page.waitForTimeout(500);
  const [card, ...stages] = await Promise.all([page.locator(".card"), ...(await page.locator(".stage").all())]
    .map((it) => it.boundingBox()));
  assert.equal(stages.length, 2);
  for (const stage of stages) assert.ok(stage.x + stage.width <= card.x + 1, "the card hides neither");
  await page.keyboard.press("Escape");
  await page.locator(".card").waitFor({ state: "detached" });
});

test("it is remembered from place to place, and looks right", async () => {
  await page.getByRole("link", { name: "Folder" }).click();
  await page.locator(".folder").waitFor();
  await page.getByRole("link", { name: "Map" }).click();
  await page.locator(".pane + .pane .stage-marks[width]").waitFor();
  assert.match(await summary(), /season \d+ beside$/);
  await looks(page, "map-beside");
  await page.setViewportSize(phone);
  await page.locator(".which summary").click();
  await page.getByRole("button", { name: "All trees, one map" }).click();
  await page.locator(".pane + .pane").waitFor({ state: "detached" });
  await choice("Kind").selectOption({ label: "seedlings" });
  await looks(page, "map-which");
});
