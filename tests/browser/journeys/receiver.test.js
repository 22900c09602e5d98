// Positions from a receiver: a log read with its broken lines, laid over the plan, taken as where the
// plot lies and as where its trees stand; undone, kept over a reload, written into the folder; a list;
// positions that do not tell trees apart; a file that holds none.
import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { join } from "node:path";
import { test } from "node:test";
import { positions } from "../help/bring-in.js";
import { ready, visitSite } from "../help/browser.js";
import { copied, link, openPlot } from "../help/keeping.js";
import { plotLog, records } from "../help/log.js";
import { looks, pictured } from "../help/looks.js";
import { leeward, unscored } from "../help/plots.js";
import { gga, globe, pattern, sentence } from "../help/receiver.js";

const ORIGIN = { lon: 5.12, lat: 52.04, bearing: 40 };
const ROWS = 3;
const PLACES = 12;

/** A walk up row 1, down row 2, up row 3, so many metres off; one position two metres along. */
function walk(errorMetres, quality, side = 1) {
  const lines = [];
  for (let row = 1; row <= ROWS; row += 1) {
    for (let nth = 0; nth < PLACES; nth += 1) {
      const place = row % 2 ? nth + 1 : PLACES - nth;
      const at = row * 100 + place;
      const gross = row === 2 && place === 5 ? 2 : 0;
      lines.push(gga(globe(ORIGIN, {
        x: (place - 1) * 0.75 + pattern(at, 0.618034) * errorMetres + gross,
        y: side * (row - 1) * 3 + pattern(at, 0.754878) * errorMetres,
      }), quality));
    }
  }
  return lines;
}

async function begun(visit, head = (it) => it) {
  const files = unscored(ROWS, PLACES);
  files["plot.json"] = head(files["plot.json"]);
  await openPlot(visit.page, files);
  await positions.begin(visit.page);
  return files;
}

const { handIn, paste } = positions;

const places = (page) => page.getByLabel("Rows and places in walking order");

const fact = (page, what) =>
  page.locator(".receiver dl.facts").evaluate((list, word) => {
    const term = [...list.querySelectorAll("dt")].find((it) => it.textContent === word);
    return term?.nextElementSibling?.textContent ?? null;
  }, what);

/** Reads the folder of the copy that the page saves. */
async function reader(page) {
  const folder = await copied(page);
  const inspected = leeward("inspect", folder);
  assert.equal(inspected.code, 0, inspected.err + inspected.out);
  return (name) => readFileSync(join(folder, name), "utf8");
}

