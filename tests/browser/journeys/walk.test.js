// Walk: one tap for each tree, nothing lost, taken up exactly where it was left.
import assert from "node:assert/strict";
import { after, before, test } from "node:test";
import { phone } from "../help/browser.js";
import { visitDemo } from "../help/demo.js";
import { looks } from "../help/looks.js";

let visit, page;

before(async () => {
  visit = await visitDemo("#/walk");
  page = visit.page;
});

after(() => visit?.close());

const name = () => page.locator(".walk-name").innerText();
const key = (nth) => page.locator(".walk-key").nth(nth);
const button = (words) => page.getByRole("button", { name: words, exact: true });
const saved = () => page.getByText("All saved").waitFor();
const rows = () => page.getByLabel("Rows");
const row = () => page.locator(".walk-row").innerText();

test("fire blight in the plot is said before the walk", async () => {
  await page.getByText(/Fire blight was seen on \d+ trees/).waitFor();
  assert.ok(await page.getByLabel("Trees seen sick before come last").isChecked());
  await page.getByText("What else to mind").click();
  await page.getByText("Ask your plant-health authority.").waitFor();
  await page.getByText(/^Scab on leaves: usually rated 2–4 weeks after petal fall;/).waitFor();
});

test("nothing begins without a trait or with rows that are none", async () => {
  await rows().fill("seven");
  assert.ok(await page.locator(".walk-start").isDisabled());
  assert.match(await page.locator(".walk-why").innerText(), /"seven" is not numbers and ranges/);
  await rows().fill("7");
  await page.getByLabel("Trees seen sick before come last").uncheck();
  await page.locator(".walk-start").click();
  await page.locator(".walk-key").first().waitFor();
});

test("a row takes a tap for each tree and nothing else", async () => {
  const trees = Number(/of (\d+)/.exec(await row())[1]);
  assert.ok(trees > 30, `a row of ${trees}`);
  const names = new Set();
  for (let taps = 0; taps < trees; taps += 1) {
    names.add(await name());
    await key(1 + (taps % 3)).click();
  }
  await page.getByText("Every tree of the route was looked at").waitFor();
  assert.equal(await page.locator(".walk-over dd").nth(0).innerText(), String(trees));
  await saved();
});

test("undo goes back tree by tree, redo forward, also after a reload", async () => {
  await button("Undo the last").click();
  const last = await name();
  await button("Undo").click();
  const before_last = await name();
  assert.notEqual(before_last, last);
  await saved();
  await page.reload();
  await page.locator(".walk-name").waitFor();
  assert.equal(await name(), before_last, "the walk goes on where it was left");
  await button("Redo").click();
  assert.equal(await name(), last);
  await button("Undo").click();
  assert.equal(await name(), before_last);
});

test("skipped, could not be scored and scored are three things", async () => {
  await button("Skip").click();
  await button("Undo").click();
  await button("Can’t score").click();
  await button("leaves fallen").click();
  await page.getByText("could not be scored: leaves fallen").waitFor();
  await button("Skip").click();
  assert.equal(await page.locator(".walk-over dd").nth(1).innerText(), "1");
  assert.equal(await page.locator(".walk-over dd").nth(2).innerText(), "1, of these 1 skipped");
  await page.getByRole("button", { name: "Walk the 1 left behind" }).click();
  assert.match(await page.locator(".walk-said").innerText(), /not scored yet/);
});

test("a note waits for its tree, and outlives a reload", async () => {
  await button("Tree, note").click();
  await page.getByLabel("Note, kept with").fill("two stems");
  await button("Keep the note").click();
  await page.reload();
  await page.getByText("Note: two stems").waitFor();
  await key(1).click();
  await page.getByText("Every tree of the route was looked at").waitFor();
});

test("every tap is in the scores of the saved plot", async () => {
  await saved();
  const lines = await page.evaluate(async () => {
    const found = [];
    const look = async (folder) => {
      for await (const entry of folder.values()) {
        if (entry.kind === "directory") await look(entry);
        else found.push(await (await entry.getFile()).text().catch(() => ""));
      }
    };
    await look(await navigator.storage.getDirectory()).catch(() => {});
    return found.join("\n");
  });
  assert.match(lines, /two stems/);
  assert.match(lines, /leaves fallen/);
});

test("digits of a keyboard score, letters skip and take back", async () => {
  await button("End this walk").click();
  await rows().fill("8");
  await page.locator(".walk-start").click();
  const first = await name();
  await page.keyboard.press("3");
  assert.match(await page.locator(".walk-last").innerText(), new RegExp(`^${first}: 3 `));
  const second = await name();
  await page.keyboard.press("s");
  assert.notEqual(await name(), second);
  await page.keyboard.press("Backspace");
  assert.equal(await name(), second);
  await page.keyboard.press("Control+z");
  assert.equal(await name(), first);
  await page.keyboard.press("Control+y");
  assert.equal(await name(), second);
});

test("a measured number is typed on a pad of its own", async () => {
  await page.locator(".walk-rows summary").click();
  await button("End this walk").click();
  await page.getByLabel("Scab on leaves").uncheck();
  await page.getByLabel("Trunk diameter").check();
  await page.locator(".walk-start").click();
  const first = await name();
  for (const digit of ["3", "7", ".", "5"]) await button(digit).click();
  await page.getByRole("button", { name: /^Take 37.5/ }).click();
  assert.match(await page.locator(".walk-last").innerText(), new RegExp(`^${first}: 37.5`));
  for (const digit of ["9", "9", "9", "9"]) await button(digit).click();
  await page.getByRole("button", { name: /^Take 9999/ }).click();
  assert.match(await page.locator(".walk-last").innerText(), /^Not taken: 9999, expected/);
});

test("keys are large, lie under the thumb, and all of it is readable for everyone", async () => {
  await page.locator(".walk-rows summary").click();
  await button("End this walk").click();
  await page.getByLabel("Scab on leaves").check();
  await page.getByLabel("Trunk diameter").uncheck();
  await looks(page, "walk-setup");
  await page.locator(".walk-start").click();
  await page.locator(".walk-key").first().waitFor();
  for (const box of await page.locator(".walk-key").evaluateAll((keys) =>
    keys.map((key) => { const { height, width, bottom } = key.getBoundingClientRect(); return { height, width, bottom }; }))) {
    assert.ok(box.height >= 64 && box.width >= 64, JSON.stringify(box));
    assert.ok(box.bottom <= phone.height - 64, "in view above the bar of places");
  }
  const small = await page.locator(".walking").evaluate((walk) =>
    [...walk.querySelectorAll("*")].filter((it) =>
      it.checkVisibility() && [...it.childNodes].some((node) => node.nodeType === 3 && node.data.trim())
      && !it.closest(".hidden-words, .walk-rows:not([open]) ul")
      && parseFloat(getComputedStyle(it).fontSize) < 18).map((it) => it.className));
  assert.deepEqual(small, [], "nothing is set smaller than 18 px");
  await looks(page, "walk");
  assert.deepEqual(visit.errors, []);
});
