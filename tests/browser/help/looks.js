// Looks at a page as it is seen by everyone: on a phone and a laptop, by day and in the evening.
import assert from "node:assert/strict";
import { mkdir, readFile } from "node:fs/promises";
import { join } from "node:path";
import { artefacts, laptop, phone, top } from "./browser.js";

const AXE = join(top, "tests/browser/node_modules/axe-core/axe.min.js");
const TAGS = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa"];

/** What axe finds against WCAG 2.2 A and AA, in words; empty when there is nothing. */
export const violations = (page) => found(page, { type: "tag", values: TAGS });

/** The same, and what axe holds for good practice. */
export const allViolations = (page) => found(page, { type: "tag", values: [...TAGS, "best-practice"] });

/** Words that stand off their ground too little: all that a theme changes. */
export const faint = (page) => found(page, { type: "rule", values: ["color-contrast"] });

async function found(page, runOnly) {
  // Evaluated by the driver, so that the page's own policy stays as it is.
  if (!await page.evaluate(() => "axe" in globalThis)) await page.evaluate(await readFile(AXE, "utf8"));
  const found = await page.evaluate(async (runOnly) => (await globalThis.axe.run({ runOnly })).violations, runOnly);
  return found.flatMap(({ id, nodes }) =>
    nodes.map(({ target, failureSummary }) => `${id}: ${target.join(" ")}: ${failureSummary}`));
}

/** Keeps a picture of a part from its head to its foot, on a phone and a laptop. */
export async function pictured(page, part, name) {
  for (const [on, size] of Object.entries({ phone, laptop })) {
    await page.setViewportSize(size);
    await page.locator(part).screenshot({ path: join(artefacts, `${name}-${on}.png`) });
  }
}

/** Puts a theme on the page, and on what asks the system. */
export async function wear(page, theme) {
  await page.evaluate((it) => document.documentElement.setAttribute("data-theme", it), theme);
  await page.emulateMedia({ colorScheme: theme });
  await page.evaluate(() => new Promise((done) => setTimeout(done, 60)));
}

/** Keeps a picture of each look, and asserts that axe finds nothing in any; ends as it began. */
export async function looks(page, name) {
  await mkdir(artefacts, { recursive: true });
  for (const [on, size] of Object.entries({ laptop, phone })) {
    await page.setViewportSize(size);
    for (const theme of ["dark", "light"]) {
      await wear(page, theme);
      await page.screenshot({ path: join(artefacts, `${name}-${on}-${theme}.png`) });
      // At the end of the page nothing lies half under the bar of places.
      const at = await page.evaluate(() => {
        const top = window.scrollY;
        window.scrollTo(0, document.documentElement.scrollHeight);
        return top;
      });
      assert.deepEqual(await violations(page), [], `${name} on a ${on}, ${theme}`);
      await page.evaluate((top) => window.scrollTo(0, top), at);
    }
  }
}
