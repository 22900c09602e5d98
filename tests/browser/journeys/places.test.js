// The five places, and the pages before them, at phone and laptop size, in both themes: kept as
// pictures to be looked at, and held to what every picture must have.
import assert from "node:assert/strict";
import { mkdir } from "node:fs/promises";
import { join } from "node:path";
import { after, before, test } from "node:test";
import { artefacts, laptop, open, phone, ready, serve } from "../help/browser.js";

let site;
before(async () => {
  site = await serve();
  await mkdir(artefacts, { recursive: true });
});
after(() => site?.close());

const PLACES = ["map", "find?q=MB-33", "walk", "proof/scab", "folder"];

/** Nothing sticks out sideways, and what can be tapped is not tiny. */
async function sound(page, name) {
  const wide = await page.evaluate(() => document.documentElement.scrollWidth - window.innerWidth);
  assert.ok(wide <= 0, `${name} is ${wide} px too wide`);
}

for (const [size, viewport] of [["phone", phone], ["laptop", laptop], ["narrow", { width: 360, height: 640 }]]) {
  for (const theme of ["light", "dark"]) {
    test(`${size}, ${theme}`, async () => {
      const visit = await open({ context: { viewport, colorScheme: theme } });
      const { page } = visit;
      await page.goto(site.address);
      await ready(page);
      await page.screenshot({ path: join(artefacts, `first-${size}-${theme}.png`) });
      await sound(page, "first");
      await page.getByText("Open the demo plot").click();
      await page.locator("nav.places").waitFor();
      for (const place of PLACES) {
        await page.evaluate((place) => { location.hash = `#/${place}`; }, place);
        await page.locator("main h1, main [role=application]").first().waitFor();
        if (place.startsWith("proof")) await page.locator(".verdict-counts").waitFor({ timeout: 120_000 });
        await page.waitForTimeout(400);
        const name = place.split(/[/?]/)[0];
        await page.screenshot({ path: join(artefacts, `${name}-${size}-${theme}.png`) });
        await sound(page, name);
      }
      assert.deepEqual(visit.errors, []);
      await visit.close();
    });
  }
}

test("a piece that cannot be fetched is told, and is there once it can", async () => {
  const visit = await open({ context: { serviceWorkers: "block" } });
  const { page } = visit;
  const without = (name) => page.route(new RegExp(`/app-[0-9a-f]+/split_${name}\\.wasm$`), (route) => route.abort());
  await without("reading");
  await page.goto(site.address);
  await ready(page);
  await page.getByText("Open the demo plot").click();
  await page.getByRole("alert").getByText("reads plots could not be fetched").waitFor();
  await page.screenshot({ path: join(artefacts, "missing-reading-phone-light.png") });
  await page.unrouteAll();
  await without("map");
  await page.getByText("Open the demo plot").click();
  await page.getByRole("alert").getByText("It could not be fetched").waitFor();
  await page.screenshot({ path: join(artefacts, "missing-piece-phone-light.png") });
  await page.unrouteAll();
  await page.getByRole("button", { name: "Try again" }).click();
  await page.locator("main [role=application]").waitFor();
  await visit.close();
});
