// Bringing in a list: a file, a paste, a workbook; faults told first; one undo; kept over a reload;
// a workbook without a network; twenty thousand lines without a pause.
import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { join } from "node:path";
import { test } from "node:test";
import { lists } from "../help/bring-in.js";
import { open, ready, serve, top, visitSite } from "../help/browser.js";
import { copied, link, openPlot } from "../help/keeping.js";
import { looks, pictured } from "../help/looks.js";
import { little, leeward, onDisk, unscored } from "../help/plots.js";

const FILES = join(top, "crates/files/tests/lists");
const SHEETS = join(top, "crates/sheets/tests/sheets");

const LIST = `Reihe;Platz;Etikett;Kreuzung;Gepflanzt;Zustand;Bemerkung
1;1;W-11;Marl × TR-9;14.06.2030;lebt;leaning
1;2;W-12;Marl × TR-9;14.06.2030;tot;
2;6;W-26;;;;
3;1;W-31;Sedge × TR-9;14.06.2030;;
3;zwei;W-32;;31.02.2030;;
3;3;W-31;;;;
Summe;6;;;;;
`;

/** Opens Folder's list on a plot of 2 rows of 6. */
async function begun(visit, files = little()) {
  await openPlot(visit.page, files);
  await lists.begin(visit.page);
}

const { handIn, paste } = lists;

/** A select by the words above it. */
const field = (page, label) =>
  page.locator(".bring .field", { has: page.locator("span", { hasText: new RegExp(`^${label.replaceAll(/[()]/g, "\\$&")}$`) }) }).locator("select");

const trees = (page) => page.locator(".facts dd").first().innerText();

/** The lines of trees.csv of the copy that the page saves. */
async function saved(page) {
  const folder = await copied(page);
  const inspected = leeward("inspect", folder);
  assert.equal(inspected.code, 0, inspected.err);
  return readFileSync(join(folder, "trees.csv"), "utf8").trim().split("\n");
}

test("a file in Latin-1 with semicolons: what was told, every fault first, one undo, kept", async () => {
  const visit = await visitSite();
  const { page } = visit;
  await begun(visit);
  await handIn(page, "plan.csv", Buffer.from(LIST, "latin1"));
  await page.getByRole("heading", { name: "plan.csv" }).waitFor();
  const value = (label) => field(page, label).evaluate((it) => it.selectedOptions[0].text);
  assert.equal(await value("Letters written in"), "Windows-1252 (Latin-1)");
  assert.equal(await value("Cells parted by"), "semicolon ;");
  assert.equal(await value("Decimals after"), "a comma, 0,75");
  assert.match(await value("Header"), /^line 1: Reihe, Platz/);
  assert.equal(await value("Trees that are there known by"), "row and place");
  assert.equal(await value("Reihe"), "row");
  assert.equal(await value("Kreuzung"), "cross: both parents");
  assert.equal(await value("Bemerkung"), "note");
  for (const name of ["2 new", "2 changed", "1 unchanged", "1 with faults"]) {
    await page.getByRole("button", { name, exact: true }).waitFor();
  }
  const faults = page.getByRole("region", { name: "Faults of the list" });
  await faults.getByText('found "zwei"; expected a whole number.').waitFor();
  await faults.getByText('found "31.02.2030"; expected a day that exists').waitFor();
  await faults.getByText('Line 7, Etikett').waitFor();
  await page.getByText("No trees, passed over: line 8 (a total).").waitFor();
  await page.getByText("status: alive → dead").or(page.getByText("status: nothing → dead")).waitFor();
  await looks(page, "bring-list");
  await pictured(page, ".bring", "bring-list-whole");

  // Nothing is taken before the faulty line is left out by a word.
  const take = page.getByRole("button", { name: "Take these 4 trees" });
  assert.ok(await take.isDisabled());
  await page.getByLabel("Leave out the line with faults").check();
  await take.click();
  await page.getByText("Taken: 2 trees new, 2 changed.").waitFor();
  await looks(page, "bring-list-taken");
  assert.equal(await trees(page), "14");
  const lines = await saved(page);
  assert.equal(lines[0], "tree_id,row,place,tag,seed_parent,pollen_parent,planted_on,note,status");
  assert.ok(lines.includes("1-1,1,1,W-11,Marl,TR-9,2030-06-14,leaning,"), lines.join("\n"));
  assert.ok(lines.includes("1-2,1,2,W-12,Marl,TR-9,2030-06-14,,dead"), lines.join("\n"));
  assert.equal(lines.filter((line) => /^T0000\d-\d,3,/.test(line)).length, 2);

  await page.getByRole("button", { name: "Undo" }).click();
  await page.getByText("The plot is as it was.").waitFor();
  assert.equal(await trees(page), "12");
  await page.getByRole("button", { name: "Take it again" }).click();
  await page.getByText("Taken: 2 trees new, 2 changed.").waitFor();
  await page.reload();
  await ready(page);
  await link(page, "Folder");
  assert.equal(await trees(page), "14");
  assert.deepEqual(visit.errors, []);
  await visit.close();
});

