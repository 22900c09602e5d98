// A new plot: what cannot be planted is said; what is planted is kept and is a sound plot folder.
import assert from "node:assert/strict";
import { mkdir, readFile } from "node:fs/promises";
import { join } from "node:path";
import { test } from "node:test";
import { lists } from "../help/bring-in.js";
import { artefacts, open, phone, ready, serve, visitSite } from "../help/browser.js";
import { copied } from "../help/keeping.js";
import { looks } from "../help/looks.js";
import { leeward } from "../help/plots.js";

const LIST = `row 3: 7 places
rows 1 to 2: Marl × TR-9, 2029
row 3: Sedge x TR-9, 2030, from no. 41
every 4th place: susceptible check Withy
row 2 place 7: empty`;

test("rows, places and spacings give a tree for every place", async () => {
  const site = await serve();
  const visit = await open();
  const { page } = visit;
  await page.goto(site.address);
  await ready(page);
  await page.getByText("Start a new plot").click();
  await page.getByLabel("Name of the plot").fill("Reed Corner");
  await page.getByLabel("Rows", { exact: true }).fill("two");
  await page.getByRole("button", { name: "Plant it" }).click();
  await page.getByText('Rows: "two"; expected a whole number from 1 to 9999.').waitFor();
  await page.getByLabel("Rows", { exact: true }).fill("2");
  await page.getByLabel("Places in a row").fill("5");
  await page.getByLabel("Metres between rows").fill("0");
  await page.getByRole("button", { name: "Plant it" }).click();
  await page.getByText("Metres between rows: 0; expected metres above 0 and at most 1000.").waitFor();
  await page.getByLabel("Metres between rows").fill("2,5");
  await page.getByRole("button", { name: "Plant it" }).click();
  await page.waitForFunction(() => location.hash === "#/map");
  await page.reload();
  await page.getByRole("link", { name: "Folder", exact: true }).click();
  await page.locator(".folder-name", { hasText: "Reed Corner" }).waitFor();
  assert.equal(await page.locator(".facts dd").first().innerText(), "10");
  const inspected = leeward("inspect", await copied(page));
  assert.equal(inspected.code, 0, inspected.err);
  assert.match(inspected.out, /Reed Corner,10/);
  assert.deepEqual(visit.errors, []);
  await visit.close();
  site.close();
});

