// Find without typing: nearest to me with an honest error, the way there, and the code of a tag.
import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { join } from "node:path";
import { after, before, test } from "node:test";
import { phone, top } from "../help/browser.js";
import { visitDemo } from "../help/demo.js";
import { looks } from "../help/looks.js";

const { origin } = JSON.parse(readFileSync(join(top, "demo-plot/plot.json"), "utf8"));
let visit, page;

before(async () => {
  visit = await visitDemo("#/map", { permissions: ["geolocation"] });
  page = visit.page;
});

after(() => visit?.close());

/** Stands so many metres along the rows and across them from the plot's corner. */
const stand = (along, across, accuracy) => {
  const bearing = (origin.row_bearing_deg * Math.PI) / 180;
  // Rows count to the left of the way in which places rise.
  const north = along * Math.cos(bearing) + across * Math.sin(bearing);
  const east = along * Math.sin(bearing) - across * Math.cos(bearing);
  return visit.context.setGeolocation({
    latitude: origin.lat + north / 111_132,
    longitude: origin.lon + east / (111_320 * Math.cos((origin.lat * Math.PI) / 180)),
    accuracy,
  });
};
const go = async (address) => {
  await page.evaluate((it) => { location.hash = it; }, address);
};
const nearest = () => page.locator(".nearest");
const begin = async () => {
  await go("#/map");
  await page.locator(".stage").waitFor();
  await go("#/find");
  await nearest().getByText("Look where I stand").click();
};

test("a phone's error leaves many trees: none is chosen, the row and the tag settle it", async () => {
  await stand(8.25, 18, 6); // row 7, place 12
  await begin();
  await nearest().getByText(/^Give or take 6.0 m, any of \d+ trees may be the nearest\.$/).waitFor();
  assert.equal(await nearest().locator(".answer").count(), 0, "no tree is chosen");
  const rows = nearest().locator(".nearest-rows .button");
  assert.equal(await rows.first().innerText(), "Row 7", "the nearest row first");
  await looks(page, "find-nearest-rows");
  await rows.first().click();
  const trees = nearest().locator(".nearest-trees .button");
  const twelfth = trees.filter({ has: page.locator(".strip-place", { hasText: /^12$/ }) });
  await looks(page, "find-nearest-tags");
  await twelfth.first().click();
  assert.match(await page.locator(".answer-place").innerText(), /^Row 7, 12th from the road end, between /);
  assert.match(await page.locator(".answer-way").innerText(), /within 6.0 m/);
});

test("a receiver that is good enough names the tree, and half way between two it does not", async () => {
  await stand(8.25, 18, 0.2);
  await begin();
  await nearest().getByText("Give or take 0.2 m, no other tree is nearer to you:").waitFor();
  assert.match(await page.locator(".answer-place").innerText(), /^Row 7, 12th from the road end/);
  await stand(8.25 + 0.375, 18, 0.2);
  await nearest().getByText("Give or take 0.2 m, any of 2 trees may be the nearest.").waitFor();
  assert.equal(await nearest().locator(".answer").count(), 0);
});

test("from outside the plot the way is told", async () => {
  await stand(-200, 0, 8);
  await begin();
  await nearest().getByText(/^You are not in the plot: its nearest tree, \S+, stands 200 m to the \S+, give or take 8.0 m\.$/).waitFor();
});

test("the way to a tree turns with the compass", async () => {
  await stand(8.25, 18, 3);
  await go("#/map");
  await page.locator(".stage").waitFor();
  await go("#/find?q=row%202%20place%2012");
  await page.getByText("Way from where I stand").click();
  const way = page.locator(".answer-way");
  await way.getByText(/^From where you stand: 15 m to the \S+, give or take 3.0 m\.$/).waitFor();
  await way.getByText("Use the compass").click();
  // Row 2 lies to the right of the way in which places rise.
  const there = (origin.row_bearing_deg + 90) % 360;
  const point = (heading) => page.evaluate((alpha) => {
    window.dispatchEvent(new DeviceOrientationEvent("deviceorientationabsolute", { alpha, absolute: true }));
  }, (360 - heading + 360) % 360);
  await point(there);
  await way.getByText("straight ahead").waitFor();
  await point((there + 90) % 360);
  await way.getByText("to the left", { exact: true }).waitFor();
  await looks(page, "find-way");
});

