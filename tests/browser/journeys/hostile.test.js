// What means harm does none: it ends as it must, the page lives on meanwhile, what was open stays
// open, and words stay words in every place.
import assert from "node:assert/strict";
import { after, before, test } from "node:test";
import { lists } from "../help/bring-in.js";
import { open, ready, serve } from "../help/browser.js";
import { hostile } from "../help/hostile.js";
import { link, openLittle } from "../help/keeping.js";

/** Longest time without a turn for the person, milliseconds: far above what is met, far below a hang. */
const MOST_STILL_MS = 6000;

let site, visit, page, made;

before(async () => {
  site = await serve();
  made = hostile();
  visit = await open();
  page = visit.page;
  await page.addInitScript(() => {
    window.refusedByPolicy = [];
    document.addEventListener("securitypolicyviolation", (event) => window.refusedByPolicy.push(event.effectiveDirective));
    let last = performance.now();
    window.stillMs = 0;
    setInterval(() => {
      const now = performance.now();
      window.stillMs = Math.max(window.stillMs, now - last);
      last = now;
    }, 20);
  });
  await page.goto(site.address);
  await ready(page);
  await openLittle(page);
});

after(async () => {
  made?.remove();
  await visit?.close();
  site?.close();
});

const isOpen = (name) => page.locator(".folder-name", { hasText: name }).waitFor();

/** Hands files in, and gives how long the page stood still until it said what became of them. */
async function handIn(files, said) {
  await page.evaluate(() => { window.stillMs = 0; });
  await page.locator("input.files-input").last().setInputFiles(files);
  await said();
  return page.evaluate(() => window.stillMs);
}

test("each ends as it must, and the page lives on", async (context) => {
  for (const { name, form, end, words, files } of made.list) {
    if (form === "workbook") continue;
    await link(page, "Folder");
    await isOpen("Withy Corner");
    if (end === "refused") {
      const still = await handIn(files, () => page.locator(".refused .problems").waitFor({ timeout: 60_000 }));
      const told = (await page.locator(".refused").innerText()).replace(/\s+/g, " ");
      assert.ok(told.includes(words), `${name}: ${told.slice(0, 400)}`);
      assert.ok(still < MOST_STILL_MS, `${name}: ${still} ms`);
      context.diagnostic(`${name}: still for ${Math.round(still)} ms`);
      await isOpen("Withy Corner");
      await page.getByRole("button", { name: "Put away" }).click();
    } else {
      const still = await handIn(files, () => page.waitForFunction(() => location.hash === "#/map", null, { timeout: 60_000 }));
      assert.ok(still < MOST_STILL_MS, `${name}: ${still} ms`);
      context.diagnostic(`${name}: still for ${Math.round(still)} ms`);
      if (end === "faulty") {
        await link(page, "Folder");
        const told = await page.locator(".folder .problems").first().innerText();
        assert.ok(told.replace(/\s+/g, " ").includes(words), `${name}: ${told.slice(0, 400)}`);
      }
    }
  }
  assert.deepEqual(await page.evaluate(() => window.refusedByPolicy), []);
  assert.deepEqual(visit.errors, []);
});

test("a workbook that means harm ends its reader, not the page", async () => {
  for (const { name, words, files } of made.list.filter(({ form }) => form === "workbook")) {
    await lists.begin(page);
    await page.locator("section[aria-labelledby=folder-list] .list-input").setInputFiles(files);
    await page.getByText(words).waitFor({ timeout: 60_000 });
    const still = await page.evaluate(() => window.stillMs);
    assert.ok(still < MOST_STILL_MS, `${name}: ${still} ms`);
    await link(page, "Map");
  }
});

test("markup and formulas are words in every place", async () => {
  const { files } = made.list.find(({ name }) => name === "words");
  await link(page, "Folder");
  await handIn(files, () => page.waitForFunction(() => location.hash === "#/map"));
  const places = ["map", "find?q=script", "tree/T1", "walk", "proof/scab", "vigour", "folder", "print"];
  for (const place of places) {
    await page.evaluate((place) => { location.hash = `#/${place}`; }, place);
    await page.evaluate(() => new Promise((done) => { setTimeout(done, 300); }));
    await page.locator(".on-its-way").waitFor({ state: "detached" });
    const strange = await page.evaluate(() => [
      ...document.querySelectorAll("main script, img[src='x'], [onerror], main [style*='fixed']"),
    ].map((it) => it.outerHTML));
    assert.deepEqual(strange, [], place);
  }
  await link(page, "Walk");
  await page.locator(".walk-start").click();
  await page.locator(".walk-key").first().click();
  await page.getByText("All saved").waitFor();
  assert.equal(await page.evaluate(() => window.harmed), undefined);
  assert.deepEqual(await page.evaluate(() => window.refusedByPolicy), [], "nothing even tried");
  assert.deepEqual(visit.errors, []);
});
