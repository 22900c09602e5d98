// Trees changed by a person on a phone: each act with its words before and after, the way back, what
// the folder holds by it, and what a reload leaves.
import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { join } from "node:path";
import { after, before, test } from "node:test";
import { visitSite } from "../help/browser.js";
import { copied, link, openPlot } from "../help/keeping.js";
import { records, plotLog } from "../help/log.js";
import { looks } from "../help/looks.js";
import { leeward, little } from "../help/plots.js";

const files = little();
// A column of one's own, an empty note, and a faulty line that stays as it is.
files["trees.csv"] = `${files["trees.csv"].trimEnd().split("\n")
  .map((line, nth) => line + (nth === 0 ? ",note,colour" : `,,${nth === 1 ? "red" : ""}`)).join("\n")}
9-1,nine,1,,,
`;

let visit, page;

before(async () => {
  visit = await visitSite();
  page = visit.page;
  page.setDefaultTimeout(10_000);
  await openPlot(page, files);
});

after(() => visit?.close());

const card = () => page.locator(".card");
const form = () => page.locator(".change-form");
const willBe = () => page.getByRole("status", { name: "What will be" });
const choice = (name) => page.locator(".change-choices").getByRole("button", { name, exact: true });

/** Opens the card of a tree, and what can be done to it. */
async function change(id, act) {
  await page.evaluate((hash) => { location.hash = hash; }, `#/tree/${id}`);
  const open = page.getByRole("button", { name: "Change this tree" });
  await card().locator(".facts, h2").first().waitFor();
  await page.waitForFunction((it) => location.hash === `#/tree/${it}`, id);
  if (await open.getAttribute("aria-expanded") !== "true") await open.click();
  await choice(act).click();
  await form().waitFor();
}

async function doIt() {
  await form().getByRole("button", { name: "Do it" }).click();
  await page.locator(".change-done").waitFor();
  return page.locator(".change-done span").innerText();
}

/** The lines of trees.csv as a copy holds them. */
async function lines() {
  const hash = await page.evaluate(() => location.hash);
  await link(page, "Folder");
  const folder = await copied(page);
  const inspected = leeward("inspect", folder);
  const faults = inspected.err.split("\n").filter((line) => line.includes(": found") && !line.startsWith("notice"));
  assert.equal(faults.length, 1, `the faulty line, and nothing else: ${inspected.err}`);
  assert.match(faults[0], /trees\.csv, line 14/);
  await page.evaluate((it) => { location.hash = it; }, hash);
  await card().waitFor();
  return readFileSync(join(folder, "trees.csv"), "utf8").trimEnd().split("\n");
}

test("a tree is moved, told before and after, and taken back", async () => {
  await change("1-3", "Another place");
  await form().getByLabel("Row", { exact: true }).fill("two");
  assert.match(await willBe().innerText(), /Row: "two"; expected a whole number/);
  await form().getByRole("button", { name: "Do it" }).click();
  await form().getByRole("alert").waitFor();
  await form().getByLabel("Row", { exact: true }).fill("3");
  await form().getByLabel("Place", { exact: true }).fill("4");
  await form().getByLabel("It was really moved").check();
  await form().getByLabel("On", { exact: true }).fill("2031-11-20");
  await willBe().getByText("Row 3, place 4: W-13, so far in row 1, place 3.").waitFor();
  await looks(page, "edit-move");
  assert.equal(await doIt(), "Moved W-13 from row 1, place 3 to row 3, place 4");
  await card().getByText("2031-11-20: moved from row 1, place 3").waitFor();
  const moved = await lines();
  assert.equal(moved[3], '1-3,3,4,W-13,"2031-11-20: moved from row 1, place 3",');
  await page.reload();
  await card().getByText("Row 3", { exact: false }).first().waitFor();
  await page.getByRole("button", { name: "Change this tree" }).click();
  await page.getByText("Changes made").click();
  await page.getByRole("button", { name: /^Undo: Moved W-13/ }).click();
  await page.getByText("Undone: Moved W-13 from row 1, place 3 to row 3, place 4").waitFor();
  assert.equal((await lines()).join("\n"), files["trees.csv"].trimEnd());
});

