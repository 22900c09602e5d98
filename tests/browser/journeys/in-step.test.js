// A folder kept in step: every score is written there, too; what changes outside is taken in, and
// never written over. The picker cannot be driven, so it gives a folder handle of the browser's own
// file system: the same interface, by the same calls.
import assert from "node:assert/strict";
import { after, before, test } from "node:test";
import { open, ready, serve } from "../help/browser.js";
import { beginWalk, link, openLittle, saved, scoresSince, tap } from "../help/keeping.js";
import { looks } from "../help/looks.js";
import { little } from "../help/plots.js";

let site;
before(async () => { site = await serve(); });
after(() => site?.close());

/** A visit whose picker gives the folder `chosen`, which holds these files. */
async function visited(files) {
  const visit = await open();
  await visit.context.addInitScript(() => {
    window.showDirectoryPicker = async () =>
      (await navigator.storage.getDirectory()).getDirectoryHandle("chosen", { create: true });
  });
  await visit.page.goto(site.address);
  await ready(visit.page);
  await written(visit.page, files);
  await openLittle(visit.page);
  return visit;
}

/** Writes files into the folder as another program would. */
const written = (page, files) => page.evaluate(async (all) => {
  const folder = await (await navigator.storage.getDirectory()).getDirectoryHandle("chosen", { create: true });
  for (const [name, text] of Object.entries(all)) {
    const stream = await (await folder.getFileHandle(name, { create: true })).createWritable();
    await stream.write(text);
    await stream.close();
  }
}, files);

/** What the folder holds; a file that is moved into place while it is listed is gone by its old name. */
const held = (page) => page.evaluate(async () => {
  const folder = await (await navigator.storage.getDirectory()).getDirectoryHandle("chosen");
  const files = {};
  for await (const entry of folder.values()) {
    try {
      files[entry.name] = await (await entry.getFile()).text();
    } catch (error) {
      if (error.name !== "NotFoundError") throw error;
    }
  }
  return files;
});

const lines = (files) => files["scores.csv"].trim().split("\n").slice(1);

/** Waits until the folder's scores are so many. */
async function heldLines(page, count) {
  for (let tries = 0; tries < 60; tries += 1) {
    const files = await held(page);
    if (files["scores.csv"] && lines(files).length === count) return files;
    await page.waitForTimeout(200);
  }
  throw new Error(`${lines(await held(page)).length} lines, not ${count}`);
}


async function keepInStep(page) {
  await link(page, "Folder");
  await page.getByRole("button", { name: "Keep a folder in step" }).click();
}

test("an empty folder gets the plot, and every score as it is taken", async () => {
  const visit = await visited({});
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
  const visit = await visited(little());
  const { page } = visit;
  await keepInStep(page);
  await page.getByText("\"chosen\" holds every score").waitFor();
  await beginWalk(page);
  await tap(page, 2);
  await saved(page);
  const mine = lines(await heldLines(page, 12 + 2));

  // Another program adds two scores and a tree, and a file of its own.
  const now = await held(page);
  await written(page, {
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
    const visit = await visited(files);
    await keepInStep(visit.page);
    await visit.page.locator(".in-step", { hasText: "is not in step" }).waitFor();
    assert.match(await visit.page.locator(".in-step").innerText(), why);
    assert.deepEqual(await held(visit.page), files);
    assert.deepEqual(visit.errors, []);
    await visit.close();
  }
});