test("a refused position is said, and what to do", async () => {
  const other = await visitDemo("#/find", { permissions: [] });
  await other.page.locator(".nearest").getByText("Look where I stand").click();
  await other.page.getByText(/^The position was refused\./).waitFor();
  await other.close();
});

test("a short code is typed from a tag, and one with a slip shows no tree", async () => {
  await go("#/find?q=MB-33");
  await page.locator("#answer-name", { hasText: "MB-33" }).waitFor();
  const code = await page.locator(".answer-code").innerText();
  await page.locator("#find-query").fill(code.toLowerCase());
  assert.equal(await page.locator("#answer-name").innerText(), "MB-33");
  const slip = code.slice(0, -1) + (code.endsWith("7") ? "8" : "7");
  await page.locator("#find-query").fill(slip);
  await page.getByText(/^That reads like a tree's short code with a slip/).waitFor();
  assert.equal(await page.locator(".answer").count(), 0);
});

test("a browser that reads no square codes says so and asks for the short code", async () => {
  await go("#/find");
  await page.getByText(/^This browser reads no square codes\./).waitFor();
});

test("the camera reads a tag's square code, and is off again", async () => {
  const seeing = await visitDemo("#/map", { permissions: ["camera"], viewport: phone });
  // Chromium on this system has neither camera nor reader of codes: both are stood in for; the
  // reader sees nothing at first, then what a tag of this plot carries.
  await seeing.page.evaluate(() => {
    window.looks = 0;
    window.BarcodeDetector = class {
      constructor({ formats }) { window.formats = formats; }
      async detect() {
        window.looks += 1;
        return window.looks < 3 ? [] : [{ rawValue: "http://elsewhere.test/#/tree/" + window.wanted }];
      }
    };
    const canvas = document.createElement("canvas");
    setInterval(() => canvas.getContext("2d").fillRect(0, 0, Math.random() * 9, 9), 50);
    const stream = canvas.captureStream(5);
    navigator.mediaDevices.getUserMedia = async () => stream;
    window.stream = stream;
  });
  await seeing.page.evaluate(() => { location.hash = "#/find?q=MB-33"; });
  const link = await seeing.page.locator(".answer .button-first").getAttribute("href");
  await seeing.page.evaluate((it) => { window.wanted = it; location.hash = "#/find"; }, link.replace("#/tree/", ""));
  await seeing.page.locator("#find-query").fill("");
  await seeing.page.getByText("Read a square code").click();
  await seeing.page.waitForFunction((it) => location.hash === it, link);
  assert.deepEqual(await seeing.page.evaluate(() => window.formats), ["qr_code"]);
  assert.ok(await seeing.page.evaluate(() => window.stream.getTracks().every((it) => it.readyState === "ended")));
  assert.deepEqual(seeing.errors, []);
  await seeing.close();
});

test("each way to find is a tap away, also by keyboard", async () => {
  await page.setViewportSize(phone);
  await go("#/find");
  await page.locator(".find-ways").getByText("Check a row").focus();
  await page.keyboard.press("Enter");
  const head = page.getByRole("heading", { name: "Check a row" });
  assert.ok(await head.evaluate((it) => it === document.activeElement));
  const box = await head.boundingBox();
  assert.ok(box.y >= 0 && box.y < phone.height - 100, `it is at ${box.y}`);
});

test("nothing went wrong on the way", async () => {
  assert.deepEqual(visit.errors, []);
});