test("a paste from a sheet: columns are chosen by hand, days asked for, and the list put away", async () => {
  const visit = await visitSite();
  const { page } = visit;
  await begun(visit);
  await page.getByRole("button", { name: "Look at what was pasted" }).click();
  await page.getByRole("alert").getByText("There is nothing in the field yet.").waitFor();
  await paste(page, "7\t1\t4/6/2031\tQ-1\n7\t2\t5/6/2031\tQ-2\n");
  await page.getByRole("heading", { name: "pasted list" }).waitFor();
  assert.equal(await field(page, "Letters written in").count(), 0);
  await page.getByText("in days such as 4/6/2031, which comes first?").waitFor();
  assert.ok(await page.getByRole("button", { name: /^Take these? / }).isDisabled());
  await looks(page, "bring-list-asked");
  await page.getByRole("button", { name: "The day: 4 June" }).click();
  await page.getByText("planted_on 2031-06-04").waitFor();

  // Two columns cannot both be the row; a select keeps its focus when it is used.
  const second = field(page, "column 2");
  await second.focus();
  await second.selectOption("row");
  await page.getByText("Two columns are taken as the same; nothing can be taken before one is left out.").waitFor();
  assert.ok(await second.evaluate((it) => it === document.activeElement), "the focus stayed");
  await second.selectOption("skip");
  await page.getByRole("button", { name: "2 with faults", exact: true }).waitFor();
  await second.selectOption("place");
  await page.getByRole("button", { name: "Take these 2 trees" }).waitFor();
  await page.getByRole("button", { name: "Leave it" }).click();
  assert.equal(await page.getByRole("heading", { name: "pasted list" }).count(), 0);
  assert.equal(await trees(page), "12");
  assert.deepEqual(visit.errors, []);
  await visit.close();
});

test("a workbook is read without a network, sheet by sheet; what is none is refused with words", async () => {
  const site = await serve();
  const visit = await open();
  const { page } = visit;
  await page.goto(site.address);
  await ready(page);
  await page.evaluate(() => navigator.serviceWorker.ready);
  await page.waitForFunction(() => navigator.serviceWorker.controller !== null);
  await visit.context.setOffline(true);
  site.close();
  await page.reload();
  await ready(page);
  await begun(visit, unscored(1, 1));
  await handIn(page, "plan.xlsx", readFileSync(join(SHEETS, "plan.xlsx")));
  await page.getByRole("heading", { name: "plan.xlsx, sheet Plan 2031" }).waitFor();
  await page.getByText("found nothing; expected a number, since x_m has one.").first().waitFor();
  await field(page, "x (m)").selectOption("skip");
  await page.getByText("planted_on 2031-06-14").first().waitFor();
  await page.getByText("note leaning").or(page.getByText('staked, "twice"')).first().waitFor();
  await page.getByText("line 10 (a total)").waitFor();
  await looks(page, "bring-list-workbook");
  await field(page, "Sheet").selectOption({ label: "Notes" });
  await page.getByRole("heading", { name: "plan.xlsx, sheet Notes" }).waitFor();

  await handIn(page, "plan.ods", readFileSync(join(SHEETS, "plan.ods")));
  await page.getByRole("heading", { name: "plan.ods" }).waitFor();
  await page.locator(".bring-says").getByText("Ö-3").waitFor();
  await page.getByRole("button", { name: "Take these 3 trees" }).click();
  await page.getByText(/^Taken: /).waitFor();

  await handIn(page, "torn.xlsx", readFileSync(join(SHEETS, "plan.xlsx")).subarray(0, 3000));
  await page.getByRole("alert").getByText("torn.xlsx cannot be read: found no sound archive").waitFor();
  await handIn(page, "old.xls", Buffer.from("d0cf11e0a1b11ae1", "hex"));
  await page.getByRole("alert").getByText("an old workbook (xls), or one with a password").waitFor();
  await looks(page, "bring-list-refused");
  assert.deepEqual(visit.errors, []);
  await visit.close();
});

