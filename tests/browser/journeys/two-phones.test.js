// Two phones walked the same plot: the folder of one is brought into the other, what both changed
// is decided line by line, and nothing is dropped.
import assert from "node:assert/strict";
import { mkdtempSync, readFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { after, before, test } from "node:test";
import { visitSite } from "../help/browser.js";
import { copied } from "../help/keeping.js";
import { looks } from "../help/looks.js";
import { handed, leeward, little, onDisk, texts } from "../help/plots.js";

let visit, page;

before(async () => {
  visit = await visitSite();
  page = visit.page;
  await page.getByText("Open a plot folder").click();
  await page.locator("input.files-input").first().setInputFiles(handed(ours));
  await page.locator("nav.places").waitFor();
  await page.getByRole("link", { name: "Folder", exact: true }).click();
  await page.locator("#folder-other-phone").waitFor();
});

after(() => visit?.close());

const ours = little();
const theirs = little();
const first = ours["trees.csv"].split("\n")[1];
const [id, row, place, tag] = first.split(",");
// The other phone read another tag on the first tree, and scored the second row once more.
theirs["trees.csv"] = theirs["trees.csv"].replace(first, `${id},${row},${place},${tag}-b`);
const added = ["late-1", "late-2", "late-3"].map((score, nth) => {
  const tree = theirs["trees.csv"].split("\n")[7 + nth].split(",")[0];
  return `${score},${tree},scab_leaf,1,2031-08-0${nth + 1}`;
});
theirs["scores.csv"] += `${added.join("\n")}\n`;

const bring = (files) =>
  page.locator("section[aria-labelledby=folder-other-phone] input.files-input").setInputFiles(handed(files));

const saved = async () => texts(await copied(page), ["trees.csv", "scores.csv", "conflicts.csv"]);

test("the folder of another plot is refused with the reason, and nothing is changed", async () => {
  const other = little();
  other["plot.json"] = other["plot.json"].replace("Withy Corner", "Hollow Bank");
  await bring(other);
  const refused = page.locator(".refused");
  await refused.getByText("\"Hollow Bank\"").first().waitFor();
  assert.match(await refused.innerText(), /still open/);
  await refused.getByRole("button", { name: "Put away" }).click();
});

test("what is new and what differs is said before anything is taken", async () => {
  await bring(theirs);
  await page.locator(".decide").waitFor();
  assert.deepEqual(await page.locator(".together li").allInnerTexts(), [
    "3 scores are new.", "1 line is not the same in both.",
  ]);
  const cells = await page.locator(".decide-differs").allInnerTexts();
  assert.equal(cells.length, 1);
  assert.match(cells[0], new RegExp(`tag ≠\\s+${tag}-b\\s+${tag}`));
  const before = await saved();
  assert.equal(before["scores.csv"], ours["scores.csv"]);
  await looks(page, "two-phones");
});

test("taken without a decision, both versions are kept and the line stays open", async () => {
  await page.getByRole("button", { name: "Take it in" }).click();
  await page.getByRole("button", { name: "Take the decisions" }).waitFor();
  const now = await saved();
  const out = mkdtempSync(join(tmpdir(), "leeward-merge-"));
  const native = leeward("merge", onDisk(ours), onDisk(theirs), "--out", out);
  assert.equal(native.code, 1, native.err);
  for (const name of ["trees.csv", "scores.csv", "conflicts.csv"]) {
    assert.equal(now[name], readFileSync(join(out, name), "utf8"), `${name} as the command line has it`);
  }
  assert.ok(now["scores.csv"].startsWith(ours["scores.csv"]), "old lines byte for byte");
});

test("a decision stands, also after a reload", async () => {
  await page.reload();
  await page.locator("nav.places").waitFor();
  await page.locator(".decide").waitFor();
  await page.getByRole("button", { name: "Take the second" }).click();
  await page.getByRole("button", { name: "Take the decisions" }).click();
  await page.locator(".decide").waitFor({ state: "detached" });
  const now = await saved();
  assert.equal(now["conflicts.csv"], null);
  assert.equal(now["trees.csv"], ours["trees.csv"]);
  await page.reload();
  await page.locator("#folder-other-phone").waitFor();
  assert.equal(await page.locator(".decide").count(), 0);
  assert.ok((await saved())["scores.csv"].endsWith(`${added.join("\n")}\n`));
});

test("the plot as it was before is still on the shelf", async () => {
  await page.locator(".shelf li").first().waitFor();
  assert.ok((await page.locator(".shelf li").count()) >= 2);
  assert.deepEqual(visit.errors, []);
});
