// A walk of only the trees where a score tells most: asked of the proof, kept over a reload.
import assert from "node:assert/strict";
import { after, before, test } from "node:test";
import { visitDemo } from "../help/demo.js";
import { hand } from "../help/field.js";

let visit, page, on;

before(async () => {
  visit = await visitDemo("#/walk");
  page = visit.page;
  on = hand(page);
});

after(() => visit?.close());

const start = () => page.locator(".walk-start").innerText();
const trees = async () => Number(/Walk (\d+) trees/.exec(await start())[1]);

test("the proof tells which trees, and the walk has just these", async () => {
  const all = await trees();
  await page.getByLabel("only those where a score tells most").check();
  await page.getByText(/\d+ trees: clean ones that are not proven yet/).waitFor({ timeout: 120_000 });
  const few = await trees();
  assert.ok(few >= 10 && few < all / 4, `${few} of ${all}`);
  await page.getByLabel("every standing tree").check();
  await page.waitForFunction((words) => document.querySelector(".walk-start").innerText === words, `Walk ${all} trees`);
  await page.getByLabel("only those where a score tells most").check();
  await page.waitForFunction((words) => document.querySelector(".walk-start").innerText === words, `Walk ${few} trees`);
  await page.locator(".walk-start").click();
  await page.locator(".walk-key").first().waitFor();
  assert.match(await page.locator(".walk-all").innerText(), new RegExp(`0 of ${few} in all`));
  await on.key(1).click();
  const next = await on.name();
  await on.saved();
  await page.reload();
  await page.locator(".walk-key").first().waitFor();
  assert.equal(await on.name(), next, "the same walk, although the proof would choose anew");
  assert.match(await page.locator(".walk-all").innerText(), new RegExp(`1 of ${few} in all`));
  assert.deepEqual(visit.errors, []);
});
