// The map of 100,000 trees under a finger. That what is dragged stays true is asserted; times are
// printed, since machines differ (`tests/bench/map.mjs` holds them against what is wanted).
import assert from "node:assert/strict";
import { mkdirSync } from "node:fs";
import { writeFile } from "node:fs/promises";
import { join } from "node:path";
import { after, before, test } from "node:test";
import { artefacts, laptop, open, ready, serve } from "../help/browser.js";
import { field } from "../help/field.js";
import { drag, instruments, painted, pointAt, share, zoom } from "../help/frames.js";
import { handed } from "../help/plots.js";

const ROWS = 400;
const PLACES = 250;
let site, visit, page, middle;

before(async () => {
  site = await serve();
  visit = await open({ context: { viewport: laptop, reducedMotion: "reduce" } });
  page = visit.page;
  await instruments(page);
  await page.goto(site.address);
  await ready(page);
  await page.getByText("Open a plot folder").click();
  await page.evaluate(() => { window.handedAt = performance.now(); });
  await page.locator("input.files-input").last().setInputFiles(handed(field({ rows: ROWS, places: PLACES, name: "Far Reed" })));
  await painted(page, "handedAt");
  const stage = await page.locator(".stage").boundingBox();
  middle = { x: Math.round(stage.width / 2), y: Math.round(stage.height / 2) };
});
after(async () => {
  await visit?.close();
  site?.close();
});

test("a dragged map shows the same trees, moved", async () => {
  for (let steps = 0; steps < 3; steps += 1) await page.evaluate(zoom, middle);
  await page.waitForTimeout(400);
  const found = await page.evaluate(async ({ x, y }) => {
    const stage = document.querySelector(".stage");
    const canvas = document.querySelector(".stage-marks");
    const { left, top } = stage.getBoundingClientRect();
    const rest = () => new Promise((done) => setTimeout(done, 400));
    const picture = () => canvas.getContext("2d").getImageData(0, 0, canvas.width, canvas.height);
    const send = (type, dx, dy) => stage.dispatchEvent(new PointerEvent(type, {
      pointerId: 1, pointerType: "touch", bubbles: true, clientX: left + x + dx, clientY: top + y + dy,
    }));
    stage.setPointerCapture = () => {};
    await rest();
    const before = picture();
    send("pointerdown", 0, 0);
    const [right, down] = [60, 42];
    for (const part of [0.5, 0.7, 1]) {
      send("pointermove", right * part, down * part);
      await new Promise((done) => afterFrame(done));
    }
    const moving = picture();
    send("pointerup", right, down);
    await rest();
    const [at, marks] = [(picture, x, y) => 4 * (y * picture.width + x), new Set()];
    const same = (now) => {
      let [like, all] = [0, 0];
      for (let y = down; y < now.height; y += 1) {
        for (let x = right; x < now.width; x += 1) {
          const [a, b] = [at(before, x - right, y - down), at(now, x, y)];
          all += 1;
          like += Math.abs(before.data[a] - now.data[b]) < 60 ? 1 : 0;
          marks.add(now.data[b]);
        }
      }
      return like / all;
    };
    return { moving: same(moving), rested: same(picture()), colours: marks.size };
  }, middle);
  assert.ok(found.colours > 8, "there are marks to look at");
  assert.ok(found.moving > 0.995 && found.rested > 0.995, JSON.stringify(found));
});

test("frames of a drag over 100,000 trees are counted", async (t) => {
  await page.getByRole("button", { name: "All" }).click();
  await page.waitForTimeout(400);
  const colours = () => page.locator(".stage-marks").evaluate((canvas) => {
    const { data } = canvas.getContext("2d").getImageData(0, 0, canvas.width, canvas.height);
    let sum = 0;
    for (let at = 0; at < data.length; at += 4) sum = (sum * 31 + data[at] + data[at + 1] * 7) % 2147483647;
    return sum;
  });
  const whole = await colours();
  const said = [];
  const say = (what, times) => said.push(
    `${what}: median ${share(times, 0.5).toFixed(1)} ms, p95 ${share(times, 0.95).toFixed(1)} ms, worst ${Math.max(...times).toFixed(1)} ms`);
  const pan = await page.evaluate(drag, middle);
  const dragged = await colours();
  assert.notEqual(dragged, whole, "the drag moved the map");
  say("pan, work a frame", pan.work);
  say("pan, frame to frame", pan.apart);
  const zoomed = await page.evaluate(zoom, middle);
  assert.notEqual(await colours(), dragged, "the wheel zoomed it");
  say("zoom, work a frame", zoomed.work);
  const hits = await page.evaluate(pointAt, middle);
  say("hit test", hits);
  // The first frames of the zoom draw nearly the whole plot anew.
  const drawn = share(zoomed.work.slice(0, 8), 0.5);
  said.push(`a panned frame to one that is drawn anew: ${(share(pan.work, 0.5) / drawn).toFixed(2)}`);
  // Seen whole, trees are everywhere.
  await page.getByRole("button", { name: "All" }).click();
  await page.waitForTimeout(400);
  const stage = await page.locator(".stage").boundingBox();
  let over = 0;
  for (let nth = 0; nth < 12; nth += 1) {
    await page.mouse.move(stage.x + middle.x + nth * 7, stage.y + middle.y + nth * 5);
    await page.waitForTimeout(30);
    over += await page.locator(".stage-over-tree").count();
  }
  assert.ok(over > 0, "the mouse meets trees");
  for (const one of said) t.diagnostic(one);
  mkdirSync(artefacts, { recursive: true });
  await writeFile(join(artefacts, "map-speed.txt"), `${said.join("\n")}\n`);
  assert.deepEqual(visit.errors, []);
});
