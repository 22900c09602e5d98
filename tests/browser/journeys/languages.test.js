// The page in another language: chosen by the browser or by hand, kept, there without a network;
// numbers and days by the locale; and no text of the page that is not said through the list.
import assert from "node:assert/strict";
import { after, before, test } from "node:test";
import { open, ready, serve } from "../help/browser.js";
import { counted } from "../help/counted.js";
import { pictured, violations } from "../help/looks.js";
import { speakMarked, unmarked } from "../help/marked.js";
import { unfolded } from "../help/unfolded.js";

let site;
before(async () => { site = await serve(); });
after(() => site?.close());

const figures = { states: [], texts: 0 };
after(() => counted("languages", figures));

const go = (page, address) => page.evaluate((it) => { location.hash = it; }, address);
const spoken = (page) => page.evaluate(() => document.documentElement.lang);

/** A visit with a browser that is set to a place. */
async function visited(journey, context) {
  const visit = await open({ context });
  try {
    if (context.altering) await context.altering(visit.context);
    await visit.page.goto(site.address);
    await ready(visit.page);
    await journey(visit.page, visit);
    assert.deepEqual(visit.errors, []);
  } finally {
    await visit.close();
  }
}

/** Fails on each text of this state that was not said. */
async function said(page, state) {
  const texts = await unmarked(page);
  figures.states.push(state);
  left.push(...texts.map((text) => `${state}: ${text}`));
}
const left = [];

test("every text of the page is said in its language", () => visited(async (page) => {
  assert.equal(await spoken(page), "de");
  await said(page, "first page");
  await page.getByText("Open a plot folder").click();
  await said(page, "a folder to hand in");
  await page.getByText("Start a new plot").click();
  await page.locator(".new-plot").waitFor();
  await said(page, "a new plot");
  await go(page, "#/folder");
  await page.locator(".folder").waitFor();
  await said(page, "folder without a plot");

  await go(page, "#/");
  await page.getByText("Open the demo plot").click();
  await page.locator(".stage-scale").waitFor();
  const layers = page.getByLabel("Layer");
  for (const layer of await layers.locator("option").evaluateAll((all) => all.map((one) => one.value))) {
    await layers.selectOption(layer);
    if (layer.startsWith("luck")) await page.locator(".legend").waitFor();
    await said(page, `map, ${layer}`);
  }
  await go(page, "#/tree/T0557");
  await page.locator(".card .verdict-waits").first().waitFor({ state: "detached", timeout: 120_000 });
  await unfolded(page, ".card");
  await said(page, "card");
  await go(page, "#/tree/nobody");
  await page.getByText("This plot has no tree with the id").waitFor();
  await said(page, "trouble told");
  await page.getByText("Put away").first().click();

  await go(page, "#/find");
  for (const query of ["zzzzzz", "row 99", "T0001-1", "row 7 place 3", "scab", ""]) {
    await page.locator("#find-query").fill(query);
    await page.waitForTimeout(300);
    await said(page, `find, ${query}`);
  }
  await page.locator("#row-check-row").selectOption("7");
  await page.locator("#row-check-end").selectOption("low");
  for (const tag of ["MB-1", "MB-2"]) {
    await page.locator("#row-check-tag").fill(tag);
    await page.locator("#row-check-tag").press("Enter");
  }
  await page.locator(".row-check").getByRole("button", { name: "The row ends here" }).click();
  await page.locator(".row-check-list li").first().waitFor();
  await said(page, "a row checked");
  const which = page.locator(".which-tree");
  await page.locator("#which-tag").fill("MB-1");
  await page.locator("#which-tag").press("Enter");
  await said(page, "which tree, too little read");
  await which.getByRole("button", { name: "This one" }).click();
  await which.locator(".which-outcome").waitFor();
  await said(page, "which tree");
  await go(page, "#/walk");
  await page.locator(".walk-start").waitFor();
  await said(page, "before a walk");
  await page.getByLabel("Rows").fill("7");
  await page.getByLabel("Trunk diameter").check();
  await page.locator(".walk-start").click();
  await page.locator(".walk-keys, .pad-keys").first().waitFor();
  await said(page, "walk");
  await page.locator(".walk-rows summary").click();
  await said(page, "walk, its rows");
  await page.locator(".walk-rows summary").click();
  await page.getByText("Tree, note").click();
  await said(page, "walk, the other things");

  await go(page, "#/proof/scab");
  await page.locator(".verdict-counts").waitFor({ timeout: 120_000 });
  await page.locator("#rank-0").click();
  await unfolded(page, ".proof");
  await said(page, "proof");
  await go(page, "#/vigour");
  await page.locator("#vigour-ranking").waitFor({ timeout: 120_000 });
  await page.locator("#rank-0").click();
  await said(page, "vigour");
  await go(page, "#/folder");
  await page.locator(".folder .facts").waitFor();
  await unfolded(page, ".folder");
  await said(page, "folder");
  await go(page, "#/print");
  for (const what of ["Field sheets", "Tags", "Map", "Report"]) {
    await page.getByLabel(what).first().check();
    await said(page, `print, ${what}`);
  }
  assert.deepEqual([...new Set(left)], []);
}, { locale: "de-DE", altering: speakMarked, serviceWorkers: "block", viewport: { width: 1440, height: 900 } }));