test("a log: what was read, how it fits, where the plot lies, then where the trees stand; all undone", async () => {
  const visit = await visitSite();
  const { page } = visit;
  const files = await begun(visit, (head) => head.replace("\"season_starts_month\"", "\"soil\": 1.50,\n  \"season_starts_month\""));
  await page.getByRole("button", { name: "Look at these positions" }).click();
  await page.getByRole("alert").getByText("There is nothing in the field yet.").waitFor();
  const lines = walk(0.02, 4);
  lines.splice(4, 0, sentence("GNRMC,101500.00,A"), lines[3].replace(/\*..$/, "*00"), "hello");
  await handIn(page, "walk.nmea", lines.join("\r\n"));
  await page.getByRole("heading", { name: "walk.nmea" }).waitFor();
  await page.getByText("36 positions: 36 RTK fixed (centimetres off as a rule).").waitFor();
  await page.getByText("1 sentence of another kind was passed over.").waitFor();
  const broken = page.getByRole("region", { name: "Lines that give no position" });
  await broken.getByText("Line 6", { exact: true }).waitFor();
  await broken.getByText("found checksum \"00\"").waitFor();
  await broken.getByText("Line 7", { exact: true }).waitFor();

  // The numbers come out even: the likely walk stands there.
  assert.equal(await places(page).inputValue(), "row 1: 1 to 12\nrow 2: 12 to 1\nrow 3: 1 to 12\n");
  assert.match(await fact(page, "Bearing of the rows"), /^(39\.[5-9]|40\.[0-5])°: place numbers rise towards the north-east$/);
  assert.match(await fact(page, "Far off"), /^1 of 36, /);
  const first = page.locator(".receiver-table tbody tr").first();
  assert.match(await first.innerText(), /^Row 2, place 5 far off\s+(1\.9\d?|2(\.0\d?)?)\sm farther on/);
  await page.locator(".receiver-picture img").evaluate((it) => it.complete && it.naturalWidth > 0 || Promise.reject(new Error("no picture")));
  await looks(page, "receiver");
  await pictured(page, ".receiver", "receiver-whole");

  // A walk that does not come out even is told, and the fit is gone until it does.
  await places(page).fill("row 1: 1 to 12\nrow two: 12 to 1\nrow 3: 1 to 12");
  await page.getByText("found \"row two: 12 to 1\"; expected a row and its places in walking order").waitFor();
  assert.equal(await page.locator(".receiver-table").count(), 0);
  await places(page).fill("row 1: 1 to 12\nrow 3: 1 to 12");
  await page.getByText("found 24 places for 36 positions").waitFor();
  await looks(page, "receiver-uneven");
  await places(page).fill("row 1: 1 to 12\nrow 2: 12 to 1\nrow 3: 1 to 12");

  await page.getByRole("button", { name: "Take where the plot lies" }).click();
  await page.getByText("Taken: where the plot lies.").waitFor();
  await page.getByText("0 m from where the positions have it").waitFor();
  let copy = await reader(page);
  const head = JSON.parse(copy("plot.json"));
  assert.ok(Math.abs(head.origin.lon - ORIGIN.lon) < 1e-6 && Math.abs(head.origin.row_bearing_deg - 40) < 0.5, JSON.stringify(head.origin));
  assert.equal(copy("plot.json").replace(/\n {2}"origin": \{.*\},/, ""), files["plot.json"], "nothing else has changed");
  assert.equal(copy("trees.csv"), files["trees.csv"]);
  await looks(page, "receiver-taken");

  await page.getByRole("button", { name: "Take the positions of 35 trees" }).click();
  await page.getByText("Taken: positions of 35 trees.").waitFor();
  copy = await reader(page);
  const trees = copy("trees.csv").trim().split("\n");
  assert.equal(trees[0], "tree_id,row,place,tag,x_m,y_m,note");
  assert.match(trees.find((line) => line.startsWith("1-3,")), /^1-3,1,3,,1\.[45]\d*,-?0?\.?\d*,"position: RTK fixed, HDOP 0\.6, 17 satellites"$/);
  assert.equal(trees.find((line) => line.startsWith("2-5,")), "2-5,2,5,,,,", "what is far off was not taken");

  // Kept: by the log, whose format an older page leaves alone.
  await page.getByText("Everything is saved in this browser").waitFor();
  await page.reload();
  await ready(page);
  await link(page, "Folder");
  const log = records(await plotLog(page)).whole;
  assert.equal(log.find(({ kind }) => kind === "V").payload, "4");
  assert.equal(log.filter(({ kind }) => kind === "E").length, 2);
  const again = await reader(page);
  assert.equal(again("plot.json"), copy("plot.json"));
  assert.equal(again("trees.csv"), copy("trees.csv"));

  // The map takes both back, the last first.
  await link(page, "Map");
  await page.locator("canvas").first().waitFor();
  await page.keyboard.press("Control+z");
  await page.getByText("Undone: Positions of 35 trees, by walk.nmea").waitFor();
  await page.keyboard.press("Control+z");
  await page.getByText("Undone: Where the plot lies, by walk.nmea").waitFor();
  await link(page, "Folder");
  copy = await reader(page);
  assert.equal(copy("plot.json"), files["plot.json"], "byte for byte");
  assert.deepEqual(visit.errors, []);
  await visit.close();
});

