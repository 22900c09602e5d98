// What lies folded on a page, for those who look at all of it.

/** Unfolds everything in a part of the page. */
export async function unfolded(page, part) {
  for (const summary of await page.locator(`${part} summary`).all()) {
    await summary.evaluate((it) => { it.parentElement.open = true; });
  }
}