test("a browser set to German is spoken to in German, and English is a choice that stays", () =>
  visited(async (page) => {
    assert.equal(await spoken(page), "de");
    await page.getByText("Demoparzelle öffnen").click();
    await page.locator(".stage-scale").waitFor();
    await go(page, "#/folder");
    await page.getByLabel("Sprache").selectOption("en");
    await page.getByRole("heading", { name: "What is saved" }).waitFor();
    assert.equal(await spoken(page), "en");
    await page.reload();
    await page.getByRole("heading", { name: "What is saved" }).waitFor();
  }, { locale: "de-AT" }));

test("German is there without a network, on every place, and nothing of it is amiss", () =>
  visited(async (page, visit) => {
    await page.getByText("Demoparzelle öffnen").click();
    await page.locator(".stage-scale").waitFor();
    await page.evaluate(() => navigator.serviceWorker.ready);
    // A place is found as one says it here.
    await go(page, "#/find");
    await page.locator("#find-query").fill("Reihe 7 Platz 3");
    await page.locator(".answer-place").filter({ hasText: "Reihe 7" }).waitFor();
    await go(page, "#/map");
    await visit.context.setOffline(true);
    await page.reload();
    await page.locator(".stage-scale").waitFor();
    for (const [place, shows] of Object.entries({
      map: ".stage-scale", find: "#find-query", walk: ".walk-start", "proof/scab": ".verdict-counts",
      vigour: "#vigour-ranking", folder: ".folder .facts", print: ".print-what", "tree/T0557": ".card h2",
    })) {
      await go(page, `#/${place}`);
      await page.locator(shows).first().waitFor({ timeout: 120_000 });
      const part = place.split("/")[0];
      await pictured(page, "body", `german-${part}`);
      assert.deepEqual(await violations(page), [], place);
      const wide = await page.evaluate(() => document.documentElement.scrollWidth - innerWidth);
      assert.ok(wide <= 0, `${place} is ${wide} px too wide`);
      // All places in one line of the bar, on a phone.
      await page.setViewportSize({ width: 390, height: 844 });
      const bar = await page.locator("nav.places").boundingBox();
      assert.ok(bar.height < 80, `the bar of places is ${bar.height} px high`);
    }
  }, { locale: "de-DE" }));

test("days and numbers are those of the browser's place", async () => {
  const reads = async (locale, texts) => visited(async (page) => {
    await page.locator(".way").first().click();
    await page.locator(".stage-scale").waitFor();
    // Scored on 28 June 2031, as the demo plot's files have it.
    await go(page, "#/tree/T0557");
    for (const text of texts) await page.locator(".card").getByText(text).first().waitFor({ state: "attached" });
    await go(page, "#/vigour");
    await page.locator("#vigour-ranking").waitFor({ timeout: 120_000 });
    await page.locator("#rank-0").click();
    const numbers = await page.locator(".vigour-history").innerText();
    assert.match(numbers, locale.startsWith("de") ? /\d,\d/ : /\d\.\d/);
  }, { locale });
  await reads("en-GB", ["28 June 2031"]);
  await reads("en-US", ["June 28, 2031"]);
  await reads("de-DE", ["28. Juni 2031"]);
});

test("a place that the browser's own tables do not take keeps nothing from starting", () =>
  visited(async (page) => {
    await page.getByText("Open the demo plot").waitFor();
    assert.equal(await spoken(page), "en");
  }, {
    altering: (context) => context.addInitScript(() => {
      Object.defineProperty(navigator, "languages", { get: () => ["en-US@posix"] });
    }),
  }));
