// Bad input: what is wrong is said with file, line, column, found and expected; nothing is lost.
import assert from "node:assert/strict";
import { after, before, beforeEach, test } from "node:test";
import { open, ready, serve } from "../help/browser.js";
import { handed, leeward, little, onDisk } from "../help/plots.js";

let site, visit, page;

before(async () => {
  site = await serve();
  visit = await open();
  page = visit.page;
});

after(async () => {
  assert.deepEqual(visit?.errors, []);
  await visit?.close();
  site?.close();
});

/** A fresh page with the little plot open, so that there is something to lose. */
beforeEach(async () => {
  await page.goto(site.address);
  await ready(page);
  if (await page.locator(".ways").isVisible()) {
    await page.getByText("Open a plot folder").click();
    await page.locator("input.files-input").last().setInputFiles(handed(little()));
    await page.locator("nav.places").waitFor();
  }
  await page.getByRole("link", { name: "Folder" }).click();
  await page.locator(".folder-name", { hasText: "Withy Corner" }).waitFor();
});

const hand = (files) => page.locator("input.files-input").last().setInputFiles(files);
const edit = (name, change) => {
  const files = little();
  files[name] = change(files[name]);
  return files;
};

/** What the first line of a problem table says, cell by cell. */
async function told(scope) {
  await page.locator(`${scope} .problems tbody tr`).first().waitFor();
  const rows = page.locator(`${scope} .problems tbody tr`);
  return rows.evaluateAll((all) => all.map((row) => [...row.cells].map((cell) => cell.innerText)));
}

/** Both faces say the same of files that cannot be opened; the open plot stays. */
async function refused(files, ...expected) {
  await hand(handed(files));
  const text = JSON.stringify(await told(".refused"));
  const native = leeward("proof", onDisk(files), "--disease", "scab");
  assert.equal(native.code, 2, native.err);
  assert.equal(native.out, "");
  for (const words of expected) {
    assert.match(text, words);
    assert.match(native.err, words);
  }
  await page.locator(".folder-name", { hasText: "Withy Corner" }).waitFor();
  await page.getByRole("button", { name: "Put away" }).click();
}

/** Files with faulty lines open without them, and a copy holds the lines byte for byte. */
async function opened(files, ...expected) {
  await hand(handed(files));
  await page.waitForFunction(() => location.hash === "#/map");
  await page.getByRole("link", { name: "Folder" }).click();
  const text = JSON.stringify(await told(".folder"));
  const native = leeward("proof", onDisk(files), "--disease", "scab");
  assert.equal(native.code, 2, native.err);
  assert.equal(native.out, "");
  for (const words of expected) {
    assert.match(text, words);
    assert.match(native.err, words);
  }
}

test("a plot.json of a newer version", async () => {
  await refused(edit("plot.json", (text) => text.replace('"version": 1', '"version": 2')), /plot\.json/, /version/);
});

test("a missing column", async () => {
  await refused(edit("trees.csv", (text) => text.replace("tree_id", "tree")), /trees\.csv/, /tree_id/);
});

test("an empty folder", async () => {
  await refused({ "notes.txt": "" }, /plot\.json/);
});

test("a picture named trees.csv", async () => {
  const png = Buffer.from("89504e470d0a1a0a0000000d49484452000000100000001008", "hex");
  await refused({ ...little(), "trees.csv": png }, /trees\.csv/);
});

test("a file of 200 MB", async () => {
  // Made in the page: a driver hands over no more than 50 MB.
  await page.locator("input.files-input").last().evaluate((input, files) => {
    const list = new DataTransfer();
    for (const [name, text] of Object.entries(files)) list.items.add(new File([text], name));
    const line = new Uint8Array(1_000_000).fill(120);
    list.items.add(new File(Array.from({ length: 200 }, () => line), "scores.csv"));
    input.files = list.files;
    input.dispatchEvent(new Event("change", { bubbles: true }));
  }, { "plot.json": little()["plot.json"], "trees.csv": little()["trees.csv"] });
  const text = JSON.stringify(await told(".refused"));
  assert.match(text, /scores\.csv/);
  assert.match(text, /190\.7 MiB/);
  await page.getByRole("button", { name: "Put away" }).click();
});

test("what is no zip", async () => {
  await hand([{ name: "plot.zip", mimeType: "application/zip", buffer: Buffer.from("not a zip") }]);
  assert.match(JSON.stringify(await told(".refused")), /plot\.zip/);
  await page.getByRole("button", { name: "Put away" }).click();
});

test("a row of wrong width", async () => {
  await opened(edit("trees.csv", (text) => text.replace("1-3,1,3,W-13", "1-3,1,3")), /trees\.csv/, /4/);
});

test("two equal ids", async () => {
  await opened(edit("trees.csv", (text) => text.replace("1-4,", "1-3,")), /trees\.csv/, /tree_id/, /1-3/);
});

test("a tree in two places", async () => {
  await opened(edit("trees.csv", (text) => `${text}1-3,2,9,W-13\n`), /trees\.csv/, /1-3/);
});

test("a date that does not exist", async () => {
  await opened(edit("scores.csv", (text) => text.replace("2031-06-14", "2031-02-30")), /scores\.csv/, /scored_on/, /2031-02-30/);
});

test("a score outside its scale, kept byte for byte in a copy", async () => {
  const files = edit("scores.csv", (text) => text.replace("scab_leaf,1,", "scab_leaf,7,"));
  await opened(files, /scores\.csv/, /value/, /7/);
  const kept = await page.evaluate(async () => {
    const root = await (await navigator.storage.getDirectory()).getDirectoryHandle("leeward");
    const texts = [];
    for await (const entry of root.values()) texts.push(await (await entry.getFile()).text());
    return texts.join("\n");
  });
  assert.ok(kept.includes(files["scores.csv"]), "the whole file is kept as it was");
});

test("a folder without plot.json says what a plot folder is", async () => {
  await refused({ "trees.csv": little()["trees.csv"] }, /plot\.json/);
});
