// The map: seen, touched, walked over by keys, read as a table.
import assert from "node:assert/strict";
import { mkdir } from "node:fs/promises";
import { join } from "node:path";
import { before, test } from "node:test";
import { artefacts, laptop, phone } from "../help/browser.js";
import { visitDemo } from "../help/demo.js";
import { violations } from "../help/looks.js";

before(() => mkdir(artefacts, { recursive: true }));

/** Opens the demo plot in a fresh browser and waits until its trees are painted. */
async function withDemo(options, journey) {
  const visit = await visitDemo("#/map", options);
  const { page } = visit;
  try {
    await painted(page);
    await journey(page);
    assert.deepEqual(visit.errors, []);
  } finally {
    await visit.close();
  }
}

/** Waits until the canvas holds more colours than paper. */
async function painted(page) {
  await page.locator(".stage-marks").waitFor();
  await page.waitForFunction(() => {
    const canvas = document.querySelector(".stage-marks");
    if (!canvas || canvas.width < 50) return false;
    const { data } = canvas.getContext("2d").getImageData(0, 0, canvas.width, canvas.height);
    const seen = new Set();
    for (let i = 0; i < data.length; i += 40) seen.add(data[i] * 65536 + data[i + 1] * 256 + data[i + 2]);
    return seen.size > 8;
  });
}

/** Where on the page the mark nearest to the middle of the map is: the first outline around it. */
async function markNearMiddle(page) {
  const box = await page.locator(".stage").boundingBox();
  const at = await page.locator(".stage-marks").evaluate((canvas) => {
    const { width, height } = canvas;
    const { data } = canvas.getContext("2d").getImageData(0, 0, width, height);
    const dark = (x, y) => {
      const at = (y * width + x) * 4;
      return data[at + 3] > 200 && data[at] + data[at + 1] + data[at + 2] < 180;
    };
    let nearest;
    for (let y = 0; y < height; y += 2) {
      for (let x = 0; x < width; x += 2) {
        const apart = (x - width / 2) ** 2 + (y - height / 2) ** 2;
        if (dark(x, y) && (!nearest || apart < nearest.apart)) nearest = { apart, x, y };
      }
    }
    return [nearest.x / width, nearest.y / height];
  });
  return [box.x + at[0] * box.width, box.y + at[1] * box.height];
}

const counts = async (page) =>
  (await page.locator(".legend-count").allTextContents()).map(Number);
const sum = (numbers) => numbers.reduce((a, b) => a + b, 0);
const scale = (page) => page.locator(".stage-scale text").textContent();
const still = (page) => page.waitForTimeout(450);

test("every layer has a legend whose counts are all trees", async () => {
  await withDemo({ viewport: phone }, async (page) => {
    const layer = page.getByLabel("Layer");
    const keys = await layer.locator("option").evaluateAll((all) => all.map((one) => one.value));
    assert.ok(keys.includes("cross") && keys.includes("vigour"), keys.join());
    await page.getByRole("button", { name: "Table" }).click();
    const trees = Number(await page.getByRole("grid").getAttribute("aria-rowcount")) - 1;
    await page.getByRole("button", { name: "Table" }).click();
    assert.ok(trees > 1000);
    for (const key of keys) {
      await layer.selectOption(key);
      assert.equal(sum(await counts(page)), trees, key);
    }
  });
});