test("a list of lines says what stands where, and a wrong line is told before anything is planted", async () => {
  const visit = await visitSite({ context: { colorScheme: "light" } });
  const { page } = visit;
  await page.getByText("Start a new plot").click();
  await page.getByLabel("Name of the plot").fill("Reed Corner");
  await page.getByLabel("Rows", { exact: true }).fill("3");
  await page.getByLabel("Places in a row").fill("12");
  await page.getByLabel("The end with place 1 is called").fill("road end");
  await page.getByLabel("The other end is called").fill("hedge end");
  const plan = page.getByRole("figure");
  await plan.getByText("3 rows, 36 places.").waitFor();
  const picture = plan.getByRole("img");
  // The picture follows a moment after the last key.
  await page.waitForFunction(() => decodeURIComponent(document.querySelector("figure img")?.src ?? "").includes(">road end<"));
  const before = await picture.getAttribute("src");
  assert.match(decodeURIComponent(before), />road end</);

  // A wrong line is told by line and character, and leads to its line.
  const list = page.getByLabel("What stands where, a line for each");
  await list.fill(`${LIST}\nrow 9 place 1: empty\nrow 1 places 1 to 4o: guard`);
  const faults = page.getByRole("status", { name: "Faults in the lines" });
  await faults.getByText('places, character 19: "4o"; expected a whole number from 1 to 100000.').waitFor();
  await faults.getByRole("button", { name: "Line 7" }).click();
  await plan.getByText("3 rows, 31 places.").waitFor();
  await faults.getByText("rows: row 9; expected rows 1 to 3, the lower first.").waitFor();
  const marked = await list.evaluate((it) => it.value.slice(it.selectionStart, it.selectionEnd));
  assert.equal(marked, "row 1 places 1 to 4o: guard");
  await looks(page, "new-plot-faults");
  await page.getByRole("button", { name: "Plant it" }).click();
  await page.getByText("2 lines above are wrong; nothing is planted before they are right.").waitFor();
  assert.equal(new URL(page.url()).hash, "");
  await list.fill(`${LIST}\nrow 9 place 1: empty`);
  await faults.getByText("rows: row 9; expected rows 1 to 3, the lower first.").waitFor();

  // The picture follows the sound list.
  await list.fill(LIST);
  await plan.getByText("3 rows, 31 places.").waitFor();
  for (const entry of ["Marl × TR-9: 17", "Sedge × TR-9: 6", "named sort, check or guard: 7", "empty place: 1"]) {
    await plan.getByText(entry).waitFor();
  }
  assert.notEqual(await picture.getAttribute("src"), before);
  assert.ok(await picture.evaluate((it) => it.complete && it.naturalWidth > 0), "the picture is drawn");
  await page.evaluate(() => window.scrollTo(0, document.querySelector(".plan").offsetTop - 60));
  await looks(page, "new-plot");

  // A bearing without a place on earth is no origin.
  await page.getByText("Where on earth it lies").click();
  await page.getByLabel("Bearing of the rows").fill("12");
  await page.getByRole("button", { name: "Plant it" }).click();
  await page.getByText(/^Longitude: nothing; expected degrees from -180 to 180/).waitFor();
  await page.getByLabel("Longitude").fill("-30,1");
  await page.getByLabel("Latitude").fill("45");
  await page.setViewportSize(phone);
  await page.getByRole("button", { name: "Plant it" }).click();
  await page.waitForFunction(() => location.hash === "#/map");
  await page.locator(".legend").waitFor();
  await looks(page, "new-plot-map");

  await page.reload();
  await page.getByRole("link", { name: "Folder", exact: true }).click();
  await page.locator(".folder-name", { hasText: "Reed Corner" }).waitFor();
  const folder = await copied(page);
  const inspected = leeward("inspect", folder);
  assert.equal(inspected.code, 0, inspected.err);
  assert.match(inspected.out, /Reed Corner,31/);
  const head = JSON.parse(await readFile(join(folder, "plot.json"), "utf8"));
  assert.equal(head.layout.low_end, "road end");
  assert.equal(head.layout.high_end, "hedge end");
  assert.deepEqual(head.origin, { lon: -30.1, lat: 45, row_bearing_deg: 12 });
  const [names, ...lines] = (await readFile(join(folder, "trees.csv"), "utf8")).trim().split("\n");
  const trees = lines.map((line) => {
    const cells = line.split(",");
    return Object.fromEntries(names.split(",").map((name, nth) => [name, cells[nth]]));
  });
  assert.equal(new Set(trees.map((tree) => tree.tree_id)).size, 31);
  assert.ok(trees.every((tree) => /^T\d{5}-\d$/.test(tree.tree_id)), "ids say nothing of places");
  const at = (row, place) => trees.find((tree) => tree.row === `${row}` && tree.place === `${place}`);
  assert.equal(at(2, 7).status, "empty");
  assert.equal(at(3, 8), undefined);
  assert.deepEqual(
    [at(3, 4).role, at(3, 4).genotype, at(3, 5).seedling_no], ["susceptible_check", "Withy", "44"]);
  const { seed_parent, pollen_parent, cross_year, seedling_no } = at(2, 1);
  assert.deepEqual([seed_parent, pollen_parent, cross_year, seedling_no], ["Marl", "TR-9", "2029", "10"]);
  assert.deepEqual(visit.errors, []);
  await visit.close();
});