test("all ugly lists give what the native crate gives, and none breaks the page", async () => {
  const visit = await visitSite();
  const { page } = visit;
  await begun(visit);
  const counts = {
    // Sound lines, and lines with faults.
    "semicolons-latin1.csv": [3, 1], "title-and-totals.csv": [4, 0], "unicode-text.txt": [3, 0],
    "merged-heads.csv": [2, 1], "duplicates.csv": [3, 1], "three-styles.csv": [4, 1],
    "which-first.csv": [0, 2], "pasted.txt": [4, 0], "ragged.csv": [3, 6],
  };
  for (const name of Object.keys(counts)) {
    await handIn(page, name, readFileSync(join(FILES, name)));
    await page.getByRole("heading", { name, exact: true }).waitFor();
    await page.getByText(/^Header/).first().waitFor();
    // The plot here holds two rows of six: some of the lines are about its trees.
    const lines = await page.locator(".bring-counts .button").allInnerTexts();
    const [fresh, changed, same, faulty] = lines.map((words) => Number(words.split(" ")[0]));
    assert.deepEqual([fresh + changed + same, faulty], counts[name], `${name}: ${lines}`);
  }
  assert.deepEqual(visit.errors, []);
  await visit.close();
});

test("twenty thousand lines are read without a long pause", async (t) => {
  const visit = await visitSite();
  const { page } = visit;
  await begun(visit);
  let list = "row,place,tag,cross,planted,note\n";
  for (let nth = 0; nth < 20_000; nth += 1) {
    const [row, place] = [10 + Math.floor(nth / 100), 1 + (nth % 100)];
    list += `${row},${place},B-${nth},Marl × TR-9,14.06.2031,${nth % 50 === 0 ? '"a, note"' : ""}\n`;
  }
  await page.evaluate(() => {
    globalThis.longest = 0;
    new PerformanceObserver((seen) => {
      for (const entry of seen.getEntries()) globalThis.longest = Math.max(globalThis.longest, entry.duration);
    }).observe({ type: "longtask" });
  });
  // From disk: what the driver hands over as bytes is unpacked on the page's own thread.
  const path = join(onDisk({ "many.csv": list }), "many.csv");
  await page.locator(".list-input").setInputFiles(path);
  await page.getByRole("button", { name: "Take these 20000 trees" }).waitFor();
  const longest = await page.evaluate(() => globalThis.longest);
  t.diagnostic(`the longest pause while 20,000 lines are read: ${longest} ms`);
  await page.evaluate(() => { globalThis.longest = 0; });
  await page.getByRole("button", { name: "Take these 20000 trees" }).click();
  await page.getByText("Taken: 20000 trees new.").waitFor();
  t.diagnostic(`while they are taken: ${await page.evaluate(() => globalThis.longest)} ms`);
  assert.equal(await trees(page), "20012");
  await page.getByRole("button", { name: "Undo" }).click();
  await page.getByText("The plot is as it was.").waitFor();
  assert.equal(await trees(page), "12");
  assert.deepEqual(visit.errors, []);
  await visit.close();
});
