// Debian's Firefox, driven over WebDriver BiDi by a version of the driver that speaks its dialect.
import { existsSync, readdirSync } from "node:fs";
import { mkdtemp, rm } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { firefox } from "playwright-for-firefox";
import { phone, watch } from "./browser.js";

/** A visit with Firefox; `downloaded` waits for the next file that it saves. */
export async function openFirefox({ viewport = phone } = {}) {
  const downloads = await mkdtemp(join(tmpdir(), "leeward-saved-"));
  const browser = await firefox.launch({
    executablePath: process.env.FIREFOX ?? ["/usr/bin/firefox-esr", "/usr/bin/firefox"].find(existsSync),
    channel: "moz-firefox",
    headless: true,
    downloadsPath: downloads,
  });
  const context = await browser.newContext({ viewport });
  const page = await context.newPage();
  return {
    context, page, errors: watch(page),
    // The browser saves and says so, but not in words that the driver knows.
    downloaded: async (ending) => {
      for (let tries = 0; tries < 100; tries += 1) {
        const file = readdirSync(downloads).find((name) => name.endsWith(ending));
        if (file) return join(downloads, file);
        await page.waitForTimeout(100);
      }
      throw new Error(`nothing was saved that ends in ${ending}`);
    },
    close: async () => {
      await browser.close();
      await rm(downloads, { recursive: true, force: true });
    },
  };
}
