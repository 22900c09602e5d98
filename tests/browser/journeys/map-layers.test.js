// Layers of the map: dose, what is left over, and the ground that walks under the marks.
import assert from "node:assert/strict";
import { mkdir } from "node:fs/promises";
import { join } from "node:path";
import { after, before, test } from "node:test";
import { artefacts, laptop, phone } from "../help/browser.js";
import { visitDemo } from "../help/demo.js";
import { looks } from "../help/looks.js";

let visit, page, layer, ground, slider;
before(async () => {
  visit = await visitDemo("#/map");
  ({ page } = visit);
  await page.emulateMedia({ colorScheme: "light" });
  await page.setViewportSize(laptop);
  [layer, ground, slider] = [page.getByLabel("Layer"), page.getByLabel("Ground"), page.getByRole("slider")];
  await layer.waitFor();
});
after(async () => {
  assert.deepEqual(visit.errors, []);
  await visit.close();
});

/** The tints by day, least to most, as `crates/scene/src/palette.rs` has them. */
const TINTS = ["238,230,230", "226,214,221", "214,197,211", "201,181,202"];

/** How many pixels of the map have each of the tints. */
const tinted = () =>
  page.locator(".stage-marks").evaluate((canvas, tints) => {
    const { data } = canvas.getContext("2d").getImageData(0, 0, canvas.width, canvas.height);
    const seen = Object.fromEntries(tints.map((tint) => [tint, 0]));
    for (let at = 0; at < data.length; at += 4) {
      const colour = `${data[at]},${data[at + 1]},${data[at + 2]}`;
      if (colour in seen) seen[colour] += 1;
    }
    return tints.map((tint) => seen[tint]);
  }, TINTS);

const sum = (numbers) => numbers.reduce((a, b) => a + b, 0);
const counts = async () => (await page.locator(".legend-count").allTextContents()).map(Number);
const areas = async () =>
  (await page.locator(".legend-area").allTextContents()).map((words) => Number(words.replace(/\D/g, "")));
const moment = () => page.locator(".map-round-name").textContent();

/** Chooses a layer and waits until it is judged. */
async function show(key) {
  await layer.selectOption(key);
  await page.waitForFunction(() => {
    const legend = document.querySelector(".legend");
    return !legend.querySelector("[role=progressbar], progress") && !legend.textContent.includes("not judged yet");
  }, null, { timeout: 60_000 });
}

/** Moves the slider by a key and waits until the map follows. */
async function slide(key) {
  const before = await moment();
  await slider.focus();
  await page.keyboard.press(key);
  await page.waitForFunction((it) => document.querySelector(".map-round-name").textContent !== it, before);
  await page.waitForTimeout(150);
}

test("dose and what is left over are classed with meaning, every tree once", async () => {
  await show("verdict/scab");
  const trees = sum(await counts());
  await show("dose/scab");
  const legend = page.locator(".legend");
  assert.equal(sum(await counts()), trees);
  assert.match(await legend.innerText(), /3 to 4\.6\s+1 to 5\s%\sstay clean/);
  assert.ok((await counts()).slice(0, 5).every((count) => count > 0), "demo trees of every dose");
  await show("leftover/scab");
  assert.equal(sum(await counts()), trees);
  const words = await page.locator(".legend-label").allInnerTexts();
  assert.deepEqual(words.slice(0, 5).map((word) => word.split("\n")[0]), [
    "far fewer than explained", "fewer than explained", "as explained",
    "more than explained", "far more than explained",
  ]);
  assert.match(await legend.textContent(), /is left over.*Moran’s I -?\d\.\d{3}.*p \d\.\d{3}/);
});

test("the slider stops at each round, each season and all, for layers of a disease too", async () => {
  await show("verdict/scab");
  const stops = Number(await slider.getAttribute("max")) + 1;
  await slide("Home");
  const names = [await moment()];
  for (let nth = 1; nth < stops; nth += 1) {
    await slide("ArrowRight");
    names.push(await moment());
  }
  assert.equal(names.at(-1), "All rounds");
  const seasons = names.filter((name) => /^Season \d{4}$/.test(name));
  assert.ok(seasons.length >= 2, names.join());
  const year = (name) => Number(/\d{4}/.exec(name)[0]);
  const years = names.slice(0, -1).map(year);
  assert.deepEqual(years, [...years].sort(), "in time");
  for (const season of seasons) {
    assert.ok(names.indexOf(season) > 0 && year(names[names.indexOf(season) - 1]) === year(season));
  }
});

