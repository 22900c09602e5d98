// Keeping: what was shown as saved is there after a crash, in a second tab and after a change of
// plot; what could not be kept is said.
import assert from "node:assert/strict";
import { mkdtemp } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { after, before, test } from "node:test";
import { killer, open, ready, serve } from "../help/browser.js";
import { beginWalk, link, openLittle, scoresSince, tap } from "../help/keeping.js";

let site;
before(async () => { site = await serve(); });
after(() => site?.close());

test("a browser that is killed loses nothing that was shown as saved", async () => {
  const profile = await mkdtemp(join(tmpdir(), "leeward-kill-"));
  let visit = await open({ profile, keep: true });
  await visit.page.goto(site.address);
  await ready(visit.page);
  await openLittle(visit.page);
  await beginWalk(visit.page);
  await tap(visit.page, 7);
  await visit.page.getByText("All saved").waitFor();
  await killer(visit)();

  visit = await open({ profile });
  await visit.page.goto(site.address);
  await visit.page.locator("nav.places").waitFor();
  assert.equal(await scoresSince(visit.page), 7);
  await visit.page.getByText("Everything is saved in this browser").waitFor();
  await visit.close();
});

test("a second tab reads, says so, and takes over without losing a score", async () => {
  const visit = await open();
  const first = visit.page;
  await first.goto(site.address);
  await ready(first);
  await openLittle(first);
  await beginWalk(first);
  await tap(first, 3);
  await first.getByText("All saved").waitFor();

  const second = await visit.context.newPage();
  await second.goto(site.address);
  await second.getByText("Open in another tab").waitFor();
  assert.equal(await scoresSince(second), 3);
  await second.getByRole("button", { name: "Score in this tab" }).click();
  await second.getByText("Open in another tab").waitFor({ state: "detached" });
  await first.getByText("Open in another tab").waitFor();
  await beginWalk(second);
  await second.locator(".walk-key").first().click();
  await second.getByText("All saved").waitFor();

  await second.close();
  await first.getByText("Open in another tab").waitFor({ state: "detached" });
  assert.equal(await scoresSince(first), 4);
  assert.deepEqual(visit.errors, []);
  await visit.close();
});

test("another plot takes nothing away: the earlier one stays on the shelf", async () => {
  const visit = await open();
  const { page } = visit;
  await page.goto(site.address);
  await ready(page);
  await openLittle(page);
  await beginWalk(page);
  await page.locator(".walk-key").first().click();
  await page.getByText("All saved").waitFor();
  await openLittle(page, "Long Reed");
  await link(page, "Folder");
  await page.locator(".folder-name", { hasText: "Long Reed" }).waitFor();
  const shelf = page.locator(".shelf li", { hasText: "Withy Corner" });
  assert.match(await shelf.innerText(), /1 scores that no copy outside holds/);
  await shelf.getByRole("button", { name: "Open" }).click();
  await link(page, "Folder");
  await page.locator(".folder-name", { hasText: "Withy Corner" }).waitFor();
  await page.getByText("1 score since").waitFor();

  const other = page.locator(".shelf li", { hasText: "Long Reed" });
  await other.getByRole("button", { name: "Forget" }).click();
  await other.getByRole("button", { name: "Leave it" }).click();
  await other.getByRole("button", { name: "Forget" }).click();
  await other.getByRole("button", { name: "Forget it for good" }).click();
  await other.waitFor({ state: "detached" });
  await page.getByRole("button", { name: "Close this plot" }).click();
  await page.locator(".shelf li", { hasText: "Withy Corner" }).waitFor();
  await page.reload();
  await page.locator(".shelf li", { hasText: "Withy Corner" }).waitFor();
  assert.deepEqual(visit.errors, []);
  await visit.close();
});

test("a torn end of the log is cut off and told; what is whole stays", async () => {
  // Without a service worker, so that an address of no page stays one.
  const visit = await open({ context: { serviceWorkers: "block" } });
  const { page } = visit;
  await page.goto(site.address);
  await ready(page);
  await openLittle(page);
  await beginWalk(page);
  await tap(page, 4);
  await page.getByText("All saved").waitFor();
  const other = await visit.context.newPage();
  await page.close();
  await other.goto(`${site.address}icon-nothing`);
  await other.evaluate(async () => {
    const folder = await (await navigator.storage.getDirectory()).getDirectoryHandle("leeward");
    const tear = async (entry) => {
      const { size } = await entry.getFile();
      const stream = await entry.createWritable({ keepExistingData: true });
      await stream.truncate(size - 5);
      await stream.close();
    };
    for await (const entry of folder.values()) {
      if (entry.name === "shelf.log") continue;
      // The closed tab may still hold the log for a moment.
      for (let tries = 0; ; tries += 1) {
        try { await tear(entry); break; } catch (error) {
          if (tries === 50) throw error;
          await new Promise((resolve) => { setTimeout(resolve, 100); });
        }
      }
    }
  });
  await other.goto(site.address);
  await other.locator("nav.places").waitFor();
  assert.equal(await scoresSince(other), 3);
  await other.getByText(/bytes at the end of its log were not whole/).waitFor();
  await visit.close();
});
