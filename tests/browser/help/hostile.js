// Plot folders and zips that mean harm, as the workspace's own helper makes them up.
import { execFileSync } from "node:child_process";
import { mkdtempSync, readdirSync, readFileSync, rmSync, statSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { target } from "./browser.js";

/** All of them: name, form, end, words, and the files to hand in; `remove` takes them away. */
export function hostile() {
  const out = mkdtempSync(join(tmpdir(), "leeward-hostile-"));
  execFileSync(join(target, "debug/hostile"), [out]);
  const list = readFileSync(join(out, "list.tsv"), "utf8").trimEnd().split("\n").map((line) => {
    const [name, form, end, words] = line.split("\t");
    return { name, form, end, words, files: below(join(out, name)) };
  });
  return { list, remove: () => rmSync(out, { recursive: true }) };
}

const below = (folder) => readdirSync(folder).map((name) => join(folder, name)).flatMap((path) =>
  (statSync(path).isDirectory() ? below(path) : [path]));