test("the ground is tinted under any layer, and walks while the marks stay", async () => {
  await show("verdict/scab");
  assert.equal(sum(await tinted()), 0, "plain ground");
  await ground.selectOption("tissue");
  await page.locator(".legend-ground").waitFor();
  await page.waitForTimeout(300);
  const [marks, all, whole] = [await counts(), await tinted(), await areas()];
  assert.ok(all.every((pixels) => pixels > 2000), all.join());
  await slide("Home");
  const first = await tinted();
  assert.ok(first[3] < all[3] / 2, `less tissue in the first round: ${first} ${all}`);
  assert.deepEqual(await counts(), marks);
  const now = await areas();
  assert.notDeepEqual(now.slice(0, 4), whole.slice(0, 4));
  assert.ok(Math.abs(sum(now) - sum(whole)) <= 4, "as much ground as before");
  assert.match(await page.locator(".map-follows").textContent(), /marks are of the whole record; the ground walks/);
  assert.match(await page.locator(".legend-ground h2").textContent(), /up to \d+ \w+ \d{4}$/);
  await ground.selectOption("witnesses");
  await page.waitForFunction(() => document.querySelector(".legend-ground").textContent.includes("under 25"));
  await slide("End");
  assert.equal(await page.locator(".map-follows").count(), 0);
  await layer.selectOption("cross");
  await page.waitForTimeout(300);
  assert.ok(sum(await tinted()) > 2000, "under the crosses too");
});

test("it runs through the rounds by itself and can be stopped", async () => {
  await show("verdict/scab");
  await ground.selectOption("tissue");
  await page.getByRole("button", { name: "Run through the rounds" }).click();
  const begun = await moment();
  assert.notEqual(begun, "All rounds");
  await page.waitForFunction((it) => document.querySelector(".map-round-name").textContent !== it, begun);
  await page.getByRole("button", { name: "Stop" }).click();
  const stopped = await moment();
  await page.waitForTimeout(1200);
  assert.equal(await moment(), stopped);
  await slide("End");
});

test("the tint is still there when one comes back, and looks right to everyone", async () => {
  await page.getByRole("link", { name: "Folder" }).click();
  await page.locator(".folder").waitFor();
  await page.getByRole("link", { name: "Map" }).click();
  await page.locator(".legend-ground").waitFor();
  assert.equal(await ground.inputValue(), "tissue");
  await page.waitForTimeout(300);
  await looks(page, "map-ground");
  await show("leftover/scab");
  await ground.selectOption("plain");
  await looks(page, "map-leftover");
  await show("dose/scab");
  await looks(page, "map-dose");
});

test("in grey every layer still tells its classes apart by shape", async () => {
  await mkdir(artefacts, { recursive: true });
  await ground.selectOption("plain");
  await page.evaluate(() => { document.documentElement.style.filter = "grayscale(1)"; });
  for (const [size, viewport] of Object.entries({ laptop, phone })) {
    await page.setViewportSize(viewport);
    for (const key of ["trait/scab_leaf", "verdict/scab", "luck/scab", "pressure/scab", "vigour", "cross"]) {
      await show(key);
      await page.waitForTimeout(250);
      await page.screenshot({ path: join(artefacts, `layer-${key.replace("/", "-")}-${size}-grey.png`) });
      // Crosses are too many for that: shape and colour together tell them, and their names.
      if (key === "cross") continue;
      const shapes = await page.locator(".legend > ul .mark").evaluateAll((all) => all.map((mark) =>
        [...mark.querySelectorAll("path")].map((path) => path.getAttribute("d")).join(" ")));
      assert.equal(new Set(shapes).size, shapes.length, key);
    }
  }
  await page.evaluate(() => { document.documentElement.style.filter = ""; });
});
