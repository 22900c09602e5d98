// Runs every journey: two at a time, since a browser mostly waits; what is timed runs alone. A
// journey that failed beside another runs once more alone, and that is what counts: two browsers
// on two cores may keep each other waiting longer than a person would.
import { spawn } from "node:child_process";
import { readdirSync } from "node:fs";
import { createInterface } from "node:readline";

const ALONE = /(-speed|endurance)\.test\.js$/;

const journeys = readdirSync("journeys").filter((name) => name.endsWith(".test.js"));
const beside = await run(2, journeys.filter((name) => !ALONE.test(name)));
const again = await run(1, [...beside.failed]);
const alone = await run(1, journeys.filter((name) => ALONE.test(name)));

// What failed beside another has passed, unless it failed again.
const passed = beside.pass + beside.fail - again.fail + alone.pass;
const failed = again.fail + alone.fail;
console.log(`ℹ pass ${passed}\nℹ fail ${failed}`);
const sound = failed === 0 && again.code === 0 && alone.code === 0 && (beside.code === 0 || beside.failed.size > 0);
process.exit(sound ? 0 : 1);

/** Runs journeys so many at once; passes on what they print but the sums, and gives those. */
async function run(atOnce, names) {
  const sums = { pass: 0, fail: 0, code: 0, failed: new Set() };
  if (names.length === 0) return sums;
  if (atOnce === 1) console.log(`alone: ${names.join(", ")}`);
  const child = spawn(process.execPath, [
    "--test", "--test-force-exit", `--test-concurrency=${atOnce}`, "--test-reporter=spec",
    ...names.map((name) => `journeys/${name}`),
  ], { stdio: ["ignore", "pipe", "inherit"] });
  for await (const line of createInterface({ input: child.stdout })) {
    const [, word, number] = /^ℹ (pass|fail) (\d+)$/.exec(line) ?? [];
    if (word) sums[word] += Number(number);
    else console.log(line);
    const [, name] = /^test at journeys\/([\w-]+\.test\.js):/.exec(line) ?? [];
    if (name) sums.failed.add(name);
  }
  sums.code = child.exitCode ?? await new Promise((done) => child.on("exit", (code) => done(code ?? 1)));
  return sums;
}
