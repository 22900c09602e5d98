// Starts the server on what was built, and a fresh Chromium for each journey.
import { execFileSync, spawn } from "node:child_process";
import { existsSync } from "node:fs";
import { mkdtemp, rm } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { chromium } from "playwright-core";

export const top = new URL("../../../", import.meta.url).pathname;
export const target = process.env.CARGO_TARGET_DIR ?? join(top, "target");
export const artefacts = join(top, "tests/artefacts");

export const phone = { width: 390, height: 844 };
export const laptop = { width: 1440, height: 900 };

const FLAGS = [
  "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run",
  "--disable-background-networking", "--disable-component-update", "--disable-sync",
];

/** Serves what was built; gives the address and a way to end it. */
export async function serve() {
  const program = join(target, "debug/xtask");
  const child = spawn(program, ["serve", "--no-build", "--port", "0"], { cwd: top });
  const address = await new Promise((resolve, reject) => {
    child.stdout.on("data", (data) => {
      const found = /http:\/\/localhost:\d+\//.exec(data);
      if (found) resolve(found[0]);
    });
    child.on("exit", (code) => reject(new Error(`the server ended with ${code}`)));
  });
  return { address, close: () => child.kill() };
}

/** A browser with a profile of its own, kept when it is killed, removed at the end. */
export async function open(options = {}) {
  const profile = options.profile ?? (await mkdtemp(join(tmpdir(), "leeward-")));
  const context = await chromium.launchPersistentContext(profile, {
    executablePath: ["/usr/bin/chromium", "/usr/bin/chromium-browser"].find(existsSync),
    headless: true,
    args: FLAGS,
    viewport: phone,
    acceptDownloads: true,
    locale: "en-GB",
    ...options.context,
  });
  const page = await context.newPage();
  const errors = watch(page);
  return {
    context, page, errors, profile,
    close: async () => {
      await context.close();
      if (!options.keep) await rm(profile, { recursive: true, force: true });
    },
  };
}

/** Readies a visit for its end without warning: call what this gives, and no process is left. */
export function killer({ context, profile }) {
  const found = execFileSync("pgrep", ["-f", profile], { encoding: "utf8" });
  const pids = found.trim().split("\n").map(Number);
  return async () => {
    for (const pid of pids) {
      try { process.kill(pid, "SIGKILL"); } catch { /* it went with another */ }
    }
    await context.close().catch(() => {});
    await Promise.all(["SingletonLock", "SingletonCookie", "SingletonSocket"].map(
      (name) => rm(join(profile, name), { force: true })));
  };
}

/**
 * What the page complains of: its console's errors, exceptions, and requests that leave, those of
 * its workers and of the service worker too.
 */
export function watch(page) {
  const errors = [];
  page.on("console", (message) => {
    if (message.type() === "error") errors.push(message.text());
  });
  page.on("pageerror", (error) => errors.push(String(error)));
  page.context().on("request", (request) => {
    const { hostname, protocol } = new URL(request.url());
    if (/^(http|ws)/.test(protocol) && hostname !== "localhost") errors.push(`left: ${request.url()}`);
  });
  return errors;
}

/** Serves and opens the page in a browser of its own; `close` ends both. */
export async function visitSite(options = {}) {
  const site = await serve();
  const visit = await open(options);
  await visit.page.goto(site.address);
  await ready(visit.page);
  return {
    ...visit,
    site,
    close: async () => {
      await visit.close();
      site.close();
    },
  };
}

/** Waits until the page shows the first page or a plot. */
export async function ready(page) {
  await page.locator(".ways, nav.places").first().waitFor();
}
