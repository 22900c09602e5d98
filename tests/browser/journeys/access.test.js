// Places and states that no other journey has axe look at, on a phone and a laptop, by day and in the
// evening; and what a screen reader is given there: names, headings, landmarks.
import assert from "node:assert/strict";
import { after, before, test } from "node:test";
import { unheard } from "../help/access.js";
import { laptop, open, phone, ready, serve } from "../help/browser.js";
import { counted } from "../help/counted.js";
import { altered, beforeKeeper, link, openLittle, openPlot, scored } from "../help/keeping.js";
import { changeLogs, record } from "../help/log.js";
import { allViolations, faint, wear } from "../help/looks.js";
import { handed, little, unscored } from "../help/plots.js";
import { unfolded } from "../help/unfolded.js";

let site;
before(async () => { site = await serve(); });
after(() => site?.close());

const looked = { states: [], looks: 0, violations: 0, names: 0 };
after(() => counted("access", looked));

/** Has axe and a screen reader look at what the page shows now. */
async function look(page, state) {
  looked.states.push(state);
  for (const [on, size] of Object.entries({ laptop, phone })) {
    await page.setViewportSize(size);
    for (const theme of ["dark", "light"]) {
      await wear(page, theme);
      // At the end of the page nothing lies half under the bar of places.
      await page.evaluate(() => window.scrollTo(0, document.documentElement.scrollHeight));
      // A theme changes colours, and nothing else.
      const found = theme === "light" ? await allViolations(page) : await faint(page);
      looked.looks += 1;
      looked.violations += found.length;
      assert.deepEqual(found, [], `${state} on a ${on}, ${theme}`);
    }
  }
  const { faults, names } = await unheard(page);
  assert.deepEqual(faults, [], state);
  looked.names += names;
}

const go = (page, address) => page.evaluate((it) => { location.hash = it; }, address);
const button = (page, name) => page.getByRole("button", { name, exact: true });

/** A visit of its own. */
async function visited(journey, options = {}) {
  const visit = await open(options);
  try {
    if (options.altering) await options.altering(visit.context);
    await visit.page.goto(site.address);
    await ready(visit.page);
    await journey(visit.page, visit);
  } finally {
    await visit.close();
  }
}

test("before a plot is open", () => visited(async (page) => {
  await look(page, "first page");
  await page.getByText("Open a plot folder").click();
  await look(page, "first page, a folder to hand in");
  const refused = { ...little(), "trees.csv": little()["trees.csv"].replace("tree_id", "tree") };
  await page.locator("input.files-input").last().setInputFiles(handed(refused));
  await page.locator(".refused").waitFor();
  await look(page, "first page, a plot refused");
  await go(page, "#/folder");
  await page.locator(".folder").waitFor();
  await look(page, "folder without a plot");
}));

test("the demo plot", () => visited(async (page) => {
  await page.getByText("Open the demo plot").click();
  await page.locator(".stage-scale").waitFor();
  await look(page, "map");
  await page.getByLabel("Layer").selectOption("cross");
  await look(page, "map of crosses");
  await page.getByLabel("Layer").selectOption("luck/scab");
  await go(page, "#/tree/T0557");
  await page.locator(".card .verdict-waits").first().waitFor({ state: "detached", timeout: 120_000 });
  await unfolded(page, ".card");
  await look(page, "card, all of it unfolded");
  await go(page, "#/tree/nobody");
  await page.getByText("This plot has no tree with the id").waitFor();
  await look(page, "trouble told");
  await button(page, "Put away").click();

  await link(page, "Find");
  await page.locator("#find-query").waitFor();
  await look(page, "find, nothing asked");
  for (const [query, said] of [["zzzzzz", "None of"], ["row 99", "There is no row 99"], ["T0001-1", ""]]) {
    await page.locator("#find-query").fill(query);
    await page.locator(".find-said", { hasText: said }).waitFor();
  }
  await look(page, "find, a slip in a short code");
  await page.locator("#find-query").fill("");
  await page.getByText("Look where I stand").click();
  await page.locator(".nearest [role=status]", { hasText: /\w/ }).waitFor();
  await look(page, "find, no position given");

  await link(page, "Walk");
  await page.getByLabel("Rows").fill("seven");
  await look(page, "walk that cannot begin");
  await page.getByLabel("Rows").fill("7");
  await page.getByLabel("Trunk diameter").check();
  await page.getByLabel("Scab on leaves").uncheck();
  await page.locator(".walk-start").click();
  await page.locator(".pad-keys").waitFor();
  await look(page, "walk, a number asked");
  await page.locator(".walk-rows summary").click();
  await look(page, "walk, its rows");
  await page.locator(".walk-rows summary").click();
  await button(page, "Tree, note").click();
  await button(page, "dead").click();
  await button(page, "Undo").click();
  await look(page, "walk, a tree that died");

  await go(page, "#/proof/scab");
  await page.locator(".verdict-counts").waitFor({ timeout: 120_000 });
  await page.locator("#rank-0").click();
  await look(page, "proof of one tree");
  await go(page, "#/vigour");
  await page.locator("#vigour-ranking").waitFor({ timeout: 120_000 });
  await page.locator("#rank-0").click();
  await look(page, "vigour of one tree");
  await go(page, "#/print");
  await page.getByRole("heading", { name: "Print" }).waitFor();
  const copy = page.locator("section[aria-labelledby=print-copy]");
  await copy.getByRole("button").first().click();
  await copy.getByRole("status").filter({ hasText: /\w/ }).waitFor({ timeout: 60_000 });
  await look(page, "print, a copy for a colleague");
}));

