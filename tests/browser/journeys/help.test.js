// Help inside the page: the guide and the pages beside it, from each place and back, offline, in both
// themes, on a phone and a laptop; no link of them leads nowhere.
import assert from "node:assert/strict";
import { after, before, test } from "node:test";
import { open, ready, serve } from "../help/browser.js";
import { link } from "../help/keeping.js";
import { looks } from "../help/looks.js";

let site, visit, page;

before(async () => {
  site = await serve();
  visit = await open();
  page = visit.page;
  await page.goto(site.address);
  await ready(page);
  await page.evaluate(() => navigator.serviceWorker.ready);
  await page.waitForFunction(() => navigator.serviceWorker.controller !== null);
});

after(async () => {
  await visit?.close();
  site?.close();
});

const guide = () => page.getByRole("link", { name: "Guide", exact: true });

/** Waits until the section that the address names is to be seen without a scroll. */
const inView = () => page.waitForFunction(() => {
  const section = document.querySelector("main.guide") && document.getElementById(location.hash.slice(1));
  const top = section?.getBoundingClientRect().top;
  return top >= 0 && top < 200;
});

test("offline, the first page leads to the guide, with its pictures, and the guide back", async () => {
  await visit.context.setOffline(true);
  await guide().click();
  await page.waitForURL("**/guide.html");
  const loaded = await page.evaluate(() => Promise.all([...document.images].map(async (it) => {
    it.loading = "eager";
    await it.decode();
    return it.naturalWidth > 0;
  })));
  assert.ok(loaded.length >= 10 && loaded.every(Boolean), `${loaded}`);
  await page.goBack();
  await ready(page);
  await page.getByText("Open the demo plot").click();
  await page.locator("nav.places").waitFor();
});

test("each place leads to what the guide says of it, and its bar back to the place", async () => {
  for (const [place, section] of [
    ["Map", "the-map"], ["Find", "finding-a-tree"], ["Walk", "your-first-walk"],
    ["Proof", "your-first-judgement"], ["Folder", "two-phones-and-your-laptop"],
  ]) {
    await link(page, place);
    await guide().click();
    await page.waitForURL(`**/guide.html#${section}`);
    await inView();
    await link(page, place);
    await page.locator(`nav.places a[aria-current="page"]:text-is("${place}")`).waitFor();
    assert.equal(new URL(page.url()).hash, `#/${place.toLowerCase()}`);
  }
  for (const [address, leads] of [
    ["#/print", "guide.html#on-paper-and-for-others"], ["#/vigour", "vigour.html#on-the-screen"],
  ]) {
    await page.evaluate((it) => { location.hash = it; }, address);
    await page.locator(`nav.places a[href="${leads}"]`).click();
    await inView();
    await page.goBack();
    await page.locator("nav.places a[aria-current]").first().waitFor();
    assert.equal(new URL(page.url()).hash, address);
  }
});

test("no link of the pages leads nowhere", async () => {
  await page.goto(`${site.address}guide.html`);
  const [pages, links] = [new Set(["guide.html"]), new Set()];
  for (const name of pages) {
    await page.goto(`${site.address}${name}`);
    assert.equal(await page.locator("h1").count(), 1, name);
    for (const href of await page.locator("a").evaluateAll((all) => all.map((it) => it.href))) {
      const { origin, pathname, hash } = new URL(href);
      assert.equal(`${origin}/`, site.address, `${name}: ${href}`);
      if (pathname === "/") continue;
      pages.add(pathname.slice(1));
      links.add(`${pathname.slice(1)}${hash}`);
    }
  }
  assert.ok(pages.size >= 14 && links.size > 60, `${pages.size} pages, ${links.size} links`);
  for (const target of [...links].filter((it) => it.includes("#")).sort()) {
    const [name, anchor] = target.split("#");
    if (!page.url().endsWith(`/${name}`)) await page.goto(`${site.address}${name}`);
    const is = await page.evaluate((id) => document.getElementById(id) !== null, decodeURIComponent(anchor));
    assert.ok(is, target);
  }
});

test("the pages are sound to everyone's eyes, and no wider than a small phone", async () => {
  await visit.context.setOffline(false);
  for (const name of ["guide", "validation"]) {
    await page.goto(`${site.address}${name}.html`);
    await looks(page, `help-${name}`);
  }
  await page.setViewportSize({ width: 360, height: 640 });
  for (const name of ["guide", "validation", "plot-folder", "method", "season"]) {
    await page.goto(`${site.address}${name}.html`);
    const wide = await page.evaluate(() => document.documentElement.scrollWidth - window.innerWidth);
    assert.ok(wide <= 0, `${name} is ${wide} px too wide`);
  }
  assert.deepEqual(visit.errors, []);
});
