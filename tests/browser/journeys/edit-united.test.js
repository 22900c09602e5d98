// Edits of a plot whose folder others change, too: a folder kept in step, and another phone's folder.
// What comes back, what waits for a person, and that nothing is lost.
import assert from "node:assert/strict";
import { after, before, test } from "node:test";
import { lists, positions } from "../help/bring-in.js";
import { serve } from "../help/browser.js";
import { held, heldSo, visitWithFolder, write } from "../help/chosen.js";
import { copied, link } from "../help/keeping.js";
import { looks } from "../help/looks.js";
import { handed, leeward, little, texts } from "../help/plots.js";

let site;
before(async () => { site = await serve(); });
after(() => site?.close());

/** A visit with a folder to be chosen, at Folder. */
async function visited() {
  const visit = await visitWithFolder(site.address);
  await link(visit.page, "Folder");
  return visit;
}

/** One edit by a list: another tag for the tree in row 1, place 1, and a new tree. */
async function edit(page) {
  if (!await lists.field(page).isVisible()) await lists.begin(page);
  await lists.paste(page, "row,place,tag\n1,1,NEW-1\n3,1,W-31\n");
  await page.getByRole("button", { name: "Take these 2 trees" }).click();
  await page.getByText("Taken: 1 tree new, 1 changed.").waitFor();
}

/** The files of the copy that the page saves. */
async function copy(page) {
  const folder = await copied(page);
  const inspected = leeward("inspect", folder);
  assert.notEqual(inspected.code, 2, inspected.err);
  return texts(folder, ["plot.json", "trees.csv", "scores.csv", "conflicts.csv"]);
}

test("an edit and its undo reach a folder in step that others write at the same time", async () => {
  const visit = await visited();
  const { page } = visit;
  await page.getByRole("button", { name: "Keep a folder in step" }).click();
  await page.getByText("\"chosen\" holds every score").waitFor();
  // Another program notes an event, while trees are edited here.
  await write(page, { "events.csv": "date,kind,rows,note\n2031-07-02,hail,,\n" });
  await edit(page);
  let files = await heldSo(page, (it) => it["trees.csv"].includes("NEW-1"));
  assert.match(files["trees.csv"], /\nT\d{5}-\d,3,1,W-31\n/);
  assert.ok(files["events.csv"].includes("hail") && !files["conflicts.csv"], Object.keys(files).join());
  await page.locator(".facts", { hasText: "13" }).waitFor();

  // Undone with a score from outside at the same time: the added line does not come back.
  await write(page, { "scores.csv": `${files["scores.csv"]}other-1,1-2,scab_leaf,1,2031-07-01\n` });
  await page.evaluate(() => { location.hash = "#/map"; });
  await page.locator("canvas").first().waitFor();
  await page.keyboard.press("Control+z");
  await page.getByText("Undone: Brought in pasted list").waitFor();
  files = await heldSo(page, (it) => !it["trees.csv"].includes("NEW-1"));
  assert.equal(files["trees.csv"], little()["trees.csv"], "byte for byte as before");
  assert.ok(files["scores.csv"].includes("other-1") && !files["conflicts.csv"]);
  await page.reload();
  await page.locator("nav.places").waitFor();
  await link(page, "Folder");
  assert.equal(await page.locator(".facts dd").first().innerText(), "12");
  assert.ok((await copy(page))["scores.csv"].includes("other-1"));
  assert.deepEqual(visit.errors, []);
  await visit.close();
});

test("the same line changed here and in the folder: both versions are kept and wait for a person", async () => {
  const visit = await visited();
  const { page } = visit;
  await page.getByRole("button", { name: "Keep a folder in step" }).click();
  await page.getByText("\"chosen\" holds every score").waitFor();
  const before = await held(page);
  await write(page, { "trees.csv": before["trees.csv"].replace("1-1,1,1,W-11", "1-1,1,1,OTHER-1") });
  await edit(page);
  // Files are moved into place one by one: the new tree comes all the same.
  const files = await heldSo(page, (it) => it["conflicts.csv"] && /,3,1,W-31\n/.test(it["trees.csv"]));
  const both = files["trees.csv"] + files["conflicts.csv"];
  assert.ok(both.includes("NEW-1") && both.includes("OTHER-1"), both);
  await page.locator(".decide").waitFor();
  await page.getByText("1 of 1: tree 1-1").waitFor();
  await page.locator(".decide").evaluate((it) => it.scrollIntoView({ block: "center" }));
  await looks(page, "edit-united");

  // Decided, the folder holds the one that was wanted and nothing more to decide, also when it is
  // looked at anew.
  const wanted = files["trees.csv"].includes("OTHER-1") ? "NEW-1" : "OTHER-1";
  await page.getByRole("button", { name: "Take the second" }).click();
  await page.getByRole("button", { name: "Take the decisions" }).click();
  const isDecided = (it) => it["trees.csv"].includes(wanted) && !it["conflicts.csv"];
  await heldSo(page, isDecided);
  await page.reload();
  await link(page, "Folder");
  await page.getByText("\"chosen\" holds every score").waitFor();
  assert.ok(isDecided(await held(page)), "it does not come back");
  assert.equal(await page.locator(".decide").count(), 0);
  assert.deepEqual(visit.errors, []);
  await visit.close();
});

test("another phone holds what was undone here: the line comes back, cells and place wait", async () => {
  const visit = await visited();
  const { page } = visit;
  await edit(page);
  const phone = await copy(page);
  const [added] = /T\d{5}-\d/.exec(phone["trees.csv"]);
  phone["scores.csv"] += `late-1,${added},scab_leaf,1,2031-08-01\n`;
  const lies = (lon) => JSON.stringify({ ...JSON.parse(phone["plot.json"]), origin: { lon, lat: 52.04 } }, null, 2);
  phone["plot.json"] = lies(5.12);
  delete phone["conflicts.csv"];
  await page.locator(".bring-taken").getByRole("button", { name: "Undo" }).click();
  await page.getByText("The plot is as it was.").waitFor();

  // Here the plot was said to lie elsewhere meanwhile.
  await positions.begin(page);
  await positions.paste(page, "row,place,lon,lat\n1,1,5.2,52.04\n1,6,5.20001,52.04004\n2,1,5.19996,52.04002\n");
  await page.getByRole("button", { name: "Take where the plot lies" }).click();
  await page.getByText("Taken: where the plot lies.").waitFor();

  await page.locator("section[aria-labelledby=folder-other-phone] input.files-input").setInputFiles(handed(phone));
  await page.locator(".decide").waitFor();
  assert.deepEqual(await page.locator(".together li").allInnerTexts(), [
    "1 score is new.", "1 tree is new.", "2 lines are not the same in both.",
  ]);
  const named = await page.locator("#decide-head").innerText();
  assert.equal(named, "1 of 2: where the plot lies");
  await page.locator(".decide").evaluate((it) => it.scrollIntoView({ block: "center" }));
  await looks(page, "edit-united-place");
  await page.getByRole("button", { name: "Keep the first", exact: true }).click();
  await page.getByText("2 of 2: tree 1-1").waitFor();
  await page.getByRole("button", { name: "Take it in" }).click();
  await page.getByRole("button", { name: "Take the decisions" }).waitFor();
  const now = await copy(page);
  assert.ok(now["trees.csv"].includes(`${added},3,1,W-31`), "undone here, and there again");
  assert.ok(now["scores.csv"].includes("late-1"));
  assert.ok(now["conflicts.csv"].includes("trees.csv,1-1") && !now["conflicts.csv"].includes("plot.json"));
  assert.deepEqual(visit.errors, []);
  await visit.close();
});
