// Endurance: 500 scores entered as fast as the page takes them, the browser killed at a moment
// drawn by chance; ten times over.
import assert from "node:assert/strict";
import { rm } from "node:fs/promises";
import { after, before, test } from "node:test";
import { killer, open, ready, serve } from "../help/browser.js";
import { beginWalk, openPlot, scoresSince, tapFast } from "../help/keeping.js";
import { lines, plotLog, records } from "../help/log.js";
import { unscored } from "../help/plots.js";

const SCORES = 500;
const TIMES = 10;

let site;
before(async () => { site = await serve(); });
after(() => site?.close());

/** Numbers from 0 to 1, the same for the same seed (the mulberry32 generator). */
function chance(seed) {
  let state = seed >>> 0;
  return () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let mixed = Math.imul(state ^ (state >>> 15), state | 1);
    mixed ^= mixed + Math.imul(mixed ^ (mixed >>> 7), mixed | 61);
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 2 ** 32;
  };
}

const seed = Number(process.env.SEED ?? Date.now() % 1_000_000);

for (let nth = 0; nth < TIMES; nth += 1) {
  test(`killed at a random moment, seed ${seed + nth}: what was shown as saved is there`, async (t) => {
    const draw = chance(seed + nth);
    const values = Array.from({ length: SCORES }, () => Math.floor(draw() * 2));
    const kill_at = 1 + Math.floor(draw() * SCORES);
    const later_ms = draw() * 30;

    let visit = await open({ keep: true });
    const { profile } = visit;
    await visit.page.goto(site.address);
    await ready(visit.page);
    await openPlot(visit.page, unscored(4, 130));
    await beginWalk(visit.page);
    const kill = killer(visit);
    let shown = 0;
    const reached = new Promise((resolve) => {
      tapFast(visit.page, values, (taps) => {
        shown = Math.max(shown, taps);
        if (shown >= kill_at) resolve();
      }).then(resolve, resolve);
    });
    await reached;
    await new Promise((done) => { setTimeout(done, later_ms); });
    await kill();

    visit = await open({ profile, keep: true });
    await visit.page.goto(site.address);
    await visit.page.locator("nav.places").waitFor();
    const since = await scoresSince(visit.page);
    const log = await plotLog(visit.page);
    const kept = lines(log);
    t.diagnostic(`to be killed after ${kill_at}; shown as saved ${shown}; found ${kept.length}`);
    assert.ok(shown >= kill_at, "the browser lived until the moment drawn");
    assert.ok(kept.length >= shown, `${shown} were shown as saved, ${kept.length} are there`);
    assert.equal(since, kept.length, "the page shows every line of the log");
    assert.equal(records(log).torn, 0, "the log is whole");
    assert.deepEqual(kept.map((cells) => Number(cells[3])), values.slice(0, kept.length));
    assert.equal(new Set(kept.map((cells) => cells[1])).size, kept.length, "one tree each");
    await visit.close();
    await rm(profile, { recursive: true, force: true });
  });
}
