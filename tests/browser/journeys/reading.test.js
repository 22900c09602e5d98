// However one reads: at 400 % zoom, with text twice as large, with wide spacing, with the system's own
// colours, without motion. Nothing is cut, nothing sticks out, nothing is told by colour alone.
import assert from "node:assert/strict";
import { mkdir } from "node:fs/promises";
import { join } from "node:path";
import { after, before, test } from "node:test";
import { contrast, cut, stop } from "../help/access.js";
import { artefacts, laptop, open, phone, ready, serve } from "../help/browser.js";
import { counted } from "../help/counted.js";

let site;
before(async () => {
  site = await serve();
  await mkdir(artefacts, { recursive: true });
});
after(() => site?.close());

const figures = {};
after(() => counted("reading", figures));

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

/** Where shapes, lists and a picture are, for ways that change less. */
const FEW = ["first", "map", "card", "walk-setup", "walk", "proof", "proof-tree"];

/**
 * Goes through states in one visit; at each it reads in each of these ways: dresses the page, keeps a
 * picture, checks it, and lets it be as it was.
 */
async function read(context, ways, states = Object.keys(STATES)) {
  const visit = await open({ context: { viewport: phone, ...context } });
  const { page } = visit;
  try {
    await page.goto(site.address);
    await ready(page);
    for (const state of states) {
      await STATES[state]?.(page);
      for (const [name, { dress = async () => {}, undress = async () => {}, check }] of Object.entries(ways)) {
        await dress(page);
        await page.waitForTimeout(150);
        await page.screenshot({ path: join(artefacts, `read-${name}-${state}.png`), scale: "css" });
        await check(page, `${name}, ${state}`);
        await undress(page);
        figures[name] = (figures[name] ?? 0) + 1;
      }
      if (state === "first") await page.getByText("Open the demo plot").click();
      if (state === "table") await page.getByRole("button", { name: "Table" }).click();
    }
    assert.deepEqual(visit.errors, []);
  } finally {
    await visit.close();
  }
}

const whole = async (page, where) => assert.deepEqual(await cut(page), [], where);

const sized = (width, height) => ({
  dress: (page) => page.setViewportSize({ width, height }),
  undress: (page) => page.setViewportSize(phone),
  check: whole,
});

const TEXT = {
  dress: async (page) => {
    await page.setViewportSize(laptop);
    await page.evaluate(() => { document.documentElement.style.fontSize = "200%"; });
  },
  undress: async (page) => {
    await page.evaluate(() => { document.documentElement.style.fontSize = ""; });
    await page.setViewportSize(phone);
  },
  check: whole,
};

const SPACING = {
  dress: (page) => page.evaluate(() => {
    const sheet = new CSSStyleSheet();
    sheet.replaceSync("* { line-height: 1.5 !important; letter-spacing: 0.12em !important; word-spacing: 0.16em !important; } p { margin-bottom: 2em !important; }");
    document.adoptedStyleSheets = [sheet];
  }),
  undress: (page) => page.evaluate(() => { document.adoptedStyleSheets = []; }),
  check: whole,
};

const STILL = {
  dress: (page) => page.emulateMedia({ reducedMotion: "reduce" }),
  undress: (page) => page.emulateMedia({ reducedMotion: "no-preference" }),
  check: async (page, where) => {
    const moving = await page.evaluate(() => document.getAnimations().map((one) => one.animationName ?? one.transitionProperty));
    assert.deepEqual(moving, [], where);
    if (!where.endsWith(" map")) return;
    const steps = await page.evaluate(() => new Promise((done) => {
      const seen = new Set();
      const scale = () => document.querySelector(".stage-scale").outerHTML;
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
    assert.equal(steps, 1, "the map goes in one step");
  },
};

test("at 400 % and 200 % zoom, with text twice as large, set wider, or without motion, nothing is cut", async () => {
  await read({ deviceScaleFactor: 2 }, {
    "320 × 256 px": sized(320, 256), "200 % zoom": sized(720, 450), "text of 200 %": TEXT, spacing: SPACING, "less motion": STILL,
  });
});

/** What is told by colour alone, faint, or does not show the keyboard, in the system's colours. */
async function forced(page, where) {
  // What is chosen differs from what is not by more than its colour.
  const alike = await page.evaluate(() => {
    const ground = getComputedStyle(document.body).backgroundColor;
    const look = (it) => {
      const style = getComputedStyle(it);
      // A border in the ground's own colour is none.
      const border = (side) => (style[`border${side}Color`] === ground ? "0px" : style[`border${side}Width`]);
      return [border("Top"), border("Left"), style.borderTopStyle, style.outlineStyle, style.fontWeight, style.backgroundColor].join();
    };
    const pairs = [["aria-pressed", "true"], ["aria-selected", "true"], ["aria-current", null]];
    return pairs.flatMap(([name, value]) => [...document.querySelectorAll(`[${name}]`)]
      .filter((it) => it.checkVisibility() && (value ? it.getAttribute(name) === value : true))
      .filter((it) => [...it.parentElement.parentElement.querySelectorAll(it.tagName)].some((other) =>
        other !== it && other.className === it.className && (value ? other.getAttribute(name) !== value : !other.hasAttribute(name)) && look(other) === look(it)))
      .map((it) => `.${it.className} “${it.textContent.slice(0, 40)}”`));
  });
  assert.deepEqual(alike, [], `${where}: chosen by colour alone`);
  await page.evaluate(() => document.querySelector("main").focus());
  await page.keyboard.press("Tab");
  const at = await stop(page);
  assert.ok(at.ring && contrast(at.ring.colour, at.ring.ground) >= 3, `${where}: ${JSON.stringify(at)}`);
  // The lines of marks stand off the system's ground.
  const { ground, lines } = await page.evaluate(() => ({
    ground: getComputedStyle(document.body).backgroundColor,
    lines: [...document.querySelectorAll(".legend .mark [stroke]")].map((it) => getComputedStyle(it).stroke).filter((it) => it !== "none"),
  }));
  for (const line of lines) assert.ok(contrast(line, ground) >= 3, `${where}: ${line} on ${ground}`);
}

for (const [colorScheme, states] of [["dark", Object.keys(STATES)], ["light", FEW]]) {
  test(`in the system's own colours, ${colorScheme}, nothing is told by colour alone`, async () => {
    await read({ forcedColors: "active", colorScheme }, { [`forced colours, ${colorScheme}`]: { check: forced } }, states);
  });
}
