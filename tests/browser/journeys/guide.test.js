// The guide, done as it says: each name in bold is on the screen when its turn comes, and the pictures
// are those of this walk. `cargo xtask guide` writes them to docs/guide; any other run to
// tests/artefacts, and holds the kept ones to the same names and sizes.
import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { join } from "node:path";
import { after, before, test } from "node:test";
import { phone, visitSite } from "../help/browser.js";
import { allMade, picture, reading, sections } from "../help/guide.js";
import { copied, link, saved, tap } from "../help/keeping.js";
import { handed, little } from "../help/plots.js";

/** Everything that a picture could differ by, but for the machine's letters. */
const LOOK = {
  viewport: phone, deviceScaleFactor: 1.5, colorScheme: "light", reducedMotion: "reduce",
  locale: "en-GB", timezoneId: "UTC", hasTouch: false,
};
const NOW = new Date("2032-06-14T09:30:00Z");
/** A laptop's window that is not wide: what is in it is large enough on a page. */
const laptop = { width: 1000, height: 600 };
/** What the bar of places leaves of it. */
const main = { x: 144, width: 856, height: 600 };

let visit, page;
const read = [];

before(async () => {
  visit = await visitSite({ context: LOOK });
  page = visit.page;
  await visit.context.clock.setFixedTime(NOW);
  await page.reload();
});

after(() => visit?.close());

/** Goes through a section of the guide, to its last name. */
const section = (name, journey) => test(name, async () => {
  const guide = reading(page, name);
  read.push(name);
  await journey(guide);
  guide.ends();
});

const go = async (address) => {
  await page.evaluate((it) => { location.hash = it; }, address);
  await page.evaluate(() => new Promise((done) => setTimeout(done)));
  await page.locator(".on-its-way").waitFor({ state: "detached" });
};

/** Brings the top of a part so many pixels below that of the window. */
const bring = (part, below = 0) => page.locator(part).first().evaluate(
  (it, below) => window.scrollTo(0, it.getBoundingClientRect().top + window.scrollY - below), below);

const scores = () => page.locator(".facts dd").nth(1).innerText();
const openDemo = async () => {
  await page.getByText("Open the demo plot").click();
  await page.locator("nav.places").waitFor();
};

section("Your first plot", async ({ sees, taps }) => {
  await taps("Open the demo plot");
  await page.locator("nav.places").waitFor();
  // Something is done to it, so that what comes back fresh is fresh.
  await go("#/walk");
  await page.locator(".walk-start").click();
  await tap(page, 1);
  await saved(page);
  await taps("Folder");
  assert.equal(await scores(), "23715");
  await taps("Close this plot");
  await openDemo();
  await link(page, "Folder");
  assert.equal(await scores(), "23714");
  // Nor is a walk of the one before still on its way.
  await go("#/walk");
  await page.locator(".walk-start").waitFor();
  await go("#/folder");
  await sees("Also kept in this browser");
  await page.getByRole("button", { name: "Close this plot" }).click();
  await go("#/");

  await taps("Start a new plot");
  await sees("Name of the plot", "Rows", "Places in a row", "Metres between rows", "Metres between places");
  await page.getByLabel("Name of the plot").fill("Reed Corner");
  await page.getByLabel("Rows", { exact: true }).fill("3");
  await page.getByLabel("Places in a row").fill("12");
  await page.getByLabel("The end with place 1 is called").fill("road end");
  await page.getByLabel("The other end is called").fill("hedge end");
  await sees("What stands where, a line for each");
  await page.getByLabel("What stands where, a line for each").fill(
    "rows 1 to 2: Marl × TR-9, 2029\nrow 3: Sedge × TR-9, 2030\nevery 10th place: susceptible check Withy");
  await sees("How lines are written");
  await page.getByRole("figure").getByText("Marl × TR-9: 22").waitFor();
  await bring(".plan", 8);
  await picture(page, "new-plot.webp", { width: 390, height: 560 });
  await sees("It stands in a list: a sheet or a table, brought in next", "What will be scored");
  await taps("Plant it");
  await page.waitForFunction(() => location.hash === "#/map");
  await taps("Folder");
  await sees("Bring in a list");
  assert.equal(await page.locator(".facts dd").first().innerText(), "36");
  await page.getByRole("button", { name: "Close this plot" }).click();

  await go("#/");
  await taps("Open a plot folder");
  await sees("Choose the folder", "Choose files or a zip");
  await page.locator("input.files-input").setInputFiles(handed(little()));
  await page.waitForFunction(() => location.hash === "#/map");
  await link(page, "Folder");
  await page.getByText("Withy Corner").first().waitFor();
  await page.getByRole("button", { name: "Close this plot" }).click();
  await go("#/");
  await openDemo();
});