test("a tree is taken out and its place planted anew; no score goes over", async () => {
  await change("1-2", "Taken out");
  await form().getByLabel("On", { exact: true }).fill("2031-10-01");
  assert.equal(await doIt(), "W-12 was taken out");
  await choice("Plant here").click();
  await form().getByLabel("Tag").fill("W-99");
  await form().getByLabel("Planted on").fill("2031-11-20");
  await willBe().getByText("Row 1, place 2: a new tree T00001-8, planted 2031-11-20.").waitFor();
  await willBe().getByText("W-12, removed, stood there before and keeps its scores; a new tree begins with none.").waitFor();
  await looks(page, "edit-replant");
  assert.equal(await doIt(), "Planted W-99 in row 1, place 2");
  // The card of the old one leads to the new one, which has no scores.
  assert.equal(await card().locator(".history li").count(), 1);
  await card().getByRole("link", { name: "W-99" }).click();
  await page.waitForFunction(() => location.hash === "#/tree/T00001-8");
  await card().getByRole("heading", { name: "W-99" }).waitFor();
  assert.equal(await card().locator(".history li").count(), 0);
  await card().getByText("stood here before").waitFor();
  const [header, ...now] = await lines();
  assert.equal(header, "tree_id,row,place,tag,note,colour,status,removed_on,planted_on");
  assert.equal(now[0], "1-1,1,1,W-11,,red,,,");
  assert.equal(now[1], "1-2,1,2,W-12,,,removed,2031-10-01,");
  assert.equal(now.at(-1), "T00001-8,1,2,W-99,,,,,2031-11-20");
  assert.equal(now.at(-2), "9-1,nine,1,,,");
  await page.reload();
  await card().getByRole("heading", { name: "W-99" }).waitFor();
});

test("a new tree is scored, and is not taken out while it has a score", async () => {
  await link(page, "Walk");
  await page.locator(".walk-start").click();
  await page.locator(".walk-key").first().waitFor();
  await page.locator(".walk-key").first().click();
  await page.locator(".walk-key").first().click();
  await page.getByText("All saved").waitFor();
  await page.reload();
  await change("T00001-8", "Add a tree");
  assert.equal(await card().locator(".history li").count(), 1);
  await page.getByText("Changes made").click();
  await page.getByRole("button", { name: "Undo: Planted W-99 in row 1, place 2" }).click();
  await page.getByText('It stays: 1 score of "T00001-8"').waitFor();
});

test("a tree is added between two, behind them with the others counted on, and beyond the end", async () => {
  await change("2-3", "Add a tree");
  await willBe().getByText("Row 2, between places 3 and 4: a new tree T00002-6").waitFor();
  assert.equal(await doIt(), "Planted T00002-6 in row 2, between places 3 and 4");
  await choice("Add a tree").click();
  await form().getByLabel("There, and all behind count one place further").check();
  await willBe().getByText("3 trees behind it count one place further, from W-24 to W-26.").waitFor();
  assert.equal(await doIt(), "Planted T00003-4 in row 2, place 4");
  await page.locator(".change-done").getByRole("button", { name: "Undo" }).click();
  await change("2-6", "Add a tree");
  await willBe().getByText("Row 2, place 7: a new tree T00004-2").waitFor();
  await form().getByLabel("In another row and place").check();
  await form().getByLabel("Row", { exact: true }).fill("4");
  await form().getByLabel("Place", { exact: true }).fill("1");
  assert.equal(await doIt(), "Planted T00004-2 in row 4, place 1");
  const now = await lines();
  assert.equal(now.at(-1).split(",").slice(0, 3).join(), "T00004-2,4,1");
  assert.match(now.at(-2), /^T00002-6,2,3,.*,1\.875,3$/);
  assert.ok(now.some((line) => line.startsWith("2-4,2,4,")), "the ones behind count as before");
});

