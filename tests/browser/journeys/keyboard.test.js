// The three uses by keys alone: Tab, Shift+Tab, Enter, Space, arrows, Escape. Every stop has a name, is
// seen, shows that it has the keyboard and is large enough; what is closed gives the keyboard back.
import assert from "node:assert/strict";
import { after, before, test } from "node:test";
import { allStops, keyboard, listen, stop } from "../help/access.js";
import { laptop, phone, visitSite } from "../help/browser.js";
import { counted } from "../help/counted.js";

const tabStops = {};
after(() => counted("keyboard", { stops: keys.stops.length, tabStops }));

let visit, page, keys, heard;
before(async () => {
  visit = await visitSite({ context: { viewport: laptop } });
  page = visit.page;
  keys = keyboard(page);
  heard = await listen(page);
});
after(async () => {
  assert.deepEqual(visit?.errors, []);
  await visit?.close();
});

const { press, to, is } = {
  press: (...all) => keys.press(...all),
  to: (name, how) => keys.to(name, how),
  is: (name, where) => keys.is(name, where),
};
const title = (words) => page.waitForFunction((words) => document.title.startsWith(words), words);
const place = () => page.evaluate(() => location.hash.split("/")[1]);

test("at home on the map: open the demo, go from tree to tree, its card, its neighbours, back", async () => {
  await title("Leeward");
  await to("Open the demo plot An invented orchard, to try everything on.");
  await press("Enter");
  await page.locator(".stage-scale").waitFor();
  await title("Map · Lantern Bank");
  await is("Map", "another place gives the keyboard to its heading");
  await to(/^Layer /);
  await to(/^Map of \d+/);
  // The map moves without a drag, and comes back as a whole.
  const scale = () => page.locator(".stage-scale text").textContent();
  const whole = await scale();
  await press("+", "+", "ArrowRight", "0");
  await page.waitForFunction((words) => document.querySelector(".stage-scale text").textContent === words, whole);
  await press("+", "Enter");
  await page.locator(".card").waitFor();
  const name = () => page.locator("#card-name").textContent();
  const first = await name();
  await press("ArrowDown", "ArrowDown");
  await page.waitForFunction((before) => document.querySelector("#card-name").textContent !== before, first);
  await heard.until(/, row \d+ place \d+: /);
  await press("Enter");
  await is(await name(), "Enter on the map goes on to the card");
  await to(/^Neighbours/);
  await press("Enter");
  await page.locator(".around li a").first().waitFor();
  await to(/./);
  const next = (await stop(page)).name;
  await press("Enter");
  await page.waitForFunction((name) => document.querySelector("#card-name").textContent === name, next);
  await is(next, "the card of a neighbour has the keyboard");
  await title(`${next} · Map · Lantern Bank`);
  await press("Escape");
  await page.locator(".card").waitFor({ state: "detached" });
  await is(/^Map of \d+/, "the map has the keyboard when the card is put away");
  await press("Enter");
  await page.locator(".card").waitFor();
  await to("Put the card away");
  await press("Space");
  await is(/^Map of \d+/, "also by its button");
});

test("the same as a table, and the rounds by arrows", async () => {
  await to("Table", { back: true });
  await press("Enter");
  await to("All trees");
  await press("ArrowDown", "ArrowDown");
  await page.locator(".twin-line[aria-selected=true]").waitFor();
  await press("Enter");
  await is(await page.locator("#card-name").textContent());
  await press("Escape");
  await is("All trees", "the table has the keyboard back");
  const at = () => page.locator(".map-round-name").first().textContent();
  const before_it = await at();
  await to(/^All rounds/);
  await press("ArrowLeft");
  assert.notEqual(await at(), before_it);
  await press("End");
  await to("Table", { back: true });
  await press("Enter");
});

test("in the orchard: choose, walk, score, take back, cannot be scored, end", async () => {
  await to("Walk", { back: true });
  await press("Enter");
  await page.locator(".walk-setup").waitFor();
  await is("Walk");
  await title("Walk · Lantern Bank");
  await to("Rows");
  await page.keyboard.type("7");
  await to(/^Walk \d+ trees$/);
  await press("Enter");
  await page.locator(".walk-key").first().waitFor();
  await is("The walk", "the walk has the keyboard, for its digits");
  const tree = () => page.locator(".walk-name").innerText();
  const first = await tree();
  await heard.said();
  await to(/^2 /);
  await press("Space");
  await page.waitForFunction((before) => document.querySelector(".walk-name").innerText !== before, first);
  await heard.until(new RegExp(`^${first}: 2 `));
  const second = await tree();
  await heard.until(new RegExp(`^${second}.*[Rr]ow 7`));
  await keys.here();
  await press("3", "1");
  await page.waitForTimeout(2300);
  const said = await heard.said();
  assert.equal(said.filter((words) => words === "All saved").length, 1, `saved is said once: ${said.join(" | ")}`);
  await press("Backspace");
  await heard.until(/^Taken back: /);
  await to("Can’t score", { back: true });
  await press("Enter");
  await to("leaves fallen");
  await press("Enter");
  await heard.until(/could not be scored: leaves fallen/);
  await keys.here();
  await to(/^Row 7/, { back: true });
  await press("Enter");
  await to("End this walk");
  await press("Enter");
  await page.locator(".walk-setup").waitFor();
  await keys.here();
});

