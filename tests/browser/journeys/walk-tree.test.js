// A walk with several traits, facts of trees that are no scores, a second scorer, and its summary.
import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { join } from "node:path";
import { after, before, test } from "node:test";
import { visitSite } from "../help/browser.js";
import { field, hand, openField } from "../help/field.js";
import { copied } from "../help/keeping.js";
import { looks } from "../help/looks.js";
import { leeward, onDisk } from "../help/plots.js";

const today = new Date();
const year = today.getFullYear();
const day = [year, today.getMonth() + 1, today.getDate()].map((it) => String(it).padStart(2, "0")).join("-");
// Scored on the first day of the year, in a round of its own: 2 where a walk will say 1.
const earlier = [`e1,1-2,scab_leaf,2,${year}-01-01,0,ann,,`, `e2,1-3,scab_leaf,1,${year}-01-01,0,ann,,`];
const files = field({ rows: 2, places: 8, scores: earlier });
// A graft on the fourth tree of row 1, and a faulty line that must stay as it is.
files["trees.csv"] += "g-1,,,,blue,1-4,selection 9,,\r\n9-1,nine,1,,,,,,\r\n";

const photo = Buffer.from(Array.from({ length: 3000 }, (_, nth) => (nth * 31) % 256));

let visit, page, on;

before(async () => {
  visit = await visitSite();
  page = visit.page;
  on = hand(page);
  await openField(page, files);
});

after(() => visit?.close());

test("all traits of a tree are asked before the next tree comes, each with its words", async () => {
  await page.getByLabel("Bloom").check();
  await page.locator(".walk-start").click();
  await page.locator(".walk-key").first().waitFor();
  assert.equal(await on.name(), "W1-1");
  assert.equal(await on.asked(), "1 of 2: Scab on leaves");
  assert.deepEqual(await page.locator(".walk-label").allInnerTexts(), [
    "not observed", "none seen", "a few spots", "up to 5 % of leaf area", "up to 25 %", "more than 25 %",
  ]);
  await on.key(1).click();
  assert.deepEqual([await on.name(), await on.asked()], ["W1-1", "2 of 2: Bloom"]);
  assert.deepEqual(await page.locator(".walk-label").allInnerTexts(), ["none", "some clusters", "all over"]);
  assert.match(await on.trait("Scab on leaves").innerText(), /1$/);
  assert.match(await on.trait("Bloom").innerText(), /not scored$/);
  await on.key(0).click();
  assert.deepEqual([await on.name(), await on.asked()], ["W1-2", "1 of 2: Scab on leaves"]);
  assert.match(await page.locator(".walk-before").innerText(), /: 2 a few spots$/);
  await looks(page, "walk-two-traits");
});

test("a half-done tree is taken up at its second trait", async () => {
  await on.key(1).click();
  await on.saved();
  await page.reload();
  await page.locator(".walk-key").first().waitFor();
  assert.deepEqual([await on.name(), await on.asked()], ["W1-2", "2 of 2: Bloom"]);
  await on.trait("Scab on leaves").click();
  assert.equal(await page.locator(".walk-said").innerText(), "1 none seen");
  await page.reload();
  await page.locator(".walk-key").first().waitFor();
  assert.equal(await on.asked(), "1 of 2: Scab on leaves", "also where a trait is asked a second time");
  await on.trait("Bloom").click();
  await on.key(2).click();
  assert.equal(await on.name(), "W1-3");
});

test("could not be scored takes a reason by a tap, or in one's own words", async () => {
  await on.button("Can’t score").click();
  await looks(page, "walk-reasons");
  await on.button("leaves fallen").click();
  assert.deepEqual([await on.name(), await on.asked()], ["W1-3", "2 of 2: Bloom"], "one trait, not the tree");
  assert.match(await on.trait("Scab on leaves").innerText(), /could not$/);
  await on.button("Can’t score").click();
  await page.getByLabel("In your own words").fill("eaten by sheep");
  await on.button("Write it").click();
  assert.match(await on.last(), /could not be scored: eaten by sheep$/);
});

