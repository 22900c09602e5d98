#!/usr/bin/env node
// Times a whole judgement on the command line and in the browser, in turns in one run, on made-up
// plots of four seasons with three rounds each, and prints what a tree costs as plots grow.
//
//     node tests/bench/judge.mjs               1,200, 4,800 and 20,000 trees
//     node tests/bench/judge.mjs --rows 12     one size: rows of a hundred places
//
// Needs what `cargo xtask build` and `cargo build --release -p cli` made, and `npm ci` in
// tests/browser.
import { execFileSync } from "node:child_process";
import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { open, ready, serve, target } from "../browser/help/browser.js";

const ROWS = [12, 48, 200];
const TURNS = 3;
const LEEWARD = join(target, "release/leeward");

const asked = process.argv.indexOf("--rows");
const sizes = asked < 0 ? ROWS : [Number(process.argv[asked + 1])];
const folder = mkdtempSync(join(tmpdir(), "leeward-bench-"));
const site = await serve();
try {
  console.log("| trees | scores | native, s | native, MB | browser, s | browser / native | native, ms a tree |");
  console.log("|---|---|---|---|---|---|---|");
  for (const rows of sizes) await size(rows);
} finally {
  site.close();
  rmSync(folder, { recursive: true, force: true });
}

async function size(rows) {
  const plot = join(folder, `rows-${rows}`);
  execFileSync(LEEWARD, [
    "simulate", plot, "--seed", "11", "--kind", "four-seasons", "--rows", rows, "--places", 100,
  ], { stdio: "ignore" });
  const lines = (file) => Number(execFileSync("wc", ["-l", join(plot, file)], { encoding: "utf8" }).split(" ")[0]) - 1;
  const [trees, scores] = [lines("trees.csv"), lines("scores.csv")];
  let [native, browser, memory] = [Infinity, Infinity, 0];
  for (let turn = 0; turn < TURNS; turn += 1) {
    const run = natively(plot);
    [native, memory] = [Math.min(native, run.seconds), Math.max(memory, run.megabytes)];
    browser = Math.min(browser, await inTheBrowser(plot));
  }
  const cells = [
    trees, scores, native.toFixed(2), memory.toFixed(0), browser.toFixed(2),
    (browser / native).toFixed(2), ((1000 * native) / trees).toFixed(2),
  ];
  console.log(`| ${cells.join(" | ")} |`);
}

/** From the start of the program to its end: reading, judging, writing. */
function natively(plot) {
  const script = `
import resource, subprocess, sys, time
began = time.perf_counter()
subprocess.run(sys.argv[1:], stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL, check=True)
print(time.perf_counter() - began, resource.getrusage(resource.RUSAGE_CHILDREN).ru_maxrss / 1000)`;
  const call = ["-c", script, LEEWARD, "proof", plot, "--disease", "scab"];
  const [seconds, megabytes] = execFileSync("python3", call, { encoding: "utf8" }).split(" ").map(Number);
  return { seconds, megabytes };
}

/** From the question to the verdicts on the screen, the plot being open. */
async function inTheBrowser(plot) {
  const visit = await open();
  const { page } = visit;
  await page.goto(site.address);
  await ready(page);
  await page.getByText("Open a plot folder").click();
  const files = ["plot.json", "trees.csv", "scores.csv"].map((name) => join(plot, name));
  await page.locator("input[type=file]").first().setInputFiles(files);
  await page.locator("nav.places").waitFor({ timeout: 120_000 });
  await page.waitForTimeout(2000); // the plot is on its way to storage
  const began = performance.now();
  await page.evaluate(() => { location.hash = "#/proof/scab"; });
  await page.locator(".verdict-counts").waitFor({ timeout: 600_000 });
  const seconds = (performance.now() - began) / 1000;
  await visit.close();
  return seconds;
}