test("plots that lack something", () => visited(async (page) => {
  const bare = unscored(41, 81);
  bare["plot.json"] = bare["plot.json"].replace(/"disease": "scab",/, "");
  // The tree in the middle carries two grafts.
  bare["trees.csv"] = bare["trees.csv"].replace(/$/gm, ",").replace("tag,", "tag,grafted_on").replace(/\n,$/, "\n")
    + "21-41a,21,41,,21-41\n21-41b,21,41,,21-41\n";
  await openPlot(page, bare);
  await page.locator(".stage-scale").waitFor();
  await look(page, "map, nothing scored");
  const { x, y, width, height } = await page.locator(".stage").boundingBox();
  // The plot lies between the row numbers above and the scale below.
  await page.mouse.click(x + width / 2, y + (34 + height - 78) / 2);
  await page.locator(".chooser").waitFor();
  await look(page, "map, which of several");
  for (const [place, shows] of [["#/proof", "No trait of this plot"], ["#/vigour", ""]]) {
    await go(page, place);
    await page.locator("main h1").waitFor();
    await page.getByText(shows).first().waitFor();
    await look(page, `${place.slice(2)}, nothing to tell`);
  }
  await openPlot(page, unscored(2, 6));
  await go(page, "#/proof/scab");
  await page.locator(".proof .fault, .verdict-counts").first().waitFor({ timeout: 60_000 });
  await look(page, "proof, nothing scored");

  const faulty = little();
  faulty["scores.csv"] = faulty["scores.csv"].replace("scab_leaf,1,", "scab_leaf,7,").replace("2031-06-14", "2031-02-30");
  await openPlot(page, faulty);
  await page.getByText(/of the files breaks? a rule/).waitFor();
  await look(page, "faults told");
  await page.getByRole("link", { name: "See them" }).click();
  await page.locator(".folder .problems").waitFor();
  await page.locator(".shelf").getByRole("button", { name: "Forget" }).first().click();
  await page.getByRole("alertdialog").waitFor();
  await look(page, "folder with faults and a question");
}));

test("what is told above every place", async () => {
  await visited(async (page, visit) => {
    await openLittle(page);
    await page.evaluate(() => window.dispatchEvent(new Event("leeward-newer-version")));
    await page.getByText("A newer version of Leeward is here").waitFor();
    await look(page, "a newer version");
    const second = await visit.context.newPage();
    await second.goto(site.address);
    await second.getByText("Open in another tab").waitFor();
    await link(second, "Folder");
    await second.locator(".folder .facts").waitFor();
    await look(second, "a second tab");
  });
  const visit = await scored(site.address, 1);
  const other = await visit.context.newPage();
  await other.goto(`${site.address}icon-nothing`);
  await visit.page.close();
  await changeLogs(other, "plot", `(bytes) => new Uint8Array([...bytes, ...${JSON.stringify(Array.from(Buffer.from(record("V", "5"))))}])`);
  await other.goto(site.address);
  await other.getByText("A newer version of Leeward has written what is kept here").waitFor();
  await look(other, "kept by a newer version");
  await visit.close();
  await visited((page) => look(page, "no storage"), {
    ...altered,
    altering: (context) => beforeKeeper(context, "delete self.FileSystemSyncAccessHandle; Object.defineProperty(self, 'indexedDB', { value: undefined });"),
  });
});

test("what is shown when something breaks", () => visited(async (page) => {
  await page.route(/split_map\.wasm$/, (route) => route.abort());
  await page.getByText("Open the demo plot").click();
  await page.getByRole("heading", { name: "A part of Leeward is missing" }).waitFor();
  await look(page, "a missing part");
  // The program's own way of making elements fails once.
  await page.evaluate(() => {
    const real = Document.prototype.createElement;
    Document.prototype.createElement = () => {
      Document.prototype.createElement = real;
      throw new Error("broken for this journey");
    };
  });
  await link(page, "Folder");
  await page.getByRole("heading", { name: "Something broke" }).waitFor();
  await look(page, "recovery");
}, altered));
