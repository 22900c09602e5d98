// The addresses within the page: a printed tag's square code can carry one, so they stay.
import assert from "node:assert/strict";
import { after, before, test } from "node:test";
import { visitDemo } from "../help/demo.js";

let visit, page;

before(async () => {
  visit = await visitDemo("#/walk");
  page = visit.page;
});

after(() => visit?.close());

/** Goes to an address, and waits for its place; the address stays as it was given. */
const check = async (address, place) => {
  await page.evaluate((it) => { location.hash = it; }, address);
  await page.locator(`nav.places a[aria-current="page"]:text-is("${place}")`).waitFor();
  assert.equal(await page.evaluate(() => location.hash), address);
};

test("each address brings its place", async () => {
  await check("#/find", "Find");
  await check("#/walk", "Walk");
  await check("#/proof", "Proof");
  await check("#/folder", "Folder");
  await check("#/map", "Map");
  await check("#/", "Map");
});

test("what is asked stands in the address, whatever its letters", async () => {
  const asked = () => page.locator("#find-query").inputValue();
  await check("#/find?q=MB-33%20%26%20more", "Find");
  assert.equal(await asked(), "MB-33 & more");
  await check("#/walk", "Walk");
  await check("#/find?q=a+b", "Find");
  assert.equal(await asked(), "a b");
  await page.locator("#find-query").fill("1/2 × ü?");
  await page.waitForFunction(() => location.hash === "#/find?q=1%2F2%20%C3%97%20%C3%BC%3F");
});

test("a disease and a tree are named by the address", async () => {
  await check("#/proof/canker", "Proof");
  await page.getByRole("heading", { name: "Proof: canker" }).waitFor();
  await check("#/proof/fire_blight", "Proof");
  await page.getByRole("heading", { name: "Proof: fire blight" }).waitFor();
  await check("#/tree/T0003", "Map");
  await page.getByRole("heading", { name: "MB-3", exact: true }).waitFor();
});

test("an address that nobody wrote is the first page: the map of an open plot", async () => {
  for (const address of ["#/nowhere", "#/tree", "#tree/%", "#/tree/%E0%A4%A"]) {
    await check("#/walk", "Walk");
    await check(address, "Map");
  }
});
