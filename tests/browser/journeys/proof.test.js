// Proof: season strength first, then verdicts, then tree by tree, with the honesty that goes with it.
import assert from "node:assert/strict";
import { after, before, test } from "node:test";
import { join } from "node:path";
import { artefacts } from "../help/browser.js";
import { visitDemo } from "../help/demo.js";
import { looks } from "../help/looks.js";

let visit, page;

before(async () => {
  visit = await visitDemo("#/map");
  page = visit.page;
});

after(() => visit?.close());

const judged = () => page.locator(".verdict-counts").waitFor({ timeout: 120_000 });
const counts = async () => (await page.locator(".verdict-number").allInnerTexts()).map(Number);

test("judging shows how far it is and can be stopped", async () => {
  await page.evaluate(() => { location.hash = "#/proof/scab"; });
  await page.locator(".progress").waitFor();
  await page.locator(".progress").getByRole("button", { name: "Stop" }).click();
  await page.getByText("Not judged yet.").waitFor();
  await page.getByRole("button", { name: "Judge now" }).click();
  await judged();
});

test("seasons are said before verdicts", async () => {
  const heads = await page.locator(".proof h2").allInnerTexts();
  assert.ok(heads.indexOf("How hard the seasons tested") < heads.indexOf("Verdicts"));
  assert.equal(await page.locator(".season-list li").count(), 3);
  await page.getByText("Proof is against what this plot held").first().waitFor();
});

test("verdicts of the crosses add up, and a verdict lists its trees", async () => {
  const [proven] = await counts();
  assert.ok(proven > 0);
  await page.locator(".verdict-count").nth(0).click();
  const listed = Number(/^\d+/.exec(await page.locator(".rankings .hint").innerText())[0]);
  assert.ok(listed > 0 && listed <= proven, "only seedlings and named sorts are ranked");
  for (const word of await page.locator(".rank-word").allInnerTexts()) assert.equal(word, "proven");
  await page.locator(".verdict-count").nth(0).click();
});

test("the list is ranked by luck, and only what is in view is made", async () => {
  const lines = page.locator(".rank-line");
  assert.ok((await lines.count()) < 60);
  const total = Number(await lines.first().getAttribute("aria-setsize"));
  assert.ok(total > 400);
  const luck = (await page.locator(".rank-number").allInnerTexts()).map((words) =>
    words.includes("under 1") ? 0 : Number(/(\d+)/.exec(words)[1]));
  assert.deepEqual(luck, [...luck].sort((a, b) => a - b));
  await page.locator(".ranking").focus();
  await page.keyboard.press("End");
  await page.locator(`#rank-${total - 1}`).waitFor();
  assert.equal(await page.locator(`#rank-${total - 1}`).getAttribute("aria-selected"), "true");
});

test("a tree is told in one sentence with reasons and what would settle it", async () => {
  await page.locator(".verdict-count").nth(2).click();
  await page.locator("#rank-0").click();
  const sentence = await page.locator(".proof-sentence").innerText();
  assert.match(sentence, /^Clean in \d+ rounds? of \d+ seasons?, .*: luck .* — untested\.$/);
  await page.getByRole("heading", { name: "What would settle it" }).waitFor();
  await page.screenshot({ path: join(artefacts, "proof-tree-phone.png") });
  await page.getByRole("button", { name: "Close" }).click();
  await page.locator(".verdict-count").nth(2).click();
  assert.equal(await page.locator(".proof-detail").count(), 0);
});

test("fewer seasons are another judgement", async () => {
  const all = await counts();
  await page.getByLabel("2031").uncheck();
  await page.waitForFunction((count) => document.querySelectorAll(".season-list li").length === count, 2, { timeout: 120_000 });
  assert.notDeepEqual(await counts(), all);
  await page.getByLabel("2031").check();
  await page.waitForFunction((count) => document.querySelectorAll(".season-list li").length === count, 3, { timeout: 120_000 });
  assert.deepEqual(await counts(), all, "the first judgement is still known");
});

test("a disease that can be carried on tools shows its cautions", async () => {
  await page.locator(".proof-diseases").getByRole("link", { name: "fire blight" }).click();
  await judged();
  await page.getByText("Ask your plant-health authority").first().waitFor();
});

test("it is readable for everyone, on a phone and a laptop, by day and in the evening", async () => {
  await looks(page, "proof");
  assert.deepEqual(visit.errors, []);
});
