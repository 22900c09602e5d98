// However one reads: at 400 % zoom, with text twice as large, with wide spacing, with the system's own
// colours, without motion. Nothing is cut, nothing sticks out, nothing is told by colour alone.
import assert from "node:assert/strict";
import { mkdir } from "node:fs/promises";
import { join } from "node:path";
import { after, before, test } from "node:test";
import { contrast, cut, stop } from "../help/access.js";
import { artefacts, open, ready, serve } from "../help/browser.js";
import { counted } from "../help/counted.js";
import { violations } from "../help/looks.js";

let site;
before(async () => {
  site = await serve();
  await mkdir(artefacts, { recursive: true });
});
after(() => site?.close());

const figures = {};
after(() => counted("access", "reading", figures));

/** States on which each way of reading is tried, and how one comes to them. */
const STATES = {
  first: null,
  map: async (page) => page.locator(".stage-scale").waitFor(),
  card: async (page) => {
    await go(page, "#/tree/T0557");
    await page.locator(".card .verdict-waits").first().waitFor({ state: "detached", timeout: 120_000 });
    await page.locator(".around").evaluate((it) => { it.open = true; });
  },
  table: async (page) => {
    await go(page, "#/map");
    await page.getByRole("button", { name: "Put the card away" }).click().catch(() => {});
    await page.getByRole("button", { name: "Table" }).click();
    await page.locator(".twin-line").nth(2).waitFor();
  },
  find: async (page) => {
    await go(page, "#/find?q=MB-33");
    await page.locator(".answer").waitFor();
  },
  "find-without": async (page) => {
    await page.locator("#find-query").fill("");
    await page.locator("#row-check-head").waitFor();
  },
  "walk-setup": async (page) => {
    await go(page, "#/walk");
    await page.locator(".walk-start").waitFor();
  },
  walk: async (page) => {
    await page.locator(".walk-start").click();
    await page.locator(".walk-key").nth(2).click();
  },
  "walk-reasons": async (page) => page.getByRole("button", { name: "Can’t score" }).click(),
  proof: async (page) => {
    await go(page, "#/proof/scab");
    await page.locator(".verdict-counts").waitFor({ timeout: 120_000 });
  },
  "proof-tree": async (page) => {
    await page.locator("#rank-0").scrollIntoViewIfNeeded();
    await page.locator("#rank-0").click();
    await page.locator(".proof-detail").waitFor();
  },
  folder: async (page) => {
    await go(page, "#/folder");
    await page.locator(".folder .facts").waitFor();
  },
  print: async (page) => {
    await go(page, "#/print");
    await page.locator(".paper-page img").first().waitFor({ timeout: 60_000 });
  },
};

const go = (page, address) => page.evaluate((it) => { location.hash = it; }, address);

/** Goes through all states in one visit and hands each to `check`, with a picture of it. */
async function read(name, context, check, ready_page = async () => {}) {
  const visit = await open({ context });
  const { page } = visit;
  try {
    await page.goto(site.address);
    await ready(page);
    await ready_page(page);
    for (const [state, come] of Object.entries(STATES)) {
      if (come) await come(page);
      else await check(page, state);
      if (state === "first") {
        await page.screenshot({ path: join(artefacts, `read-${name}-first.png`) });
        await page.getByText("Open the demo plot").click();
        continue;
      }
      await page.waitForTimeout(150);
      await page.screenshot({ path: join(artefacts, `read-${name}-${state}.png`) });
      await check(page, state);
      if (state === "table") await page.getByRole("button", { name: "Table" }).click();
    }
    figures[name] = Object.keys(STATES).length;
    assert.deepEqual(visit.errors, []);
  } finally {
    await visit.close();
  }
}

const faults = [];
const whole = (name) => async (page, state) => {
  const found = await cut(page);
  if (process.env.ALL) { if (found.length) console.log(name, state, found); return; }
  assert.deepEqual(found, [], `${name}, ${state}`);
};

test("at 400 % zoom a page is one column, also where 256 pixels are left", async () => {
  await read("320", { viewport: { width: 320, height: 256 } }, whole("320"));
});

