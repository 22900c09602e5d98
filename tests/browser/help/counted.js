// What journeys count, kept beside their pictures for docs/quality.md.
import { mkdirSync, rmSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { artefacts } from "./browser.js";

/** Keeps the figures of a journey under its name, once all of it has passed: what failed has none. */
export function counted(journey, figures) {
  const file = join(artefacts, `counted-${journey}.json`);
  rmSync(file, { force: true });
  process.on("exit", (code) => {
    if (code !== 0) return;
    mkdirSync(artefacts, { recursive: true });
    writeFileSync(file, `${JSON.stringify(figures, null, 2)}\n`);
  });
}