test("a carrier and its graft come one after the other", async () => {
  assert.equal(await on.name(), "W1-4");
  await on.key(1).click();
  await on.key(0).click();
  assert.equal(await on.name(), "selection 9");
  await on.key(1).click();
  await on.key(0).click();
  assert.equal(await on.name(), "W1-5");
});

test("dead and nothing here are told, not scored; no more is asked there", async () => {
  await on.button("Tree, note").click();
  await looks(page, "walk-facts");
  await on.button("Tree, note").click();
  await on.key(2).click();
  await on.tree("dead");
  assert.equal(await on.name(), "W1-6", "its second trait is not asked for");
  await on.tree("nothing here");
  assert.equal(await on.name(), "W1-7");
});

test("no tag and two trees here join the note of the tree; it is still to be scored", async () => {
  await on.tree("no tag");
  await on.tree("two trees here");
  assert.equal(await on.name(), "W1-7");
  assert.equal(await page.locator(".walk-note").innerText(), `${day}: no tag; ${day}: two trees here`);
  await on.tree("no tag");
  assert.match(await on.last(), /^Nothing was changed: that is written down already/);
});

test("facts are taken back and brought again, also after a reload", async () => {
  await on.button("Undo").click();
  assert.equal(await page.locator(".walk-note").innerText(), `${day}: no tag`);
  await on.button("Undo").click();
  await on.button("Undo").click();
  assert.match(await on.last(), /^Taken back: W1-6: nothing here$/);
  assert.equal(await on.name(), "W1-6");
  await on.saved();
  await page.reload();
  await page.locator(".walk-key").first().waitFor();
  assert.equal(await on.name(), "W1-6");
  await on.button("Undo").click();
  assert.deepEqual([await on.name(), await on.last()], ["W1-5", "Taken back: W1-5: dead"]);
  assert.equal(await on.asked(), "2 of 2: Bloom");
  for (let redone = 0; redone < 4; redone += 1) await on.button("Redo").click();
  assert.ok(await on.button("Redo").isDisabled());
  assert.equal(await page.locator(".walk-note").innerText(), `${day}: no tag; ${day}: two trees here`);
});

test("a photo is kept with the plot by the name of the score it goes with", async () => {
  await on.button("Tree, note").click();
  const choosing = page.waitForEvent("filechooser");
  await page.getByLabel("Take a photo").click();
  await (await choosing).setFiles({ name: "IMG 7.JPG", mimeType: "image/jpeg", buffer: photo });
  await page.getByText("photo kept, goes with its score").waitFor();
  await on.saved();
  await page.reload();
  await page.locator(".walk-note", { hasText: "photos/" }).waitFor();
  await on.key(1).click();
  assert.equal(await on.asked(), "2 of 2: Bloom");
  await on.button("Undo").click();
});

test("a dead tree that was gone back to offers no keys, but that it stands", async () => {
  await page.locator(".walk-rows summary").click();
  await page.locator(".walk-leg", { hasText: "Row 1" }).click();
  await page.locator(".walk-rows summary").click();
  assert.equal(await on.name(), "W1-1");
  await page.locator(".walk-rows summary").click();
  await page.locator(".walk-leg", { hasText: "Row 2" }).click();
  await page.locator(".walk-rows summary").click();
  assert.equal(await on.name(), "W2-8");
  await on.tree("dead");
  await on.button("Undo").click();
  await on.tree("dead");
  await page.locator(".walk-rows summary").click();
  await page.locator(".walk-leg", { hasText: "Row 2" }).click();
  await page.locator(".walk-rows summary").click();
  await page.getByText("Dead, as was told").waitFor();
  assert.equal(await page.locator(".walk-key").count(), 0);
  await on.button("It stands after all").click();
  await page.locator(".walk-key").first().waitFor();
  await on.button("Skip").click();
});

