// Plot folders for journeys: made up here, or with one fault each.
import { execFileSync, spawnSync } from "node:child_process";
import { existsSync, mkdtempSync, readFileSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { target, top } from "./browser.js";

/** A sound little plot: 2 rows of 6, one trait, one date. Invented. */
export function little() {
  const head = {
    format: "leeward-plot",
    version: 1,
    name: "Withy Corner",
    layout: { row_spacing_m: 3, place_spacing_m: 0.75, first_row: 1, first_place: 1 },
    season_starts_month: 1,
    traits: [{
      id: "scab_leaf", disease: "scab", label: "Scab on leaves", kind: "ordinal",
      scale: [{ value: 0, label: "none seen", severity: 0 }, { value: 1, label: "some", severity: 0.05 }],
    }],
  };
  const trees = ["tree_id,row,place,tag"];
  const scores = ["score_id,tree_id,trait,value,scored_on"];
  for (let row = 1; row <= 2; row += 1) {
    for (let place = 1; place <= 6; place += 1) {
      trees.push(`${row}-${place},${row},${place},W-${row}${place}`);
      scores.push(`s${row}${place},${row}-${place},scab_leaf,${place % 2},2031-06-14`);
    }
  }
  return {
    "plot.json": JSON.stringify(head, null, 2),
    "trees.csv": `${trees.join("\n")}\n`,
    "scores.csv": `${scores.join("\n")}\n`,
  };
}

/** The same plot with rows of so many trees and no score yet. */
export function unscored(rows, places) {
  const trees = ["tree_id,row,place,tag"];
  for (let row = 1; row <= rows; row += 1) {
    for (let place = 1; place <= places; place += 1) trees.push(`${row}-${place},${row},${place},`);
  }
  return {
    "plot.json": little()["plot.json"],
    "trees.csv": `${trees.join("\n")}\n`,
    "scores.csv": "score_id,tree_id,trait,value,scored_on\n",
  };
}

/** Files for a file input: name and bytes. */
export function handed(files) {
  return Object.entries(files).map(([name, content]) => ({
    name,
    mimeType: "application/octet-stream",
    buffer: Buffer.from(content),
  }));
}

/** Writes files into a new folder. */
export function onDisk(files) {
  const folder = mkdtempSync(join(tmpdir(), "leeward-plot-"));
  for (const [name, content] of Object.entries(files)) writeFileSync(join(folder, name), content);
  return folder;
}

/** Unpacks a zip into a new folder and gives the plot folder in it. */
export function unpacked(zip) {
  const folder = mkdtempSync(join(tmpdir(), "leeward-zip-"));
  const script = "import sys, zipfile; zipfile.ZipFile(sys.argv[1]).extractall(sys.argv[2])";
  execFileSync("python3", ["-c", script, zip, folder]);
  const found = execFileSync("find", [folder, "-name", "plot.json"], { encoding: "utf8" }).trim();
  return found.replace(/\/plot\.json$/, "");
}

/** Texts of a folder by their names; null where there is none. */
export const texts = (folder, names) => Object.fromEntries(names.map((name) => {
  const path = join(folder, name);
  return [name, existsSync(path) ? readFileSync(path, "utf8") : null];
}));

/** Runs the native program. */
export function leeward(...words) {
  const program = join(target, "debug/leeward");
  const run = spawnSync(program, words, { cwd: top, encoding: "utf8", maxBuffer: 1 << 28 });
  return { code: run.status, out: run.stdout, err: run.stderr };
}

/** A table of the native program, a line an object. */
export function table(...words) {
  const run = leeward(...words, "--format", "json");
  if (run.code === 2) throw new Error(run.err);
  return JSON.parse(run.out);
}