test("a finger drags, pinches out by double tap, and chooses a tree", async () => {
  await withDemo({ viewport: phone, hasTouch: true, isMobile: true }, async (page) => {
    const box = await page.locator(".stage").boundingBox();
    const middle = [box.x + box.width / 2, box.y + box.height / 2];
    const far = await scale(page);
    for (let taps = 0; taps < 3; taps += 1) {
      await page.touchscreen.tap(...middle);
      await page.touchscreen.tap(...middle);
      await still(page);
    }
    assert.notEqual(await scale(page), far);
    await page.keyboard.press("Escape");
    await page.touchscreen.tap(...(await markNearMiddle(page)));
    const card = page.getByRole("complementary");
    await card.waitFor();
    assert.match(page.url(), /#\/tree\//);
    assert.ok((await card.getByRole("heading", { level: 2 }).textContent()).length > 0);
    await card.getByRole("button", { name: "Put the card away" }).click();
    await card.waitFor({ state: "detached" });
    assert.match(page.url(), /#\/map$/);
  });
});

test("wheel and drag move the map; a click chooses", async () => {
  await withDemo({ viewport: laptop }, async (page) => {
    const box = await page.locator(".stage").boundingBox();
    const far = await scale(page);
    await page.mouse.move(box.x + 300, box.y + 300);
    for (let turns = 0; turns < 8; turns += 1) await page.mouse.wheel(0, -120);
    await still(page);
    assert.notEqual(await scale(page), far);
    await page.mouse.down();
    await page.mouse.move(box.x + 420, box.y + 360, { steps: 6 });
    await page.mouse.up();
    await still(page);
    await page.getByRole("button", { name: "All" }).click();
    await still(page);
    assert.equal(await scale(page), far);
  });
});

test("keys walk from tree to tree and are heard", async () => {
  await withDemo({ viewport: laptop }, async (page) => {
    await page.getByRole("application").focus();
    await page.keyboard.press("+");
    await page.keyboard.press("Enter");
    const name = () => page.locator("#card-name").textContent();
    await page.locator(".card").waitFor();
    const first = await name();
    await page.keyboard.press("ArrowDown");
    await page.waitForFunction((before) => document.querySelector("#card-name")?.textContent !== before, first);
    const second = await name();
    assert.ok((await page.locator(".stage [role=status]").textContent()).startsWith(second));
    await page.keyboard.press("ArrowUp");
    await page.waitForFunction((before) => document.querySelector("#card-name")?.textContent === before, first);
    await page.keyboard.press("Escape");
    await page.locator(".card").waitFor({ state: "detached" });
  });
});

test("the slider walks through the rounds", async () => {
  await withDemo({ viewport: phone }, async (page) => {
    const slider = page.getByRole("slider");
    const all = await counts(page);
    await slider.focus();
    await page.keyboard.press("Home");
    await page.waitForFunction(() => document.querySelector(".map-round-name").textContent !== "All rounds");
    const first = await counts(page);
    assert.notDeepEqual(first, all);
    assert.equal(sum(first), sum(all));
    await page.keyboard.press("End");
    await page.waitForFunction(() => document.querySelector(".map-round-name").textContent === "All rounds");
    assert.deepEqual(await counts(page), all);
  });
});

test("the table holds the same trees and the same choice", async () => {
  await withDemo({ viewport: laptop }, async (page) => {
    await page.getByRole("button", { name: "Table" }).click();
    const grid = page.getByRole("grid");
    await grid.focus();
    await page.keyboard.press("ArrowDown");
    for (let steps = 0; steps < 40; steps += 1) await page.keyboard.press("ArrowDown");
    const chosen = page.locator(".twin-line[aria-selected=true]");
    await chosen.waitFor();
    const tag = await chosen.locator(".twin-tag").textContent();
    assert.equal(await page.locator("#card-name").textContent(), tag);
    assert.ok((await page.locator(".twin-line").count()) < 60, "only what is on the screen exists");
    await page.getByRole("button", { name: "Table" }).click();
    await painted(page);
    assert.equal(await page.locator("#card-name").textContent(), tag);
  });
});

test("an address with a tree opens its card", async () => {
  await withDemo({ viewport: phone }, async (page) => {
    await page.getByRole("application").focus();
    await page.keyboard.press("Enter");
    await page.locator(".card").waitFor();
    const [name, address] = [await page.locator("#card-name").textContent(), page.url()];
    await page.getByRole("link", { name: "Folder" }).click();
    await page.locator(".folder").waitFor();
    await page.goto(address);
    await page.locator(".card").waitFor();
    assert.equal(await page.locator("#card-name").textContent(), name);
  });
});

test("map, card and table satisfy WCAG 2.2 AA as far as a machine can tell", async () => {
  await withDemo({ viewport: phone }, async (page) => {
    const check = async (what) => assert.deepEqual(await violations(page), [], what);
    await check("map");
    await page.getByRole("application").focus();
    await page.keyboard.press("Enter");
    await page.locator(".card").waitFor();
    await check("card");
    await page.getByRole("button", { name: "Table" }).click();
    await page.getByRole("grid").waitFor();
    await check("table");
  });
});

test("pictures of the map are kept", async () => {
  for (const [size, viewport] of Object.entries({ phone, laptop })) {
    for (const colorScheme of ["light", "dark"]) {
      await withDemo({ viewport, colorScheme }, async (page) => {
        await page.screenshot({ path: join(artefacts, `map-${size}-${colorScheme}.png`) });
        await page.getByRole("application").focus();
        await page.keyboard.press("Enter");
        await page.locator(".card").waitFor();
        await still(page);
        await page.screenshot({ path: join(artefacts, `map-card-${size}-${colorScheme}.png`) });
      });
    }
  }
});