section("The map", async ({ sees, taps }) => {
  await page.setViewportSize(laptop);
  await go("#/proof/scab");
  await page.locator(".verdict-counts").waitFor({ timeout: 120_000 });
  await taps("Map");
  await taps("All");
  await page.getByLabel("Layer").selectOption({ label: "Scab: verdict" });
  await sees("Scab: verdict", "What this says, and what not", "All rounds");
  await page.waitForTimeout(500);
  await picture(page, "map.webp", main);
  await page.setViewportSize(phone);
  await page.getByLabel("Layer").selectOption({ label: "Scab on leaves" });
  await go("#/tree/T0557");
  await page.locator(".card .verdict-waits").first().waitFor({ state: "detached", timeout: 120_000 });
  await taps("Neighbours");
  await page.locator(".around li").first().waitFor();
  await page.locator(".around > summary").evaluate((it) => it.scrollIntoView({ block: "start" }));
  await page.waitForTimeout(500);
  await picture(page, "card.webp", { width: 390, height: 780 });
  await taps("Table");
  await page.getByRole("grid").waitFor();
  await page.getByRole("button", { name: "Table" }).click();
});

section("Finding a tree", async ({ sees, taps }) => {
  await taps("Find");
  await page.locator("#find-query").fill("row 7 place 12");
  await page.locator("#answer-name").waitFor();
  await page.locator("#find-query").fill("");
  await sees("Nearest to me", "Look where I stand", "From its tag", "Which tree is this?");
  const say = async (tag) => {
    await page.locator("#which-tag").fill(tag);
    await page.locator("#which-tag").press("Enter");
  };
  for (const tag of ["MB-122", "MB-123", "MB-124"]) await say(tag);
  await sees("No tag here");
  await say("MB-125");
  await taps("This one");
  await page.locator(".which-sure", { hasText: "Nearly certain" }).waitFor();
  await bring(".which-steps", 8);
  await picture(page, "which-tree.webp", { width: 390, height: 760 });
  await sees("Check a row");
});

// A row that is walked begins a season: the pictures of a judgement are of the plot as it came.
test("a judgement is pictured before the walk", async () => {
  await page.setViewportSize(laptop);
  await go("#/proof/scab");
  await page.locator(".proof-next").waitFor({ timeout: 120_000 });
  await bring("[aria-labelledby=proof-seasons]", 8);
  await picture(page, "judgement.webp", main);
  // High enough for all that is said of a tree.
  await page.setViewportSize({ width: phone.width, height: 1300 });
  await page.locator(".verdict-count").nth(1).click();
  await page.locator(".rank-line").first().click();
  const { y } = await page.locator(".proof-detail").boundingBox();
  await picture(page, "tree.webp", { y, width: 390, height: 790 });
  await page.locator(".proof-close").click();
  await page.locator(".verdict-count").nth(1).click();
  await page.setViewportSize(phone);
  await bring(".proof-next", 8);
  await picture(page, "next.webp", { width: 390, height: 700 });
});

section("Your first walk", async ({ sees, taps }) => {
  await taps("Walk");
  await sees("What to score at each tree", "Begin at", "Trees seen sick before come last");
  await page.getByLabel("Rows").fill("7");
  await taps("Walk … trees");
  await page.locator(".walk-key").first().waitFor();
  for (let taps = 0; taps < 4; taps += 1) await page.locator(".walk-key").nth(1).click();
  await saved(page);
  await picture(page, "walk.webp", { width: 390, height: 844 });
  const name = () => page.locator(".walk-name").innerText();
  const fifth = await name();
  await taps("Undo");
  assert.notEqual(await name(), fifth);
  await saved(page);
  await page.reload();
  await page.locator(".walk-name").waitFor();
  await page.getByRole("button", { name: "Redo" }).click();
  assert.equal(await name(), fifth, "undo outlives a reload");
  await taps("Skip");
  await taps("Can’t score");
  await page.getByRole("button", { name: "leaves fallen" }).click();
  await taps("Tree, note");
  await page.getByRole("button", { name: "Tree, note" }).click();
  await sees("All saved");
  const end = page.locator(".walk-over");
  while (!(await end.isVisible())) await page.locator(".walk-key").nth(1).click();
  await sees("The end of the route", "Walk the … left behind");
  await taps("End this walk");
});

