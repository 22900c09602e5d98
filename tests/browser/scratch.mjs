import { visitSite, phone } from "./help/browser.js";
import { picture } from "./help/guide.js";
const visit = await visitSite({ context: { viewport: { width: 1000, height: 600 }, deviceScaleFactor: 1.5, colorScheme: "light" } });
const { page } = visit;
await page.getByText("Open the demo plot").click(); await page.locator("nav.places").waitFor();
await page.evaluate(() => { location.hash = "#/proof/scab"; });
await page.locator(".verdict-counts").waitFor({ timeout: 120_000 });
await page.evaluate(() => { location.hash = "#/map"; });
await page.getByLabel("Layer").selectOption({ label: "Scab: verdict" });
await page.waitForTimeout(800);
await page.screenshot({ path: "/tmp/look/m.png" , scale: "css"});
for (const [w,h] of [[856,600],[856,520]]) { try { await picture(page, `m${w}-${h}.webp`, { x: 144, width: w, height: h }); } catch (e) { console.log(e.message); } }
await visit.close();