test("lines are begun by a tap and mended", async () => {
  const visit = await visitSite({ context: { colorScheme: "dark" } });
  const { page } = visit;
  await page.getByText("Start a new plot").click();
  const list = page.getByLabel("What stands where, a line for each");
  for (const name of ["A cross", "A cross", "Checks", "An empty place", "A shorter row"]) {
    await page.getByRole("button", { name, exact: true }).click();
  }
  const year = new Date().getFullYear();
  assert.equal(await list.inputValue(), [
    `row 1: Seed parent × Pollen parent, ${year}`, `row 2: Seed parent × Pollen parent, ${year}`,
    "every 10th place: susceptible check Name", "row 1 place 7: empty", "row 10: 33 places",
  ].join("\n"));
  await page.getByText("10 rows, 393 places.").waitFor();
  const picture = await page.getByRole("figure").getByRole("img").getAttribute("src");
  assert.match(decodeURIComponent(picture), /fill="#151714"/, "it is evening");
  await mkdir(artefacts, { recursive: true });
  await page.getByText("How lines are written").click();
  await page.screenshot({ path: join(artefacts, "new-plot-begun.png"), fullPage: true });
  const targets = await page.locator(".new-plot").evaluate((form) =>
    [...form.querySelectorAll("button, input[type=text], textarea, summary, .check")]
      .filter((it) => it.offsetParent && it.getBoundingClientRect().height < 48)
      .map((it) => it.outerHTML.slice(0, 80)));
  assert.deepEqual(targets, []);
  await page.getByLabel("Cankers", { exact: true }).uncheck();
  // What a trait needs is ticked with it, and said.
  const bloom = page.getByLabel("Bloom", { exact: true });
  assert.ok(!(await bloom.isChecked()));
  await page.getByLabel("Fire blight on blossoms").check();
  assert.ok((await bloom.isChecked()) && (await bloom.isDisabled()));
  await page.getByText("Fire blight on blossoms: a tree is clean only in a season in which Bloom was scored").waitFor();
  await page.locator("fieldset", { hasText: "What will be scored" }).scrollIntoViewIfNeeded();
  await page.screenshot({ path: join(artefacts, "new-plot-traits.png"), fullPage: true });
  await page.getByLabel("Rows", { exact: true }).fill("9");
  await page.getByText("rows: row 10; expected rows 1 to 9, the lower first.").waitFor();
  await page.getByText("Without the lines that are wrong.").waitFor();
  await page.getByText("9 rows, 360 places.").waitFor();
  await page.getByLabel("Rows", { exact: true }).fill("12");
  await page.getByText("12 rows, 473 places.").waitFor();
  await page.getByRole("button", { name: "Plant it" }).click();
  await page.getByText("Name of the plot: nothing; expected the plot's name.").waitFor();
  await page.getByLabel("Name of the plot").fill("Reed Corner");
  await page.getByRole("button", { name: "Plant it" }).click();
  await page.waitForFunction(() => location.hash === "#/map");
  await page.getByRole("link", { name: "Folder", exact: true }).click();
  await page.locator(".facts dd", { hasText: "Scab on leaves, Fire blight on shoots, Fire blight on blossoms, Bloom, Vigour" }).waitFor();
  assert.deepEqual(visit.errors, []);
  await visit.close();
});

