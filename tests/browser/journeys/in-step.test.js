// A folder kept in step: every score is written there, too; what changes outside is taken in, and
// never written over.
import assert from "node:assert/strict";
import { after, before, test } from "node:test";
import { serve } from "../help/browser.js";
import { held, heldSo, visitWithFolder, write } from "../help/chosen.js";
import { beginWalk, link, saved, scoresSince, tap } from "../help/keeping.js";
import { looks } from "../help/looks.js";
import { little } from "../help/plots.js";

let site;
before(async () => { site = await serve(); });
after(() => site?.close());

const lines = (files) => files["scores.csv"].trim().split("\n").slice(1);

/** Waits until the folder's scores are so many. */
const heldLines = (page, count) =>
  heldSo(page, (files) => files["scores.csv"] && lines(files).length === count);

async function keepInStep(page) {
  await link(page, "Folder");
  await page.getByRole("button", { name: "Keep a folder in step" }).click();
}

test("an empty folder gets the plot, and every score as it is taken", async () => {
  const visit = await visitWithFolder(site.address);
  const { page } = visit;
  await keepInStep(page);
  await page.getByText("\"chosen\" holds every score").waitFor();
  const first = await held(page);
  assert.deepEqual(first, little(), "byte for byte, and nothing beside");
  await page.locator(".in-step").evaluate((it) => it.scrollIntoView({ block: "center" }));
  await looks(page, "folder-in-step");
  await beginWalk(page);
  await tap(page, 3);
  await saved(page);
  const files = await heldLines(page, 12 + 3);
  assert.deepEqual(Object.keys(files).sort(), ["plot.json", "scores.csv", "trees.csv"]);
  // The little plot has no column for the round of a walk: it gets all that scores may fill.
  const [header, ...old] = first["scores.csv"].trim().split("\n");
  const wide = [`${header},round,scorer,note,replaces`, ...old.map((line) => `${line},,,,`), ""];
  assert.ok(files["scores.csv"].startsWith(wide.join("\n")), "old lines, cell by cell");
  await page.locator(".only-here").waitFor({ state: "detached" });
  assert.equal(await scoresSince(page), 0, "the folder is a copy outside");

  await page.reload();
  await page.locator("nav.places").waitFor();
  await beginWalk(page);
  await tap(page, 1);
  await saved(page);
  await heldLines(page, 12 + 4);
  assert.deepEqual(visit.errors, []);
  await visit.close();
});

test("what changes outside while the plot is open is taken in, and nothing is written over", async () => {
  const visit = await visitWithFolder(site.address, little());
  const { page } = visit;
  await keepInStep(page);
  await page.getByText("\"chosen\" holds every score").waitFor();
  await beginWalk(page);
  await tap(page, 2);
  await saved(page);
  const mine = lines(await heldLines(page, 12 + 2));

  // Another program adds two scores and a tree, and a file of its own.
  const now = await held(page);
  await write(page, {
    "scores.csv": `${now["scores.csv"]}other-1,1-1,scab_leaf,1,2031-07-01,,,,\nother-2,1-2,scab_leaf,0,2031-07-01,,,,\n`,
    "trees.csv": `${now["trees.csv"]}1-7,1,7,W-17\n`,
    "events.csv": "date,kind,rows,note\n2031-07-02,hail,,\n",
  });
  await tap(page, 1);
  await saved(page);
  const files = await heldLines(page, 12 + 2 + 2 + 1);
  for (const line of [...mine, "other-1,1-1,scab_leaf,1,2031-07-01,,,,", "other-2,1-2,scab_leaf,0,2031-07-01,,,,"]) {
    assert.ok(lines(files).includes(line), line);
  }
  assert.ok(files["trees.csv"].includes("1-7,1,7,W-17"));
  assert.ok(files["events.csv"].includes("hail"));
  await link(page, "Folder");
  await page.locator(".facts", { hasText: "13" }).waitFor();
  assert.equal(await page.locator(".shelf li").count(), 0, "the plot before is not kept beside it");
  await page.reload();
  await page.locator(".facts", { hasText: "13" }).waitFor();
  assert.deepEqual(visit.errors, []);
  await visit.close();
});

test("a folder of something else is refused and stays as it is", async () => {
  for (const [files, why] of [
    [{ "letter.txt": "Dear all" }, /no plot\.json/],
    [{ ...little(), "plot.json": little()["plot.json"].replace("Withy Corner", "Long Reed") }, /cannot be united/],
  ]) {
    const visit = await visitWithFolder(site.address, files);
    await keepInStep(visit.page);
    await visit.page.locator(".in-step", { hasText: "is not in step" }).waitFor();
    assert.match(await visit.page.locator(".in-step").innerText(), why);
    assert.deepEqual(await held(visit.page), files);
    assert.deepEqual(visit.errors, []);
    await visit.close();
  }
});
