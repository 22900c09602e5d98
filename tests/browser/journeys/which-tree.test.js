// Which tree is this? A tree without tag, known by the tags around it.
import assert from "node:assert/strict";
import { after, before, test } from "node:test";
import { phone, visitSite } from "../help/browser.js";
import { field, openField } from "../help/field.js";
import { looks } from "../help/looks.js";

let visit, page;

before(async () => {
  visit = await visitSite();
  page = visit.page;
  const files = field({ rows: 4, places: 30 });
  // Where 2-7 stood there is nothing; 3-12 is listed without a tag.
  files["trees.csv"] = files["trees.csv"]
    .replace(/^2-7,2,7,W2-7,"red, pale",,,,/m, '2-7,2,7,W2-7,"red, pale",,,removed,')
    .replace(/^3-12,3,12,W3-12,/m, "3-12,3,12,,");
  await openField(page, files);
  await page.getByRole("link", { name: "Find", exact: true }).click();
  await page.getByRole("heading", { name: "Which tree is this?" }).waitFor();
});

after(() => visit?.close());

const button = (name) => page.locator(".which-tree").getByRole("button", { name, exact: true });
const type = async (tag) => {
  await page.locator("#which-tag").fill(tag);
  await page.locator("#which-tag").press("Enter");
};
const say = async (...steps) => {
  for (const step of steps) {
    if (step === "?") await button("No tag here").click();
    else if (step === "this") await button("This one").click();
    else await type(step);
  }
};
const anew = async (...steps) => {
  if (await button("Start over").isEnabled()) await button("Start over").click();
  await say(...steps);
};
const steps = () => page.locator(".which-steps li").evaluateAll((all) => all.map((it) => it.firstElementChild.textContent));
const name = () => page.locator("#which-name").innerText();
const sure = () => page.locator(".which-sure").innerText();
const row = () => page.locator(".which-tree .which-where label", { hasText: "Row" }).locator("select");
const place = () => page.locator(".which-tree .answer-place").innerText();

test("it says what is lacking until it can tell", async () => {
  await say("W2-4");
  assert.match(await page.locator(".which-lacks").innerText(), /tap “This one”/);
  await button("Take back").click();
  assert.equal(await page.locator(".which-steps li").count(), 0);
  await say("this");
  assert.match(await page.locator(".which-lacks").innerText(), /read a tag near it/);
  assert.ok(await button("This one").isDisabled());
});

test("tags around it tell the tree, read up or down the row, however they are typed", async () => {
  await anew("W2-10", "?", "this", "w2 13");
  assert.deepEqual(await steps(), ["W2-10", "no tag", "this one", "w2 13"]);
  assert.match(await name(), /^W2-12 (9\d|over 99) %$/);
  assert.match(await sure(), /^Nearly certain/);
  assert.match(await place(), /^Row 2, place 12, between W2-11 and W2-13\.$/);
  await page.getByText("You read towards the high-number end.").waitFor();
  await anew("W2-13", "this", "?", "W2-10");
  assert.match(await name(), /^W2-12 /);
  await page.getByText("You read towards the low-number end.").waitFor();
});

test("a gap that is written down is passed over, and a wrong tag outvoted", async () => {
  await anew("W2-5", "W2-6", "this", "W2-9");
  assert.match(await name(), /^W2-8 (9\d|over 99) %$/);
  await anew("W3-9", "W1-20", "W3-11", "this", "W3-13");
  assert.match(await name(), /^3-12 (9\d|over 99) %$/, "listed without tag, so named by its id");
  await anew("W3-20", "W3-21", "QQ", "this", "W3-24");
  assert.match(await page.locator(".which-strange").innerText(), /QQ\s+not on the list/);
  assert.match(await name(), /^W3-23 /);
});

test("one tag leaves two trees; it says so, and one more on the other side settles it", async () => {
  await anew("W4-15", "this");
  assert.match(await sure(), /cannot be told yet/);
  const two = [await name(), await page.locator(".which-next a").innerText()].map((it) => it.split(" ")[0]);
  assert.deepEqual(two.sort(), ["W4-14", "W4-16"]);
  assert.match(await page.locator(".which-settle").innerText(), /Read one more tag at the right end/);
  await button("Add at the right end").click();
  assert.ok(await page.locator("#which-tag").evaluate((it) => it === document.activeElement));
  // The neighbours are offered: one tap, nothing to type.
  await button("W4-17").click();
  assert.match(await name(), /^W4-16 (9\d|over 99) %$/);
  await button("Take back").click();
  await page.getByLabel("Add it at the").selectOption("left");
  await say("W4-16");
  assert.deepEqual(await steps(), ["W4-16", "W4-15", "this one"]);
  assert.match(await name(), /^W4-14 /);
});

test("one tree too many was put in by somebody", async () => {
  await anew("W1-10", "W1-11", "this", "W1-12", "W1-13");
  assert.match(await name(), /^a tree that is not on the list (9\d|over 99) %$/);
  assert.equal(await place(), "Row 1, between W1-11 and W1-12.");
  assert.equal(await page.locator(".which-tree .button", { hasText: "Show on the map" }).count(), 0);
});

test("the row may be said, and outweighs a single wrong tag", async () => {
  await anew("W1-10", "this");
  await row().selectOption("3");
  await anew("W1-9", "W3-11", "this", "W3-13");
  assert.match(await name(), /^3-12 (9\d|over 99) %$/);
  await row().selectOption("");
});

test("the answer leads to the tree on the map, and nothing is lost on the way back", async () => {
  await anew("W2-20", "this", "W2-22");
  const said = await name();
  await page.getByRole("link", { name: "Show on the map" }).click();
  await page.waitForFunction(() => location.hash === "#/tree/2-21");
  await page.getByRole("link", { name: "Find", exact: true }).click();
  await page.locator("#which-name").waitFor();
  assert.equal(await name(), said);
  assert.deepEqual(await steps(), ["W2-20", "this one", "W2-22"]);
});

test("keys and keyboard reach it all; each target is big enough for a thumb", async () => {
  await page.setViewportSize({ width: 360, height: 740 });
  for (const box of await page.locator(".which-tree .button:visible, .which-tree select, .which-tree input").evaluateAll(
    (all) => all.map((it) => { const { width, height } = it.getBoundingClientRect(); return { width, height }; }))) {
    assert.ok(box.height >= 48 && box.width >= 44, JSON.stringify(box));
  }
  const wide = await page.evaluate(() => document.documentElement.scrollWidth);
  assert.ok(wide <= 360, `${wide} px wide`);
});

test("it is readable for everyone, on a phone and a laptop, by day and in the evening", async () => {
  await anew("W4-15", "?", "QQ", "this");
  await looks(page, "which-tree");
  await page.setViewportSize(phone);
  await page.evaluate(() => window.scrollTo(0, 0));
  await button("Take back").click();
  await say("this");
  const { y } = await page.locator("#which-name").boundingBox();
  assert.ok(y > 0 && y < phone.height - 80, `the answer is in sight, at ${y}`);
  await looks(page, "which-tree-told");
  assert.deepEqual(visit.errors, []);
});