test("judging: the proof, a tree, the plan, a decision, a copy", async () => {
  await to("Proof", { back: true });
  await press("Enter");
  await page.locator(".verdict-counts").waitFor({ timeout: 120_000 });
  await heard.until(/^Judged: /);
  await is(/^Proof: /);
  await title("Proof · Lantern Bank");
  await to(/^To the trees|^Trees in order/, { most: 200 });
  await press("ArrowDown", "ArrowDown");
  await page.locator("#rank-1[aria-selected=true]").waitFor();
  const lies = await page.locator("#rank-1").evaluate((line) => {
    const box = line.getBoundingClientRect();
    return line.contains(document.elementFromPoint(box.left + 20, box.top + box.height / 2));
  });
  assert.ok(lies, "the chosen line can be seen");
  await page.locator(".proof-detail").waitFor();
  await to("Watch");
  await press("Space");
  await heard.until(/^Watch, since/);
  await keys.here();
  await press("Escape");
  await is("Trees in order", "the list has the keyboard back");
  await to("Walk to these trees next", { back: true });
  await to(/^[A-Z]+-?\d+/, { back: true });
  assert.ok(await page.evaluate(() => document.activeElement.closest(".proof-next")), "a tree of the plan");
  await press("Enter");
  await page.locator(".card").waitFor();
  await is(await page.locator("#card-name").textContent(), "a tree of the plan is shown on the map");
  await to("Folder", { back: true });
  await press("Enter");
  await page.locator(".folder").waitFor();
  await is("Folder");
  await to("Save as a zip");
  const [download] = await Promise.all([page.waitForEvent("download"), press("Enter")]);
  assert.match(download.suggestedFilename(), /\.zip$/);
  await keys.here();
});

for (const [on, viewport] of Object.entries({ phone, laptop })) {
  test(`each place on a ${on}: every stop is sound, and what can be used is one`, async () => {
    await page.setViewportSize(viewport);
    for (const name of ["Map", "Find", "Walk", "Proof", "Folder"]) {
      await page.locator("nav.places").getByRole("link", { name, exact: true }).click();
      await page.locator("main h1").waitFor();
      await page.locator(".on-its-way").waitFor({ state: "detached" });
      if (name === "Find") await page.getByText("Check a row").first().waitFor();
      const stops = await allStops(page, `${name} on a ${on}`);
      tabStops[`${name} on a ${on}`] = stops.length;
    }
  });
}

test("the map moves and zooms by single taps, the slider goes where it is tapped", async () => {
  await page.setViewportSize(phone);
  await page.locator("nav.places").getByRole("link", { name: "Map", exact: true }).click();
  await page.locator(".stage-scale").waitFor();
  if (await page.locator(".card").isVisible()) await page.getByRole("button", { name: "Put the card away" }).click();
  const scale = () => page.locator(".stage-scale text").textContent();
  const whole = await scale();
  const { x, y } = await page.locator(".stage").boundingBox();
  // Any spot comes near by a double tap on it, and all of it back by a button. Beside the trees: a
  // tap on one of them opens its card.
  await page.mouse.dblclick(x + 8, y + 120);
  await page.waitForFunction((words) => document.querySelector(".stage-scale text").textContent !== words, whole);
  await page.getByRole("button", { name: "All: the whole plot" }).click();
  await page.waitForFunction((words) => document.querySelector(".stage-scale text").textContent === words, whole);
  const slider = page.getByRole("slider");
  const value = () => slider.inputValue();
  const before = await value();
  const box = await slider.boundingBox();
  await page.mouse.click(box.x + box.width * 0.3, box.y + box.height / 2);
  assert.notEqual(await value(), before);
});

test("what asks first has the keyboard, and gives it back", async () => {
  await page.setViewportSize(laptop);
  await page.locator("nav.places").getByRole("link", { name: "Folder", exact: true }).focus();
  await press("Enter");
  await is("Folder");
  await to("Start a new plot");
  await press("Enter");
  await to("Name of the plot");
  await page.keyboard.type("Reed Corner");
  for (const [field, value] of [["Rows", "2"], ["Places in a row", "3"]]) {
    await to(field);
    await press("Control+a");
    await page.keyboard.type(value);
  }
  await to("Plant it");
  await press("Enter");
  await page.waitForFunction(() => location.hash === "#/map");
  await is("Map", "the form is gone, the map has the keyboard");
  await to("Folder", { back: true });
  await press("Enter");
  await page.locator(".shelf").waitFor();
  await to("Forget");
  await press("Enter");
  await is("Leave it", "the way out is offered first");
  await press("Escape");
  await is("Forget");
  await press("Enter");
  await to("Forget it for good", { back: true });
  await press("Enter");
  await page.locator(".shelf").waitFor({ state: "detached" });
  await keys.here();
  await to("To the content", { back: true });
  assert.equal(await place(), "folder");
  await press("Enter");
  assert.equal(await page.evaluate(() => document.activeElement.id), "main");
  assert.equal(await place(), "folder", "going to the content leaves no place");
});
