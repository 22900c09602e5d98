// The map's twin: every mark a line, ordered by the heads of its columns.
import assert from "node:assert/strict";
import { test } from "node:test";
import { laptop, phone } from "../help/browser.js";
import { visitDemo } from "../help/demo.js";
import { violations } from "../help/looks.js";

async function withTable(options, journey) {
  const visit = await visitDemo("#/map", options);
  const { page } = visit;
  try {
    await page.getByRole("button", { name: "Table" }).click();
    await page.locator(".twin-line .twin-tag").nth(1).waitFor();
    await journey(page);
    assert.deepEqual(visit.errors, []);
  } finally {
    await visit.close();
  }
}

const head = (page, name) => page.getByRole("columnheader", { name });
const cells = (page, column) =>
  page.locator(`.twin-line:not(.twin-head) .twin-${column}`).allTextContents();
const tags = async (page) => (await cells(page, "tag")).slice(0, 10);

test("heads order the lines, say so, and turn the order about", async () => {
  await withTable({ viewport: laptop }, async (page) => {
    const sort = (name) => head(page, name).getAttribute("aria-sort");
    assert.equal(await sort("Row, place"), "ascending");
    assert.deepEqual((await cells(page, "place")).slice(0, 2), ["1, 1", "1, 2"]);
    await head(page, "Tag").getByRole("button").click();
    assert.deepEqual([await sort("Row, place"), await sort("Tag")], ["none", "ascending"]);
    const ordered = await tags(page);
    const natural = [...ordered].sort((a, b) => a.localeCompare(b, "en", { numeric: true, sensitivity: "base" }));
    assert.deepEqual(ordered, natural);
    await head(page, "Tag").getByRole("button").click();
    assert.equal(await sort("Tag"), "descending");
    assert.notDeepEqual(await tags(page), ordered);
    await head(page, "Cross").getByRole("button").click();
    assert.equal(await sort("Cross"), "ascending");
    const crosses = await cells(page, "cross");
    assert.ok(crosses[0] !== "" && crosses[0].split(",")[0] === crosses[1].split(",")[0], crosses.join());
    // What matters most on the map comes first when the last column is first asked for.
    const last = page.getByRole("columnheader").last();
    await last.getByRole("button").click();
    assert.equal(await last.getAttribute("aria-sort"), "descending");
    const classes = await cells(page, "class");
    assert.ok(!/clean|not scored|could not|empty|dead/.test(classes[0]), classes[0]);
    const legend = await page.locator(".legend li").evaluateAll((all) => all.map((li) =>
      [li.querySelector(".legend-label").firstChild.textContent, Number(li.querySelector(".legend-count").textContent)]));
    const [, count] = legend.find(([label]) => label === classes[0]);
    const same = classes.slice(0, Math.min(count, classes.length));
    assert.ok(same.every((label) => label === classes[0]), classes.join());
  });
});

test("keys alone order, walk and choose", async () => {
  await withTable({ viewport: phone }, async (page) => {
    await page.getByRole("grid").focus();
    await page.keyboard.press("Tab");
    await page.keyboard.press("Tab");
    assert.equal(await page.evaluate(() => document.activeElement.textContent), "Tag");
    await page.keyboard.press("Enter");
    assert.equal(await head(page, "Tag").getAttribute("aria-sort"), "ascending");
    await page.keyboard.press("ArrowDown");
    const chosen = page.locator(".twin-line[aria-selected=true]");
    await chosen.waitFor();
    assert.equal(await chosen.locator(".twin-tag").textContent(), (await tags(page))[0]);
    assert.equal(await page.locator("#card-name").textContent(), (await tags(page))[0]);
    const active = () => page.getByRole("grid").getAttribute("aria-activedescendant");
    assert.equal(await active(), await chosen.getAttribute("id"));
    await page.keyboard.press("End");
    const count = await page.getByRole("grid").getAttribute("aria-rowcount");
    await page.waitForFunction((count) =>
      document.querySelector(".twin-line[aria-selected=true]")?.getAttribute("aria-rowindex") === count, count);
    assert.equal(await active(), await chosen.getAttribute("id"));
    assert.ok((await page.locator(".twin-line").count()) < 60, "only what is on the screen exists");
  });
});

test("a tree chosen on the map is the chosen line, and back", async () => {
  await withTable({ viewport: laptop }, async (page) => {
    const table = page.getByRole("button", { name: "Table" });
    await table.click();
    await page.getByRole("application").focus();
    await page.keyboard.press("Enter");
    await page.locator(".card").waitFor();
    const name = await page.locator("#card-name").textContent();
    await table.click();
    const chosen = page.locator(".twin-line[aria-selected=true]");
    assert.equal(await chosen.locator(".twin-tag").textContent(), name);
    await page.keyboard.press("Escape");
    const other = page.locator(".twin-line:not(.twin-head)[aria-selected=false]").nth(8);
    const tag = await other.locator(".twin-tag").textContent();
    await other.click();
    await page.waitForFunction((tag) => document.querySelector("#card-name")?.textContent === tag, tag);
  });
});

test("the last column follows layer and round, and the order with it", async () => {
  await withTable({ viewport: laptop }, async (page) => {
    const last = page.getByRole("columnheader").last();
    await last.getByRole("button").click();
    const worst = await cells(page, "tag");
    const slider = page.getByRole("slider");
    await slider.focus();
    await page.keyboard.press("Home");
    await page.waitForFunction(() => document.querySelector(".map-round-name").textContent !== "All rounds");
    assert.notDeepEqual(await cells(page, "tag"), worst);
    await page.getByLabel("Layer").selectOption("cross");
    await page.waitForFunction(() => /cross/i.test([...document.querySelectorAll("[role=columnheader]")].at(-1).textContent));
    assert.equal(await last.getAttribute("aria-sort"), "descending");
  });
});

test("the table satisfies WCAG 2.2 AA as far as a machine can tell", async () => {
  for (const viewport of [phone, laptop]) {
    await withTable({ viewport }, async (page) => {
      await page.locator(".twin-line:not(.twin-head)").nth(3).click();
      for (const theme of ["dark", "light"]) {
        await page.evaluate((it) => document.documentElement.setAttribute("data-theme", it), theme);
        assert.deepEqual(await violations(page), [], theme);
      }
    });
  }
});
