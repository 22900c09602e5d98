// Find: a tree asked for as people ask, said in words, shown on the map.
import assert from "node:assert/strict";
import { after, before, test } from "node:test";
import { visitDemo } from "../help/demo.js";
import { looks } from "../help/looks.js";

let visit, page;

before(async () => {
  visit = await visitDemo("#/find");
  page = visit.page;
});

after(() => visit?.close());

const ask = async (words) => {
  await page.locator("#find-query").fill(words);
  const address = words ? `#/find?q=${encodeURIComponent(words)}` : "#/find";
  await page.waitForFunction((it) => location.hash === it, address);
};
const answer = () => page.locator("#answer-name").innerText();

test("an empty question teaches by examples from this plot", async () => {
  const examples = page.locator(".find-asked button");
  assert.ok((await examples.count()) >= 3);
  const words = await examples.nth(0).innerText();
  await examples.nth(0).click();
  assert.equal(await answer(), words);
  await ask("");
});

test("a tag is found however it is typed", async () => {
  for (const words of ["MB-33", "mb33", "mb 33", "Mb 033"]) {
    await ask(words);
    assert.equal(await answer(), "MB-33", words);
  }
});

test("a cross is found in either order", async () => {
  for (const words of ["marl beauty x tr-9 33", "TR9 Marl no 33"]) {
    await ask(words);
    assert.equal(await answer(), "MB-33", words);
  }
});

test("a place is said as people say it, with the neighbours to confirm", async () => {
  await ask("row 7 place 12");
  const said = await page.locator(".answer-place").innerText();
  assert.match(said, /^Row 7, 12th from the road end, between \S+ and \S+\.$/);
  assert.equal(await page.locator(".answer-confirm a").count(), 2);
  assert.equal(await page.locator(".strip-here .strip-place").innerText(), "12");
});

test("a slip is forgiven, and it is said that this was not typed", async () => {
  await ask("tr-9 wikcerbell 54");
  assert.equal(await answer(), "W-54");
  await page.locator(".find-nearly").first().waitFor();
});

test("a place that is not there, and words that nothing answers to, are said", async () => {
  await ask("row 7 place 412");
  assert.match(await page.locator(".find-said").innerText(), /Row 7 has no place 412/);
  await ask("qqqqqq");
  assert.match(await page.locator(".find-said").innerText(), /^None of \d+ trees answers/);
});

test("arrow keys go through the list, and the address asks again", async () => {
  await ask("mb 3");
  await page.locator("#find-query").focus();
  await page.keyboard.press("ArrowDown");
  await page.keyboard.press("ArrowDown");
  const second = await page.locator(".find-list .find-name").nth(1).innerText();
  await page.keyboard.press("Enter");
  assert.equal(await answer(), second);
  await page.evaluate(() => { location.hash = "#/find?q=W-54"; });
  await page.waitForFunction(() => document.querySelector("#answer-name")?.textContent === "W-54");
});

test("the answer leads to the tree on the map", async () => {
  await page.getByRole("link", { name: "Show on the map" }).click();
  await page.waitForFunction(() => location.hash.startsWith("#/tree/"));
});

test("it is readable for everyone, on a phone and a laptop, by day and in the evening", async () => {
  await page.evaluate(() => { location.hash = "#/find?q=mb%203"; });
  await page.locator(".find-hit").first().waitFor();
  await looks(page, "find");
  assert.deepEqual(visit.errors, []);
});
