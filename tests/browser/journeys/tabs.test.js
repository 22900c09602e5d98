// Tabs and time: a tab that sleeps, a log of a newer version, a clock set back, a page that is
// closed while it saves. Each is told, and every score is there.
import assert from "node:assert/strict";
import { after, before, test } from "node:test";
import { lists } from "../help/bring-in.js";
import { open, ready, serve } from "../help/browser.js";
import {
  altered, beforeKeeper, beginWalk, link, openPlot, reopened, saved, scored, scoresSince, tap, tapFast,
} from "../help/keeping.js";
import { changeLogs, lines, plotLog, record, records } from "../help/log.js";
import { unscored } from "../help/plots.js";

let site;
before(async () => { site = await serve(); });
after(() => site?.close());

/** A page of the same origin on which nothing of ours runs. */
async function outside(visit) {
  const page = await visit.context.newPage();
  await page.goto(`${site.address}icon-nothing`);
  return page;
}

test("a tab that sleeps is told from one that answers, and its turn is taken when it is closed", async () => {
  const visit = await scored(site.address, 3);
  const second = await visit.context.newPage();
  await second.goto(site.address);
  await second.getByText("Open in another tab. This one only reads").waitFor();
  await second.waitForTimeout(6_000);
  await second.getByText("Open in another tab. This one only reads").waitFor();

  const session = await visit.context.newCDPSession(visit.page);
  const stopped = new Promise((resolve) => { session.on("Target.attachedToTarget", resolve); });
  await session.send("Target.setAutoAttach", {
    autoAttach: true, waitForDebuggerOnStart: false, flatten: false,
  });
  const { sessionId } = await stopped;
  const toWorker = (method) => session.send("Target.sendMessageToTarget", {
    sessionId, message: JSON.stringify({ id: 1, method }),
  });
  // The worker stands still at its next step, as it does in a tab that the system put to sleep.
  await toWorker("Debugger.enable");
  await toWorker("Debugger.pause");
  await second.getByText("it may be asleep").waitFor({ timeout: 20_000 });
  await visit.page.close();
  await second.getByText("Open in another tab").waitFor({ state: "detached" });
  assert.equal(await scoresSince(second), 3);
  await beginWalk(second);
  await tap(second, 1);
  await saved(second);
  assert.equal(await scoresSince(second), 4);
  await visit.close();
});

for (const [which, name] of [["plot", "the plot's log"], ["shelf", "the shelf"]]) {
  test(`${name} of a newer version is left as it is, and said so`, async () => {
    const visit = await scored(site.address, 4);
    const other = await outside(visit);
    await visit.page.close();
    const newer = Array.from(Buffer.from(record("V", "5")));
    await changeLogs(other, which, `(bytes) => new Uint8Array([...bytes, ...${JSON.stringify(newer)}])`);
    const log = await plotLog(other);
    await other.goto(site.address);
    await other.getByText("A newer version of Leeward has written what is kept here").waitFor();
    await other.getByText("Open the demo plot").click();
    await other.locator("nav.places").waitFor();
    await beginWalk(other);
    await other.locator(".walk-key").first().click();
    await other.getByText("Not saved: this page is too old").waitFor();
    await other.getByRole("button", { name: "Take the newer version" }).click();
    await other.getByText("A newer version of Leeward has written what is kept here").waitFor();
    assert.deepEqual(await plotLog(other), log, "not a byte has changed");
    assert.equal(lines(log).length, 4);
    await visit.close();
  });
}

test("a log without a word of its format is one of the first version and opens", async () => {
  const visit = await scored(site.address, 4);
  const other = await outside(visit);
  await visit.page.close();
  const head = record("V", "4");
  for (const which of ["plot", "shelf"]) {
    await changeLogs(other, which, `(bytes) => {
      const head = new TextDecoder().decode(bytes.slice(0, ${head.length}));
      if (head !== ${JSON.stringify(head)}) throw new Error(head);
      return bytes.slice(${head.length});
    }`);
  }
  await reopened(other, site.address);
  assert.equal(await scoresSince(other), 4);
  await visit.close();
});

