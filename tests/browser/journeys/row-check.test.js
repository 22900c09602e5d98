// Check a row: a whole row is read from one end, what differs from the list is accepted one by one.
import assert from "node:assert/strict";
import { after, before, test } from "node:test";
import { visitSite } from "../help/browser.js";
import { field, openField } from "../help/field.js";
import { looks } from "../help/looks.js";

let visit, page;

before(async () => {
  visit = await visitSite();
  page = visit.page;
  const files = field({ rows: 3, places: 10 });
  // 2-4 is dead; 2-8 is listed without a tag.
  files["trees.csv"] = files["trees.csv"]
    .replace(/^2-4,2,4,W2-4,("[^"]*"|[^,]*),,,,/m, "2-4,2,4,W2-4,$1,,,dead,")
    .replace(/^2-8,2,8,W2-8,/m, "2-8,2,8,,");
  await openField(page, files);
  await page.getByRole("link", { name: "Find", exact: true }).click();
  await page.getByRole("heading", { name: "Check a row" }).waitFor();
});

after(() => visit?.close());

const section = () => page.locator(".row-check");
const button = (name) => section().getByRole("button", { name, exact: true });
const differences = () => section().locator(".row-check-list li > p:first-child").allInnerTexts();
const difference = (words) => section().locator(".row-check-list li", { hasText: words });
const type = async (tag) => {
  await page.locator("#row-check-tag").fill(tag);
  await page.locator("#row-check-tag").press("Enter");
};
const read = async (...steps) => {
  for (const step of steps) {
    if (step === "?") await button("No tag here").click();
    else await type(step);
  }
};
const begin = async (row, end = "low") => {
  await page.locator("#row-check-row").selectOption("");
  await page.locator("#row-check-row").selectOption(String(row));
  await page.locator("#row-check-end").selectOption(end);
};

test("a row as it is written takes one tap a tree and shows no difference", async () => {
  await begin(1);
  for (let place = 1; place <= 10; place += 1) await button(`W1-${place}`).click();
  await button("The row ends here").click();
  assert.equal(await section().locator(".row-check-same").innerText(), "10 trees stand as they are written.");
  assert.deepEqual(await differences(), []);
});

test("what differs is told where it is, also read from the other end", async () => {
  await begin(2, "high");
  await read("W2-10", "W2-9", "N-8", "W2-7", "NEW-1", "W2-6", "?", "X-77", "W2-1");
  assert.deepEqual(await differences(), [
    "Place 2: W2-2 is not there.",
    "Place 3: the tag says X-77, the list W2-3.",
    "Place 5: W2-5 shows no tag.",
    "Between W2-6 and W2-7: a tree that is not on the list; its tag says NEW-1.",
    "Place 8: the tag says N-8, the list has none.",
  ]);
  assert.match(await section().locator(".row-check-count").innerText(), /^9 trees read\.$/);
});

test("what was read stays after a look at the map and after a reload", async () => {
  await page.evaluate(() => { location.hash = "#/map"; });
  await page.locator(".stage").waitFor();
  await page.evaluate(() => { location.hash = "#/find"; });
  await section().locator(".row-check-count", { hasText: "9 trees read." }).waitFor();
  await page.reload();
  await section().locator(".row-check-count", { hasText: "9 trees read." }).waitFor();
  assert.equal((await differences()).length, 5);
  await page.locator(".find-ways").getByText("Check a row").click();
  await looks(page, "row-check");
});

test("each difference is accepted by itself, and can be taken back", async () => {
  await difference("W2-2 is not there").getByText("Taken out").click();
  await section().getByText("W2-2 was taken out").waitFor();
  assert.equal((await differences()).length, 4);
  await section().getByRole("button", { name: "Undo" }).click();
  await difference("W2-2 is not there").waitFor();
  await difference("N-8").getByText("Its tag is N-8").click();
  await section().getByText("Tag of 2-8 is now N-8").waitFor();
  await difference("NEW-1").getByText("Enter it").click();
  await section().getByText("Entered NEW-1 in row 2, between places 6 and 7").waitFor();
  await difference("W2-5 shows no tag").getByText("Note it").click();
  await section().getByText("Noted of W2-5: no tag").waitFor();
  await difference("X-77").getByText("Leave it").click();
  await page.waitForFunction(() => document.querySelectorAll(".row-check-list li").length <= 1);
});

test("what was accepted is in the plot, and nothing else", async () => {
  await page.locator("#find-query").fill("NEW-1");
  await page.locator("#answer-name", { hasText: "NEW-1" }).waitFor();
  assert.match(await page.locator(".answer-place").innerText(), /^Row 2, /);
  await page.locator("#find-query").fill("N-8");
  assert.match(await page.locator(".answer-place").innerText(), /^Row 2, place 8/);
  await page.locator("#find-query").fill("X-77");
  await page.waitForFunction(() => !document.querySelector("#answer-name")?.innerText.includes("X-77"));
  await page.locator("#find-query").fill("W2-5");
  await page.locator(".answer-note", { hasText: /\d{4}-\d\d-\d\d: no tag$/ }).waitFor();
  await page.locator("#find-query").fill("W2-2");
  assert.doesNotMatch(await page.locator(".answer-place").innerText(), /taken out/, "it was undone");
  await page.locator("#find-query").fill("");
});

test("a dead tree that stands is told, and lives again when one says so", async () => {
  await begin(2);
  await read("W2-1", "W2-2", "W2-3", "W2-4", "W2-5");
  await difference("W2-4 is written as dead, yet a tree stands there").getByText("It lives").click();
  await page.waitForFunction(() => document.querySelectorAll(".row-check-list li").length === 0);
  assert.equal(await section().locator(".row-check-same").innerText(), "5 trees stand as they are written.");
});

test("the last one is taken back, and one may start over", async () => {
  await begin(3);
  await read("W3-1", "W3-3");
  assert.deepEqual(await differences(), ["Place 2: W3-2 is not there."]);
  await button("Take back").click();
  assert.deepEqual(await differences(), []);
  await button("Start over").click();
  await section().getByText("Which tag is the first?").waitFor();
});

test("nothing went wrong on the way", async () => {
  assert.deepEqual(visit.errors, []);
});