test("the end tells what was done, in which time, who was left and what is odd", async () => {
  for (let trees = 0; trees < 7; trees += 1) {
    await on.key(1).click();
    await on.key(0).click();
  }
  await page.locator(".walk-over").waitFor();
  const facts = await on.facts();
  assert.equal(facts["Scored"], String(4 + 7));
  assert.equal(facts["Could not be scored"], "1");
  assert.equal(facts["Dead or nothing there"], "2");
  assert.equal(facts["Left behind"], "3, of these 1 skipped");
  assert.match(facts["Time, without pauses"], /^\d+ (s|min), \d+ s for a tree$/);
  assert.deepEqual(await page.locator(".walk-jumps li").allInnerTexts(), [
    "W1-2, Scab on leaves: 2 before, 1 now: sick before, clean now",
  ]);
  await looks(page, "walk-over");
  await on.button("Walk the 3 left behind").click();
  const left = [];
  for (let trees = 0; trees < 3; trees += 1) {
    left.push(await on.name());
    await on.key(1).click();
    await on.key(0).click();
  }
  assert.deepEqual(left, ["W1-7", "W1-8", "W2-8"], "just these, one after the other");
  await page.getByText("Every tree of the route was looked at").waitFor();
  await on.saved();
});

test("a second scorer is blind to the first", async () => {
  await on.button("End this walk").click();
  await page.getByLabel("Blind").check();
  assert.ok(await page.locator(".walk-start").isDisabled());
  assert.match(await page.locator(".walk-why").innerText(), /say who scores/);
  await page.getByLabel("Name or initials").fill("teal");
  await page.locator(".walk-start").click();
  await page.locator(".walk-key").first().waitFor();
  assert.equal(await on.name(), "W1-1");
  assert.match(await on.trait("Scab on leaves").innerText(), /not scored$/);
  assert.equal(await page.locator(".walk-said").innerText(), "not scored yet");
  await on.key(5).click();
  await on.key(1).click();
  assert.equal(await page.locator(".walk-before").count(), 0, "nor what was seen in an earlier round");
  await on.saved();
  await page.reload();
  await page.locator(".walk-key").first().waitFor();
  assert.equal(await on.name(), "W1-2");
  assert.match(await on.trait("Scab on leaves").innerText(), /not scored$/);
});

test("the saved folder has every score, and of trees.csv only the told cells are changed", async () => {
  await page.getByRole("link", { name: "Folder", exact: true }).click();
  const folder = await copied(page);
  const told = files["trees.csv"]
    .replace('1-5,1,5,W1-5,"red, pale",,,,', '1-5,1,5,W1-5,"red, pale",,,dead,')
    .replace('1-6,1,6,W1-6,"red, pale",,,,', '1-6,1,6,W1-6,"red, pale",,,empty,')
    .replace('1-7,1,7,W1-7,"red, pale",,,,', `1-7,1,7,W1-7,"red, pale",,,,${day}: no tag; ${day}: two trees here`);
  assert.equal(readFileSync(join(folder, "trees.csv"), "utf8"), told);
  const lines = readFileSync(join(folder, "scores.csv"), "utf8").trim().split("\n").slice(1);
  const of = (tree, trait) => lines.map((line) => line.split(",")).filter((it) => it[1] === tree && it[2] === trait);
  assert.deepEqual(of("1-3", "bloom").map((it) => [it[3], it[7]]), [["", "eaten by sheep"]]);
  assert.deepEqual(of("1-1", "scab_leaf").map((it) => [it[3], it[6]]), [["1", ""], ["5", "teal"]]);
  const photographed = of("1-7", "scab_leaf").find((it) => it[7].includes("photos/"));
  assert.equal(photographed[7], `photos/${photographed[0]}.jpg`);
  assert.deepEqual(readFileSync(join(folder, photographed[7])), photo);
  assert.deepEqual(of("1-5", "bloom"), [], "a dead tree was not scored");
  const before = leeward("inspect", onDisk(files));
  const after = leeward("inspect", folder);
  assert.equal(after.err.match(/trees\.csv, line 19.*/)?.[0], before.err.match(/trees\.csv, line 19.*/)?.[0]);
  assert.match(after.err, /trees\.csv, line 19, column row/, "the faulty line is still the same one");
  assert.deepEqual(visit.errors, []);
});