test("a list with its own places: positions alone, the plot's place with them, taken back on the spot", async () => {
  const visit = await visitSite();
  const { page } = visit;
  const files = await begun(visit);
  let list = "row;place;longitude;latitude;accuracy (m)\n";
  for (let place = PLACES; place >= 1; place -= 1) {
    const { lon, lat } = globe(ORIGIN, { x: (place - 1) * 0.75, y: 3 });
    list += `2;${place};${lon.toFixed(9).replace(".", ",")};${lat.toFixed(9).replace(".", ",")};0,02\n`;
  }
  await paste(page, `${list}2;13;5,12;;\n2;14;5,12;152;\n`);
  await page.getByRole("heading", { name: "pasted positions" }).waitFor();
  await page.getByText("12 positions.").waitFor();
  await page.getByText("Standard deviation by the receiver itself: 0.02").waitFor();
  const broken = page.getByRole("region", { name: "Lines that give no position" });
  await broken.getByText("Line 14, latitude").waitFor();
  await broken.getByText("found \"152\"; expected degrees from -90 to 90.").waitFor();
  assert.equal(await places(page).inputValue(), "row 2: 12 to 1\n");
  await page.getByRole("button", { name: "Take the positions of 12 trees" }).click();
  await page.getByText("Taken: positions of 12 trees.").waitFor();
  const copy = await reader(page);
  assert.ok(Math.abs(JSON.parse(copy("plot.json")).origin.row_bearing_deg - 40) < 0.01);
  assert.match(copy("trees.csv"), /\n2-3,2,3,,1\.5,3,position: 0\.02 m\n/);
  await page.locator(".receiver").getByRole("button", { name: "Undo" }).click();
  await page.getByText("The plot is as it was.").waitFor();
  const back = await reader(page);
  assert.equal(back("plot.json"), files["plot.json"]);
  await page.locator(".receiver").getByRole("button", { name: "Take it again" }).click();
  await page.getByText("Taken: positions of 12 trees.").waitFor();
  await page.getByRole("button", { name: "Put them away" }).click();
  assert.equal(await page.getByRole("heading", { name: "pasted positions" }).count(), 0);
  assert.deepEqual(visit.errors, []);
  await visit.close();
});

test("positions that do not tell trees apart are told, and only where the plot lies is offered first", async () => {
  const visit = await visitSite();
  const { page } = visit;
  await begun(visit);
  await handIn(page, "phone.log", walk(1.2, 1).join("\n"));
  await page.getByText("36 satellites alone (metres off as a rule)").waitFor();
  await page.getByText("These positions do not tell one tree from the next").waitFor();
  const stand = page.getByRole("button", { name: /^Take the positions of / });
  assert.ok(await stand.isDisabled());
  assert.ok(await page.getByRole("button", { name: "Take where the plot lies" }).isEnabled());
  await looks(page, "receiver-too-coarse");
  await pictured(page, ".receiver", "receiver-too-coarse-whole");
  await page.getByLabel("Take positions that do not tell one tree from the next").check();
  assert.ok(await stand.isEnabled());
  assert.deepEqual(visit.errors, []);
  await visit.close();
});

test("rows that rise to the right are told: no plan fits, positions do", async () => {
  const visit = await visitSite();
  const { page } = visit;
  await begun(visit);
  await handIn(page, "right.nmea", walk(0.02, 4, -1).join("\n"));
  await page.getByText("Row numbers rise to the right of the way in which place numbers rise.").waitFor();
  assert.ok(await page.getByRole("button", { name: "Take where the plot lies" }).isDisabled());
  assert.ok(await page.getByRole("button", { name: "Take the positions of 35 trees" }).isEnabled());
  await looks(page, "receiver-turned-over");
  assert.deepEqual(visit.errors, []);
  await visit.close();
});

test("files that hold no position say what was found and expected; nothing is changed", async () => {
  const visit = await visitSite();
  const { page } = visit;
  const files = await begun(visit);
  await handIn(page, "trees.csv", "tag,row\nW-1,1\n");
  await page.getByRole("heading", { name: "trees.csv" }).waitFor();
  await page.getByText("found no positions; expected sentences of a receiver").waitFor();
  assert.equal(await places(page).count(), 0);
  await handIn(page, "picture.jpg", Buffer.from([0xff, 0xd8, 0, 1, 2, 3, 0, 0xff]).toString("latin1"));
  await page.getByRole("heading", { name: "picture.jpg" }).waitFor();
  await handIn(page, "torn.nmea", `${walk(0, 4)[0]}\n${walk(0, 4)[1].slice(0, 30)}`);
  await page.getByRole("heading", { name: "torn.nmea" }).waitFor();
  await page.getByText("1 position: 1 RTK fixed").waitFor();
  await page.getByText("found no checksum").waitFor();
  await places(page).fill("row 1: 1");
  await page.getByText("Nothing can be fitted: fewer than three points.").waitFor();
  assert.ok(await page.getByRole("button", { name: "Take where the plot lies" }).isDisabled());
  await looks(page, "receiver-bad-file");
  const copy = await reader(page);
  assert.equal(copy("plot.json"), files["plot.json"]);
  assert.equal(copy("trees.csv"), files["trees.csv"]);
  assert.deepEqual(visit.errors, []);
  await visit.close();
});
