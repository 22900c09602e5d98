// What journeys count, kept beside their pictures for docs/quality.md.
import { mkdirSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { artefacts } from "./browser.js";

/** Keeps the figures of a journey under its name. */
export function counted(journey, figures) {
  mkdirSync(artefacts, { recursive: true });
  writeFileSync(join(artefacts, `counted-${journey}.json`), `${JSON.stringify(figures, null, 2)}\n`);
}