test("two in one hole, two grafts by limb, another tag: each in words, each undone by Ctrl+Z", async () => {
  const before = await lines();
  await change("1-5", "Two trees here");
  await willBe().getByText("W-15 stands there, too.").waitFor();
  await doIt();
  await choice("Graft onto it").click();
  await form().getByRole("button", { name: "Do it" }).click();
  await form().getByRole("alert").waitFor();
  await form().getByLabel("Genotype").fill("TR-9");
  await form().getByLabel("Which limb").fill("north limb");
  await form().getByRole("button", { name: "One more graft" }).click();
  await form().getByLabel("Genotype").last().fill("TR-7");
  await willBe().getByText("On W-15, north limb: TR-9, a new graft T00006-7").waitFor();
  await looks(page, "edit-graft");
  assert.equal(await doIt(), "Grafted TR-9, TR-7 on W-15");
  await card().getByText("graft here").first().waitFor();
  await choice("Tag, cross, note").click();
  await form().getByLabel("Tag", { exact: true }).fill("W-77");
  await form().getByLabel("It got another tag").check();
  await form().getByLabel("On", { exact: true }).fill("2031-12-01");
  assert.equal(await doIt(), "Tag of W-15 is now W-77");
  await card().getByText("2031-12-01: tag was W-15").waitFor();
  const now = await lines();
  const graft = now.find((line) => line.startsWith("T00006-7,"));
  assert.match(graft, /limb: north limb/);
  assert.ok(graft.includes(",1-5"));
  for (const words of ["Tag of W-15 is now W-77", "Grafted TR-9, TR-7 on W-15", "Planted T00005-9 in row 1, place 5"]) {
    await page.keyboard.press("Control+z");
    await page.getByRole("status").getByText(`Undone: ${words}`).waitFor();
  }
  await page.keyboard.press("Control+Shift+z");
  await page.getByRole("status").getByText("Planted T00005-9 in row 1, place 5").last().waitFor();
  await page.keyboard.press("Control+z");
  await page.getByRole("status").getByText("Undone: Planted T00005-9").last().waitFor();
  // Columns that were added stay, empty.
  const after = await lines();
  assert.deepEqual(after.map((line) => line.replace(/,+$/, "")).slice(1), before.map((line) => line.replace(/,+$/, "")).slice(1));
  const kinds = records(await plotLog(page)).whole.map(({ kind }) => kind);
  assert.ok(kinds.filter((kind) => kind === "E").length > 10);
});

test("a keyboard alone does it, and a bad day is told", async () => {
  await page.evaluate(() => { location.hash = "#/tree/1-6"; });
  const open = page.getByRole("button", { name: "Change this tree" });
  await card().getByRole("heading", { name: "W-16" }).waitFor();
  if (await open.getAttribute("aria-expanded") !== "true") {
    await open.focus();
    await page.keyboard.press("Enter");
  }
  await choice("It died").focus();
  await page.keyboard.press("Enter");
  await form().waitFor();
  await form().getByLabel("On", { exact: true }).fill("");
  assert.match(await willBe().innerText(), /nothing; expected a day that exists/);
  await form().getByLabel("On", { exact: true }).fill("2031-09-09");
  await form().getByRole("button", { name: "Do it" }).focus();
  await page.keyboard.press("Enter");
  await card().getByText("dead since").waitFor();
  await page.waitForFunction(() => document.activeElement?.textContent === "Undo");
  assert.deepEqual(visit.errors, []);
});

test("a tab that only reads says so", async () => {
  const other = await visit.context.newPage();
  await other.goto(visit.site.address);
  await other.getByText("This one only reads").waitFor();
  await other.evaluate(() => { location.hash = "#/tree/1-1"; });
  await other.getByRole("button", { name: "Change this tree" }).click();
  await other.locator(".change-choices").getByRole("button", { name: "It died" }).click();
  await other.getByRole("button", { name: "Do it" }).click();
  await other.getByText("a tab that only reads, since another tab has the plot; expected the tab that writes.").waitFor();
  await other.close();
});
