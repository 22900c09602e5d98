// What journeys of keeping share: a little plot opened, a walk begun, keys tapped, what is shown.
import { open, ready } from "./browser.js";
import { handed, little, unpacked } from "./plots.js";

export const link = (page, name) =>
  page.locator("nav.places").getByRole("link", { name, exact: true }).click();

/** Opens a plot in the page by its file input. */
export async function openPlot(page, files) {
  if (await page.locator(".ways").isVisible()) await page.getByText("Open a plot folder").click();
  else await link(page, "Folder");
  // In Folder the last one opens another plot; the one before brings in another phone.
  await page.locator("input.files-input").last().setInputFiles(handed(files));
  await page.waitForFunction(() => location.hash === "#/map");
  await page.locator("nav.places").waitFor();
}

/** Opens the little plot under a name. */
export async function openLittle(page, name = "Withy Corner") {
  const files = little();
  files["plot.json"] = files["plot.json"].replace("Withy Corner", name);
  await openPlot(page, files);
}

export async function beginWalk(page) {
  await link(page, "Walk");
  // A walk that was begun before is taken up where it was left.
  await page.locator(".walk-start, .walk-key").first().waitFor();
  const start = page.locator(".walk-start");
  if (await start.isVisible()) await start.click();
  await page.locator(".walk-key").first().waitFor();
}

/** Scores the next trees with the scale's first word. */
export async function tap(page, times) {
  for (let taps = 0; taps < times; taps += 1) await page.locator(".walk-key").first().click();
}

/** The plot folder of the copy that the page saves. */
export async function copied(page) {
  const [download] = await Promise.all([
    page.waitForEvent("download"),
    page.getByRole("button", { name: "Save as a zip" }).click(),
  ]);
  return unpacked(await download.path());
}

export const saved = (page) => page.getByText("All saved").waitFor();

/** A visit with the little plot and so many scores on it, saved. */
export async function scored(address, times, options = {}) {
  const visit = await open({ ...altered, ...options });
  await visit.page.goto(address);
  await ready(visit.page);
  await openLittle(visit.page);
  await beginWalk(visit.page);
  await tap(visit.page, times);
  await saved(visit.page);
  return visit;
}

/** The number of scores that no copy outside holds, as Folder shows it. */
export async function scoresSince(page) {
  await link(page, "Folder");
  const said = await page.getByText(/scores? since/).first().innerText();
  return Number(/(\d+) scores? since/.exec(said)?.[1] ?? 0);
}

/**
 * Taps one key for each value, as fast as the page takes them, and tells `shown` how many taps
 * were made whenever the page shows that all of them are saved.
 */
export async function tapFast(page, values, shown) {
  await page.exposeFunction("leewardShown", shown);
  await page.evaluate(async (wanted) => {
    let taps = 0;
    const tell = () => {
      const said = document.querySelector(".walk-saved")?.textContent;
      if (said === "All saved") void window.leewardShown(taps);
    };
    new MutationObserver(tell).observe(document.querySelector(".walk-saved"), {
      childList: true, characterData: true, subtree: true,
    });
    for (const value of wanted) {
      document.querySelectorAll(".walk-key")[value].click();
      taps += 1;
      // By then the page has drawn what the tap did.
      await new Promise((done) => { setTimeout(done); });
      tell();
    }
  }, values);
}

/** Has the keeper's worker run these lines before its own; the service worker must be blocked. */
export async function beforeKeeper(context, lines) {
  await context.route("**/keeper-*.js", async (route) => {
    const answer = await route.fetch();
    const script = await answer.text();
    await route.fulfill({ response: answer, body: `${lines}\n${script}` });
  });
}

/** A visit whose service worker is blocked, so that scripts can be altered on every load. */
export const altered = { context: { serviceWorkers: "block" } };

/** Opens the page and waits for the plot that was kept. */
export async function reopened(page, address) {
  await page.goto(address);
  await page.locator("nav.places").waitFor();
}