section("Your first judgement", async ({ sees, taps }) => {
  await page.setViewportSize(laptop);
  await taps("Proof");
  await page.locator(".proof-diseases a").first().click();
  const again = page.getByRole("button", { name: "Judge now" });
  await page.locator(".verdict-counts").waitFor({ timeout: 120_000 });
  if (await again.isVisible()) await again.click();
  await again.waitFor({ state: "detached", timeout: 120_000 });
  await page.locator(".verdict-counts").waitFor({ timeout: 120_000 });
  await sees("How hard the seasons tested", "Verdicts", "proven", "leaning", "untested", "infected");

  await page.setViewportSize(phone);
  await sees("By cross", "Tree by tree", "Clean, by luck");
  await page.locator(".verdict-count").nth(1).click();
  await page.locator(".rank-line").first().click();
  await sees("Luck", "Why", "What would settle it");
  await taps("See its neighbours on the map");
  await page.waitForFunction(() => location.hash.startsWith("#/tree/"));
});

section("The second season", async ({ sees, taps }) => {
  await go("#/proof/scab");
  await page.locator(".proof-next").waitFor({ timeout: 120_000 });
  await sees("What to do next", "Proof", "Clean trees worth another season");
  await sees("Free places where a susceptible check would tell most");
  await taps("Walk to these trees next");
  await page.locator(".walk-setup, .walk-key").first().waitFor();
  await go("#/tree/T0557");
  await sees("Your decision", "Keep");
  await taps("Watch");
  await page.getByText("Watch, since").waitFor();
  await sees("Cull");
  await taps("Change this tree");
  await sees("Taken out");
  await taps("It died");
  await page.getByRole("button", { name: "Do it" }).click();
  await taps("Plant here");
  await page.getByRole("button", { name: "Leave it" }).click();
});

section("Two phones, and your laptop", async ({ sees, taps }) => {
  await go("#/folder");
  await sees("Save a copy", "Save as a zip", "Folder", "Another phone's walk");
  await page.locator(".only-here").waitFor();
  const folder = await copied(page);
  await page.locator(".only-here").waitFor({ state: "detached" });
  const files = Object.fromEntries(["plot.json", "trees.csv", "scores.csv"].map(
    (name) => [name, readFileSync(join(folder, name), "utf8")]));
  files["scores.csv"] += [1, 2, 3].map((nth) => `late-${nth},T000${nth},scab_leaf,1,2032-06-14T08:1${nth}:00Z,1,bo,,`).join("\n") + "\n";
  files["trees.csv"] = files["trees.csv"].replace(/^(T0003,[^\n]*?)MB-3,/m, "$1MB-8,");
  await page.locator("section[aria-labelledby=folder-other-phone] input.files-input").setInputFiles(handed(files));
  await page.locator(".decide").waitFor();
  await bring("[aria-labelledby=folder-other-phone]", 8);
  await picture(page, "two-phones.webp", { width: 390, height: 780 });
  await sees("Keep the first");
  await taps("Take the second");
  await taps("Take it in");
  await sees("Keep a folder in step");
});

section("On paper, and for others", async ({ sees, taps }) => {
  await page.setViewportSize(laptop);
  await taps("Print");
  await page.getByRole("heading", { name: "Print" }).waitFor();
  await page.locator(".paper-page img").first().waitFor({ timeout: 90_000 });
  await sees("Field sheets", "Tags", "Map", "Report");
  await page.evaluate(() => Promise.all([...document.querySelectorAll(".paper-page img")].slice(0, 2).map((it) => it.decode())));
  await bring(".paper-pages", 8);
  await picture(page, "print.webp", main);
  await sees("Save a copy for a colleague");
  await go("#/folder");
  await sees("For other programs", "Folder");
});

section("When something is wrong", async ({ sees, taps, turnTo }) => {
  await sees("Faults", "Folder");
  const second = await visit.context.newPage();
  turnTo(second);
  await second.goto(`${visit.site.address}#/tree/T0002`);
  await taps("Score in this tab");
  await page.getByRole("button", { name: "Score in this tab" }).waitFor();
  await taps("Change this tree");
  await sees("Tag, cross, note", "Walk");
  await second.close();
});

test("every section was gone through, and every picture made", async () => {
  assert.deepEqual(read, sections());
  await allMade(page, Boolean(process.env.LEEWARD_GUIDE_PICTURES));
  assert.deepEqual(visit.errors, []);
});
