// What journeys count, kept beside their pictures for docs/quality.md.
import { existsSync, mkdirSync, readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { artefacts } from "./browser.js";

/** Keeps a figure of a subject under its name; the figures of one subject come from one journey. */
export function counted(subject, name, figure) {
  mkdirSync(artefacts, { recursive: true });
  const file = join(artefacts, `${subject}.json`);
  const before = existsSync(file) ? JSON.parse(readFileSync(file, "utf8")) : {};
  writeFileSync(file, `${JSON.stringify({ ...before, [name]: figure }, null, 2)}\n`);
}
