// The page in another language: chosen by the browser or by hand, kept, there without a network;
// numbers and days by the locale; and no text of the page that is not said through the list.
import assert from "node:assert/strict";
import { after, before, test } from "node:test";
import { open, ready, serve } from "../help/browser.js";
import { counted } from "../help/counted.js";
import { pictured, violations } from "../help/looks.js";
import { speakMarked, unmarked } from "../help/marked.js";

let site;
before(async () => { site = await serve(); });
after(() => site?.close());

const figures = { states: [], texts: 0 };
after(() => counted("languages", figures));

const go = (page, address) => page.evaluate((it) => { location.hash = it; }, address);
const spoken = (page) => page.evaluate(() => document.documentElement.lang);

/** A visit with a browser that is set to a place. */
async function visited(journey, context) {
  const visit = await open({ context });
  try {
    if (context.altering) await context.altering(visit.context);
    await visit.page.goto(site.address);
    await ready(visit.page);
    await journey(visit.page, visit);
    assert.deepEqual(visit.errors, []);
  } finally {
    await visit.close();
  }
}
