#!/usr/bin/env node
// Times the map in headless Chromium on made-up plots: 100,000 trees under a finger, and the
// opening of 20,000 trees with half a million scores.
//
//     node tests/bench/map.mjs                 both
//     node tests/bench/map.mjs map             the map on a laptop and a phone
//     node tests/bench/map.mjs laptop          one of them
//     node tests/bench/map.mjs opening         the opening alone
//
// Prints a table of what was measured beside what is wanted; exit code 1 where something is
// missed. Needs what `cargo xtask build` and `cargo build --release -p cli` made, and `npm ci` in
// tests/browser. Times are of one machine; look at them when nothing else runs on it.
import { execFileSync } from "node:child_process";
import { mkdtempSync, readFileSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { drag, instruments, painted, pointAt, share, zoom } from "../browser/help/frames.js";
import { laptop, open, phone, ready, serve, target } from "../browser/help/browser.js";

const LEEWARD = join(target, "release/leeward");
const asked = process.argv[2];
const wants = (...names) => asked === undefined || names.includes(asked);

const folder = mkdtempSync(join(tmpdir(), "leeward-bench-"));
const site = await serve();
let missed = false;
try {
  console.log("| what | median | p95 | most | wanted |\n|---|---|---|---|---|");
  const wide = made("wide", { rows: 400, places: 250, seasons: 1 });
  if (wants("map", "laptop")) await moved(wide, "laptop", { viewport: laptop }, 16);
  if (wants("map", "phone")) await moved(wide, "phone", { viewport: phone, deviceScaleFactor: 2 }, 33);
  if (wants("opening")) await opened(made("long", { rows: 200, places: 100, seasons: 9 }));
} finally {
  site.close();
  rmSync(folder, { recursive: true, force: true });
}
process.exit(missed ? 1 : 0);

/** A plot folder made up from a seed. */
function made(name, { rows, places, seasons }) {
  const plot = join(folder, name);
  execFileSync(LEEWARD, [
    "simulate", plot, "--seed", "11", "--kind", "four-seasons", "--no-truth",
    "--rows", rows, "--places", places, "--seasons", seasons,
  ], { stdio: "ignore" });
  return plot;
}

/** Opens a plot folder; gives milliseconds from the choice of its files to its map painted. */
async function handed(page, plot) {
  await page.getByText("Open a plot folder").click();
  const files = ["plot.json", "trees.csv", "scores.csv"].map((name) => join(plot, name));
  await page.locator("input[type=file]").first().evaluate((input) => {
    input.addEventListener("change", () => { window.handedAt = performance.now(); }, { capture: true });
  });
  await page.locator("input[type=file]").first().setInputFiles(files);
  return await painted(page, "handedAt");
}

/** Measures the map of a plot at one size of screen; a frame may take `most` milliseconds. */
async function moved(plot, size, context, most) {
  const visit = await open({ context });
  const { page } = visit;
  await instruments(page);
  await page.goto(site.address);
  await ready(page);
  await handed(page, plot);
  await page.waitForTimeout(3000); // the plot is on its way to storage

  const first = [];
  for (let turn = 0; turn < 5; turn += 1) {
    await page.evaluate(() => { location.hash = "#/folder"; });
    await page.locator(".folder").waitFor();
    await page.evaluate(() => { window.wentAt = performance.now(); location.hash = "#/map"; });
    first.push(await painted(page, "wentAt"));
  }
  line(`${size}: first picture, ms`, first, { wanted: 1000, of: "most" });

  const stage = await page.locator(".stage").boundingBox();
  const middle = { x: stage.width / 2, y: stage.height / 2 };
  const far = await page.evaluate(drag, middle);
  line(`${size}: pan, the whole plot, ms of work a frame`, far.work, { wanted: most });
  line(`${size}: pan, the whole plot, ms from frame to frame`, far.apart);
  const pinch = await page.evaluate(zoom, middle);
  line(`${size}: zoom, ms of work a frame`, pinch.work, { wanted: most });
  const near = await page.evaluate(drag, middle);
  line(`${size}: pan, close up, ms of work a frame`, near.work, { wanted: most });
  line(`${size}: hit test, ms`, await page.evaluate(pointAt, middle), { wanted: 1 });
  await memory(`${size}: memory held by the page's process, MB`, visit, 300);
  line(`${size}: another layer, ms`, await page.evaluate(layers), { wanted: 100, of: "most" });
  line(`${size}: another round, ms`, await page.evaluate(rounds), { wanted: 100, of: "most" });
  await memory(`${size}: the same while the judge works, MB`, visit);
  await visit.close();
}

/** Measures how long the opening of a plot takes. */
async function opened(plot) {
  const took = [];
  for (let turn = 0; turn < 3; turn += 1) {
    const visit = await open({ context: { viewport: laptop } });
    await instruments(visit.page);
    await visit.page.goto(site.address);
    await ready(visit.page);
    await visit.page.waitForTimeout(1500);
    took.push(await handed(visit.page, plot));
    await visit.close();
  }
  line("opening 20,000 trees and 505,794 scores, ms", took, { wanted: 3000, of: "least" });
}

/** Shows every layer once, all reports being there or not. */
async function layers() {
  const choice = document.querySelector(".map-layer select");
  const took = [];
  for (const { value } of [...choice.options, ...choice.options]) {
    if (value === choice.value) continue;
    choice.value = value;
    const begun = performance.now();
    choice.dispatchEvent(new Event("change", { bubbles: true }));
    await new Promise((done) => afterFrame(done));
    took.push(performance.now() - begun);
  }
  choice.selectedIndex = 0;
  choice.dispatchEvent(new Event("change", { bubbles: true }));
  await new Promise((done) => afterFrame(done));
  return took;
}

/** Goes through the rounds. */
async function rounds() {
  const slider = document.querySelector(".map-rounds input");
  const took = [];
  for (let nth = 0; nth <= Number(slider.max); nth += 1) {
    slider.value = nth;
    const begun = performance.now();
    slider.dispatchEvent(new Event("input", { bubbles: true }));
    await new Promise((done) => afterFrame(done));
    took.push(performance.now() - begun);
  }
  return took;
}

/** Prints what the page's process holds, its workers with it, once scripts have tidied up. */
async function memory(what, { context, page, profile }, wanted) {
  await (await context.newCDPSession(page)).send("HeapProfiler.collectGarbage");
  await page.waitForTimeout(800);
  const pids = execFileSync("pgrep", ["-f", `type=renderer.*${profile}|${profile}.*type=renderer`], { encoding: "utf8" });
  const megabytes = pids.trim().split("\n").map((pid) => {
    try {
      return Number(/^Pss:\s+(\d+)/m.exec(readFileSync(`/proc/${pid}/smaps_rollup`, "utf8"))[1]) / 1000;
    } catch { return 0; }
  });
  line(what, [Math.max(...megabytes)], { wanted, of: "most" });
}

function line(what, values, { wanted, of = "p95" } = {}) {
  const found = {
    least: Math.min(...values), median: share(values, 0.5), p95: share(values, 0.95), most: Math.max(...values),
  };
  const digits = found.most < 10 ? 2 : 1;
  const over = wanted !== undefined && found[of] > wanted;
  missed ||= over;
  const goal = wanted === undefined ? "" : `${of} ${wanted}${over ? ", missed" : ""}`;
  const cells = [found.median, found.p95, found.most].map((one) => one.toFixed(digits));
  console.log(`| ${[what, ...cells, goal].join(" | ")} |`);
}