test("at 200 % zoom on a laptop", async () => {
  await read("zoom", { viewport: { width: 720, height: 450 }, deviceScaleFactor: 2 }, whole("zoom"));
});

test("with text twice as large", async () => {
  const large = (page) => page.evaluate(() => { document.documentElement.style.fontSize = "200%"; });
  await read("text", { viewport: { width: 1440, height: 900 } }, whole("text"), large);
});

test("with lines, letters, words and paragraphs set wider", async () => {
  const wide = (page) => page.evaluate(() => {
    const sheet = new CSSStyleSheet();
    sheet.replaceSync("* { line-height: 1.5 !important; letter-spacing: 0.12em !important; word-spacing: 0.16em !important; } p { margin-bottom: 2em !important; }");
    document.adoptedStyleSheets = [sheet];
  });
  await read("spacing", { viewport: { width: 390, height: 844 } }, whole("spacing"), wide);
});

for (const colorScheme of ["light", "dark"]) {
  test(`in the system's own colours, ${colorScheme}`, async () => {
    await read(`forced-${colorScheme}`, { viewport: { width: 390, height: 844 }, forcedColors: "active", colorScheme }, async (page, state) => {
      // What is chosen differs from what is not by more than its colour.
      const alike = await page.evaluate(() => {
        const look = (it) => {
          const style = getComputedStyle(it);
          return [style.borderTopWidth, style.borderLeftWidth, style.borderTopStyle, style.outlineStyle, style.fontWeight, style.backgroundColor].join();
        };
        const pairs = [["aria-pressed", "true"], ["aria-selected", "true"], ["aria-current", null]];
        return pairs.flatMap(([name, value]) => [...document.querySelectorAll(`[${name}]`)]
          .filter((it) => it.checkVisibility() && (value ? it.getAttribute(name) === value : true))
          .filter((it) => [...it.parentElement.parentElement.querySelectorAll(it.tagName)].some((other) =>
            other !== it && other.className === it.className && (value ? other.getAttribute(name) !== value : !other.hasAttribute(name)) && look(other) === look(it)))
          .map((it) => `.${it.className} “${it.textContent.slice(0, 40)}”`));
      });
      assert.deepEqual(alike, [], `${state}: chosen by colour alone`);
      // The keyboard is seen.
      await page.evaluate(() => document.querySelector("main").focus());
      await page.keyboard.press("Tab");
      const at = await stop(page);
      assert.ok(at.ring && contrast(at.ring.colour, at.ring.ground) >= 3, `${state}: ${JSON.stringify(at)}`);
      // Words and the lines of pictures stand off the system's ground.
      const faint = await page.evaluate(() => {
        const ground = getComputedStyle(document.body).backgroundColor;
        return { ground, lines: [...document.querySelectorAll(".legend .mark [stroke]")].map((it) => getComputedStyle(it).stroke).filter((it) => it !== "none") };
      });
      for (const line of faint.lines) assert.ok(contrast(line, faint.ground) >= 3, `${state}: ${line} on ${faint.ground}`);
    });
  });
}

test("without motion nothing moves by itself, and the map goes in one step", async () => {
  await read("still", { viewport: { width: 1440, height: 900 }, reducedMotion: "reduce" }, async (page, state) => {
    const moving = await page.evaluate(() => document.getAnimations().map((one) => one.animationName ?? one.transitionProperty));
    assert.deepEqual(moving, [], state);
    if (state !== "map") return;
    await page.locator(".stage").focus();
    const frames = await page.evaluate(() => new Promise((done) => {
      const seen = new Set();
      const scale = () => document.querySelector(".stage-scale path").getAttribute("d") + document.querySelector(".stage-scale text").textContent;
      const before = scale();
      document.querySelector(".stage").dispatchEvent(new KeyboardEvent("keydown", { key: "+", bubbles: true }));
      const began = performance.now();
      const look = () => {
        if (scale() !== before) seen.add(scale());
        if (performance.now() - began < 400) requestAnimationFrame(look);
        else done(seen.size);
      };
      requestAnimationFrame(look);
    }));
    assert.equal(frames, 1, "one step");
  });
});
