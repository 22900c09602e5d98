// Runs every journey: two at a time, since a browser mostly waits; what is timed runs alone.
import { spawnSync } from "node:child_process";
import { readdirSync } from "node:fs";

const ALONE = /(-speed|endurance)\.test\.js$/;

const journeys = readdirSync("journeys").filter((name) => name.endsWith(".test.js"));
const run = (at_once, names) => spawnSync(
  process.execPath,
  ["--test", "--test-force-exit", `--test-concurrency=${at_once}`, "--test-reporter=spec",
    ...names.map((name) => `journeys/${name}`)],
  { stdio: "inherit" },
).status ?? 1;

const together = run(2, journeys.filter((name) => !ALONE.test(name)));
const alone = run(1, journeys.filter((name) => ALONE.test(name)));
process.exit(Math.max(together, alone));
