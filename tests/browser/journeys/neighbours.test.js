// The neighbours of a tree: weighed, ringed by distance, dragged through the rounds.
import assert from "node:assert/strict";
import { test } from "node:test";
import { laptop, phone } from "../help/browser.js";
import { visitDemo } from "../help/demo.js";
import { violations } from "../help/looks.js";

/** Opens the demo plot at the card of a tree, judged, its neighbours listed. */
async function around(id, options, journey) {
  const visit = await visitDemo(`#/tree/${id}`, options);
  const { page } = visit;
  try {
    await page.locator(".card .verdict-word").first().waitFor({ timeout: 120_000 });
    await page.locator(".card .verdict-waits").first().waitFor({ state: "detached", timeout: 120_000 });
    const summary = page.locator(".around > summary");
    if (options.hasTouch) await summary.tap();
    else await summary.click();
    await page.locator(".around li").first().waitFor();
    await page.waitForTimeout(450);
    await journey(page);
    assert.deepEqual(visit.errors, []);
  } finally {
    await visit.close();
  }
}

const lines = (page) => page.locator(".around ol > li:not(.around-farther)");
const told = async (page) => (await lines(page).locator(".around-words").allTextContents()).join("\n");
const all = (page) => page.locator(".around-all").textContent();
const percent = (words) => (/under/.test(words) ? 0.5 : Number(/(\d+)/.exec(words)[1]));

/** What the canvas over the marks holds, as a sum that changes with any line on it. */
const ink = (page) => page.locator(".stage-over").evaluate((canvas) => {
  const { data } = canvas.getContext("2d").getImageData(0, 0, canvas.width, canvas.height);
  let sum = 0;
  for (let at = 0; at < data.length; at += 4) sum = (sum * 31 + data[at] + data[at + 3] * 7) % 2147483647;
  return sum;
});

/** Drags the slider's thumb to a share of its length: by mouse, or by a finger. */
async function drag(page, slider, share, hasTouch) {
  const box = await slider.boundingBox();
  const now = await slider.evaluate((it) => (it.value - it.min) / (it.max - it.min));
  const at = (share) => [box.x + 8 + (box.width - 16) * share, box.y + box.height / 2];
  const [from, to] = [at(now), at(share)];
  if (!hasTouch) {
    await page.mouse.move(...from);
    await page.mouse.down();
    await page.mouse.move(...to, { steps: 8 });
    await page.mouse.up();
    return;
  }
  const fingers = await page.context().newCDPSession(page);
  const touch = (type, points) => fingers.send("Input.dispatchTouchEvent", { type, touchPoints: points });
  await touch("touchStart", [{ x: from[0], y: from[1] }]);
  for (let step = 1; step <= 8; step += 1) {
    await touch("touchMove", [{ x: from[0] + ((to[0] - from[0]) * step) / 8, y: from[1] }]);
  }
  await touch("touchEnd", []);
}

test("every neighbour says how much it counts, and together they count all", async () => {
  await around("T0557", { viewport: laptop }, async (page) => {
    assert.equal(await lines(page).count(), 8);
    const counts = await lines(page).locator(".around-counts").allTextContents();
    const farther = await page.locator(".around-farther").textContent();
    const known = counts.filter((words) => words !== "");
    assert.ok(known.length > 0 && known.every((words) => /^counts (under )?\d+\s%$/.test(words)), counts.join());
    const sum = known.map(percent).reduce((a, b) => a + b, 0) + percent(farther.replace(/^\d+/, ""));
    assert.ok(Math.abs(sum - 100) < 6, `${counts} ${farther}`);
    // The more a neighbour counts, the wider its line.
    const widths = await lines(page).locator(".around-way path:first-child")
      .evaluateAll((all) => all.map((path) => Number(path.getAttribute("stroke-width"))));
    const took = (await lines(page).evaluateAll((all) => all.map((line) => line.className === "tells-infected")));
    const pairs = counts.map((words, nth) => [percent(words || "0"), widths[nth]]).filter((_, nth) => took[nth]);
    const wrong = pairs.filter(([less, thin]) => pairs.some(([more, thick]) => more > less && thick <= thin));
    assert.deepEqual(wrong, [], pairs.join(" "));
    assert.ok(new Set(pairs.map(([count]) => count)).size > 1, "they differ");
    assert.match(await all(page), /of 8 nearest trees|All 8 nearest trees|None of 8/);
    assert.match(await all(page), /By weight, .*of all around took it/);
  });
});

for (const [how, options] of Object.entries({
  finger: { viewport: phone, hasTouch: true, isMobile: true },
  mouse: { viewport: phone },
})) {
  test(`on a phone a ${how} drags the slider inside the card through the rounds`, async () => {
    await around("T0557", options, async (page) => {
      const slider = page.locator(".around").getByRole("slider");
      assert.equal(await page.getByRole("slider").count(), 1, "the map's own rests under the card");
      const whole = { lines: await told(page), all: await all(page), ink: await ink(page) };
      await drag(page, slider, 0, options.hasTouch);
      await page.waitForFunction(() => document.querySelector(".around-all").textContent.startsWith("By then"));
      assert.match(await page.locator(".around .map-round-name").textContent(), /2029/);
      assert.match(await page.locator(".around-itself").textContent(), /^This tree: /);
      await page.waitForTimeout(200);
      const first = { lines: await told(page), all: await all(page), ink: await ink(page) };
      assert.notEqual(first.lines, whole.lines);
      assert.notEqual(first.ink, whole.ink, "the lines on the map follow");
      assert.doesNotMatch(first.lines, /203[01]/, "nothing is known of later seasons");
      await drag(page, slider, 1, options.hasTouch);
      await page.waitForFunction((words) => document.querySelector(".around-all").textContent === words, whole.all);
      assert.equal(await told(page), whole.lines);
    });
  });
}

test("rounds of a season only ever add infected neighbours", async () => {
  await around("T0557", { viewport: laptop }, async (page) => {
    const slider = page.locator(".map-foot").getByRole("slider");
    await slider.focus();
    await page.keyboard.press("Home");
    let before = { season: "", infected: 0 };
    const seen = [];
    for (;;) {
      await page.waitForTimeout(60);
      const name = await page.locator(".map-foot .map-round-name").textContent();
      if (name === "All rounds") break;
      const season = /\d{4}/.exec(name)[0];
      const infected = await page.locator(".around li.tells-infected").count();
      if (/round/.test(name) && season === before.season) assert.ok(infected >= before.infected, `${name}: ${infected}`);
      before = { season, infected };
      seen.push(infected);
      await page.keyboard.press("ArrowRight");
    }
    assert.ok(seen.length > 4 && new Set(seen).size > 1, seen.join());
  });
});

test("a neighbour's name leads to its own neighbours, with the list still open", async () => {
  await around("T0557", { viewport: phone }, async (page) => {
    const link = lines(page).first().getByRole("link");
    const name = await link.textContent();
    await link.click();
    await page.waitForFunction((name) => document.querySelector("#card-name").textContent === name, name);
    await page.locator(".around li").first().waitFor();
    assert.ok(await page.locator(".around").evaluate((it) => it.open));
  });
});

test("the list of neighbours satisfies WCAG 2.2 AA as far as a machine can tell", async () => {
  for (const viewport of [phone, laptop]) {
    await around("T0557", { viewport }, async (page) => {
      for (const theme of ["dark", "light"]) {
        await page.evaluate((it) => document.documentElement.setAttribute("data-theme", it), theme);
        assert.deepEqual(await violations(page), [], theme);
      }
    });
  }
});