test("an older log opens, and says the newer format before its first edit", async () => {
  const visit = await scored(site.address, 4);
  const other = await outside(visit);
  await visit.page.close();
  const [ours, older] = [record("V", "4"), record("V", "2")];
  await changeLogs(other, "plot", `(bytes) => {
    const head = new TextDecoder().decode(bytes.slice(0, ${ours.length}));
    if (head !== ${JSON.stringify(ours)}) throw new Error(head);
    return new Uint8Array([...new TextEncoder().encode(${JSON.stringify(older)}), ...bytes.slice(${ours.length})]);
  }`);
  await reopened(other, site.address);
  assert.equal(await scoresSince(other), 4);
  for (const tag of ["NEW-1", "NEW-2"]) {
    if (tag === "NEW-1") await lists.begin(other);
    await lists.paste(other, `row,place,tag\n1,1,${tag}\n`);
    await other.getByRole("button", { name: "Take this tree" }).click();
    await other.getByText("Taken: 1 tree changed.").waitFor();
  }
  await other.getByText("Everything is saved in this browser").waitFor();
  const formats = records(await plotLog(other)).whole.filter(({ kind }) => "VE".includes(kind));
  assert.deepEqual(formats.map(({ kind, payload }) => (kind === "V" ? payload : kind)), ["2", "4", "E", "E"]);
  await visit.close();
});

test("a clock set back a year is told; scores stay in the order they were taken", async () => {
  const visit = await scored(site.address, 3);
  const { page } = visit;
  const earlier = new Date(Date.now() - 365 * 24 * 3600 * 1000);
  await page.clock.setFixedTime(earlier);
  await page.reload();
  await page.getByText("Set the clock right").waitFor();
  await page.getByRole("button", { name: "Put away" }).click();
  await beginWalk(page);
  await tap(page, 3);
  await saved(page);
  await page.getByRole("button", { name: "Undo", exact: true }).click();
  await saved(page);
  const kept = lines(await plotLog(page));
  const years = kept.map((cells) => Number(cells[4].slice(0, 4)));
  const year = new Date().getFullYear();
  assert.deepEqual(years.slice(0, 3), [year, year, year]);
  assert.deepEqual(years.slice(3), [year - 1, year - 1, year - 1, year - 1]);
  assert.deepEqual(kept.slice(0, 6).map((cells) => cells[1]), ["1-1", "1-2", "1-3", "1-4", "1-5", "1-6"]);
  assert.equal(kept[6][1], "1-6", "undone is what was taken last");
  await page.reload();
  await page.locator("nav.places").waitFor();
  assert.equal(await scoresSince(page), 7);
  assert.deepEqual(visit.errors, []);
  await visit.close();
});

test("a page closed while it saves keeps what it had shown as saved, and a whole log", async (t) => {
  const visit = await open(altered);
  // A slow disk: each line takes a while.
  await beforeKeeper(visit.context, `const real = FileSystemSyncAccessHandle.prototype.flush;
    FileSystemSyncAccessHandle.prototype.flush = function () {
      const until = performance.now() + 15;
      while (performance.now() < until);
      return real.call(this);
    };`);
  let { page } = visit;
  await page.goto(site.address);
  await ready(page);
  await openPlot(page, unscored(2, 60));
  await beginWalk(page);
  const values = Array.from({ length: 90 }, (_, nth) => (nth * 5) % 7 % 2);
  let shown = 0;
  await tap(page, 4);
  await saved(page);
  const asked = new Promise((resolve) => { page.on("dialog", resolve); });
  await tapFast(page, values, (taps) => { shown = Math.max(shown, taps); });
  const waiting = Number(/Saving (\d+)/.exec(await page.locator(".walk-saved").innerText())?.[1] ?? 0);
  assert.ok(waiting > 10, `${waiting} scores were still being saved`);
  await page.close({ runBeforeUnload: true });
  const dialog = await asked;
  assert.equal(dialog.type(), "beforeunload", "the browser asks first");
  await dialog.accept();

  page = await visit.context.newPage();
  await reopened(page, site.address);
  const since = await scoresSince(page);
  const log = await plotLog(page);
  t.diagnostic(`${waiting} waited when it was closed; ${since} of ${values.length + 4} are there`);
  assert.ok(since >= 4 + values.length - waiting - 2, `${since} are there`);
  assert.equal(records(log).torn, 0);
  assert.equal(lines(log).length, since);
  assert.deepEqual(lines(log).slice(4).map((cells) => Number(cells[3])), values.slice(0, since - 4));
  await link(page, "Walk");
  await visit.close();
});