test("other first numbers and a day of planting stand in every line", async () => {
  const visit = await visitSite({ context: { colorScheme: "light" } });
  const { page } = visit;
  await page.getByText("Start a new plot").click();
  await page.getByLabel("Name of the plot").fill("Pond Rows");
  await page.getByLabel("Rows", { exact: true }).fill("2");
  await page.getByLabel("Places in a row").fill("4");
  await page.getByText("Other first numbers, day of planting").click();
  await page.getByLabel("Number of the first row").fill("0");
  await page.getByLabel("Number of the first place").fill("101");
  await page.getByLabel("All planted on").fill("2031-03-24");
  await page.getByRole("button", { name: "Plant it" }).click();
  await page.getByText('Number of the first row: "0"; expected a whole number from 1 to 9999.').waitFor();
  await page.getByLabel("Number of the first row").fill("7");
  await page.getByRole("button", { name: "An empty place" }).click();
  assert.equal(await page.locator(".planting-list").inputValue(), "row 7 place 107: empty");
  await page.getByRole("button", { name: "Line 1", exact: true }).waitFor();
  await page.locator(".planting-list").fill("row 8 place 104: empty");
  await looks(page, "new-plot-numbers");
  await page.getByRole("button", { name: "Plant it" }).click();
  await page.waitForFunction(() => location.hash === "#/map");
  await page.getByRole("link", { name: "Folder", exact: true }).click();
  const trees = (await readFile(join(await copied(page), "trees.csv"), "utf8")).trim().split("\n");
  assert.match(trees[0], /,status,planted_on,removed_on,note$/);
  assert.match(trees[1], /^T00001-\d,7,101,.*,2031-03-24,,$/);
  assert.match(trees[8], /^T00008-\d,8,104,.*,empty,,,$/);
  assert.deepEqual(visit.errors, []);
  await visit.close();
});

test("a plot from a list: begun, its merged row numbers filled down, taken as one step", async () => {
  const visit = await visitSite({ context: { colorScheme: "light" } });
  const { page } = visit;
  await page.getByText("Start a new plot").click();
  await page.locator(".planting-list").fill("row 1: 3 places");
  await page.getByLabel("It stands in a list: a sheet or a table, brought in next").check();
  await page.locator(".planting-list").waitFor({ state: "detached" });
  await page.getByLabel("I write it here: rows, places and a few lines").check();
  assert.equal(await page.locator(".planting-list").inputValue(), "row 1: 3 places", "what was written is still there");
  await page.getByLabel("It stands in a list: a sheet or a table, brought in next").check();
  assert.equal(await page.getByLabel("Rows", { exact: true }).count(), 0);
  await page.getByRole("button", { name: "Begin it, then bring in the list" }).click();
  await page.getByText("Name of the plot: nothing; expected the plot's name.").waitFor();
  await page.getByLabel("Name of the plot").fill("Sheet Rows");
  await page.getByLabel("Metres between places").fill("0,5");
  await looks(page, "new-plot-from-list");
  await page.getByRole("button", { name: "Begin it, then bring in the list" }).click();
  await page.waitForFunction(() => location.hash === "#/folder");
  await page.locator(".folder-name", { hasText: "Sheet Rows" }).waitFor();
  await lists.paste(page, "row\tplace\ttag\n3\t1\tQ-1\n\t2\tQ-2\n\t3\tQ-3\n4\t1\tQ-4\n\t2\tQ-5\n");
  const merged = page.getByLabel("Lines without a row number");
  assert.equal(await merged.evaluate((it) => it.selectedOptions[0].text), "have the row above");
  await page.getByRole("button", { name: "5 new", exact: true }).waitFor();
  await merged.selectOption({ label: "have no row" });
  await page.getByRole("button", { name: "3 with faults", exact: true }).waitFor();
  await merged.selectOption({ label: "have the row above" });
  await page.locator(".bring").evaluate((it) => it.scrollIntoView());
  await looks(page, "bring-list-merged");
  await page.getByRole("button", { name: "Take these 5 trees" }).click();
  await page.getByText("Taken: 5 trees new.").waitFor();
  const trees = (await readFile(join(await copied(page), "trees.csv"), "utf8")).trim().split("\n");
  assert.match(trees[3], /^T00003-\d,3,3,Q-3,*$/);
  await page.getByRole("link", { name: "See the map" }).click();
  await page.locator("canvas").first().waitFor();
  await page.reload();
  await page.getByRole("link", { name: "Folder", exact: true }).click();
  assert.equal(await page.locator(".facts dd").first().innerText(), "5");
  assert.equal(await lists.field(page).count(), 0, "the list is not opened again by itself");
  assert.deepEqual(visit.errors, []);
  await visit.close();
});
