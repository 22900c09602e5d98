// A visit on which the demo plot is open.
import { visitSite } from "./browser.js";

/** Serves, opens a page (a phone's, unless told) on the demo plot, and goes to a place of it. */
export async function visitDemo(address, context = {}) {
  const visit = await visitSite({ context });
  const { page } = visit;
  await page.getByText("Open the demo plot").click();
  await page.locator("nav.places").waitFor();
  await page.evaluate((it) => { location.hash = it; }, address);
  await settled(page);
  return visit;
}

/** Waits until the place that the address names is there, its piece of wasm fetched. */
async function settled(page) {
  await page.evaluate(() => new Promise((done) => setTimeout(done)));
  await page.locator(".on-its-way").waitFor({ state: "detached" });
}
