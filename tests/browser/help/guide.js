// The guide, held to the screen: the names in bold of each section, in their order, and its pictures.
import assert from "node:assert/strict";
import { copyFileSync, existsSync, mkdirSync, readFileSync, readdirSync, rmSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { artefacts, top } from "./browser.js";

const docs = join(top, "docs");
const text = readFileSync(join(docs, "guide.md"), "utf8");

/** Most bytes of a picture, and of all of them. */
const MOST = { one: 60_000, all: 600_000 };

/** Where the pictures of this run go. */
const folder = join(artefacts, "guide");
rmSync(folder, { recursive: true, force: true });
mkdirSync(folder, { recursive: true });

/** The names in bold of a section, in their order. */
export function names(section) {
  const sections = text.split(/^## /m).slice(1);
  const found = sections.find((one) => one.split("\n", 1)[0] === section);
  assert.ok(found, `the guide has a section "${section}"`);
  return [...found.matchAll(/\*\*(.+?)\*\*/g)].map(([, name]) => name);
}

/** All sections, in their order. */
export const sections = () => [...text.matchAll(/^## (.+)$/gm)].map(([, name]) => name);

/** What stands for a name on the screen: an element with just these words, to be seen. */
function found(page, name) {
  return page.evaluateHandle((it) => {
    const plain = (words) => words.replace(/\s+/g, " ").trim();
    const escaped = it.split("…").map((part) => part.replace(/[.*+?^${}()|[\]\\]/g, "\\$&"));
    const wanted = new RegExp(`^${escaped.join(".+")}$`);
    const own = (one) => plain([...one.childNodes]
      .filter((node) => node.nodeType === Node.TEXT_NODE).map((node) => node.data).join(""));
    const is = (one) => wanted.test(own(one)) || wanted.test(plain(one.innerText ?? ""));
    const seen = (one) => (one.closest("select") ?? one)
      .checkVisibility({ checkOpacity: true, checkVisibilityCSS: true });
    const all = [...document.querySelectorAll("body *")].filter((one) => is(one) && seen(one));
    // What can be tapped rather than a heading of the same words.
    return all.find((one) => one.closest("button, a, summary, label")) ?? all.at(0) ?? null;
  }, name);
}

/** A section that is gone through: what it names in bold must come, in its order. */
export function reading(page, section) {
  const all = names(section);
  let [at, now] = [0, page];
  const next = (name) => {
    assert.equal(all[at], name, `the next name in bold of "${section}"`);
    at += 1;
  };
  const look = async (name) => {
    for (let tries = 0; tries < 50; tries += 1) {
      const one = (await found(now, name)).asElement();
      if (one) return one;
      await now.waitForTimeout(100);
    }
    return assert.fail(`"${name}", of "${section}", is not on the screen`);
  };
  /** Taps it; what was made anew between look and tap is looked for once more. */
  const tap = async (name, again = 2) => {
    try {
      await (await look(name)).click({ timeout: 10_000 });
    } catch (error) {
      if (again === 0 || !/not attached/.test(error.message)) throw error;
      await tap(name, again - 1);
    }
  };
  return {
    /** These names are on the screen. */
    sees: async (...list) => {
      for (const name of list) {
        next(name);
        await look(name);
      }
    },
    /** The name is on the screen, and tapped. */
    taps: async (name) => {
      next(name);
      await tap(name);
    },
    /** The section goes on in another tab. */
    turnTo: (other) => { now = other; },
    /** The section has no other name. */
    ends: () => assert.deepEqual(all.slice(at), [], `names in bold of "${section}" that nothing leads to`),
  };
}

/** The pictures that pages show. */
export function shown() {
  const pages = [text, readFileSync(join(top, "README.md"), "utf8")];
  const all = pages.flatMap((page) => [...page.matchAll(/!\[[^\]]*\]\((?:docs\/)?guide\/(.+?)\)/g)]);
  return [...new Set(all.map(([, name]) => name))].sort();
}

/** Keeps a part of the window as a picture: a phone's in its own pixels, a laptop's one to one. */
export async function picture(page, name, { x = 0, y = 0, width, height }) {
  const wide = await page.evaluate(() => document.documentElement.scrollWidth - window.innerWidth);
  assert.ok(wide <= 0, `${name}: the page is ${wide} px too wide`);
  const scale = width > 400 ? "css" : "device";
  const png = await page.screenshot({ clip: { x, y, width, height }, scale, animations: "disabled" });
  writeFileSync(join(folder, name), await packed(page, png));
}

/**
 * Every picture that pages show was made, as large as the one that they show, and no other. Where it
 * is asked for, those that were made become those that pages show.
 */
export async function allMade(page, asked) {
  const made = readdirSync(folder).sort();
  assert.deepEqual(made, shown(), "the pictures made, and those that pages show");
  const kept = join(docs, "guide");
  if (asked) {
    rmSync(kept, { recursive: true, force: true });
    mkdirSync(kept);
    for (const name of made) copyFileSync(join(folder, name), join(kept, name));
  }
  let sum = 0;
  for (const name of made) {
    assert.ok(existsSync(join(kept, name)), `docs/guide/${name} is missing: cargo xtask guide makes it`);
    const [here, there] = [folder, kept].map((one) => readFileSync(join(one, name)));
    assert.deepEqual(await size(page, there), await size(page, here), `the size of docs/guide/${name}`);
    assert.ok(there.length <= MOST.one, `docs/guide/${name} has ${there.length} bytes`);
    sum += there.length;
  }
  assert.ok(sum <= MOST.all, `all pictures have ${sum} bytes`);
}

/** Runs a function on a blank page, which no policy of ours binds. */
async function blank(page, run, given) {
  const other = await page.context().newPage();
  try {
    return await other.evaluate(run, given);
  } finally {
    await other.close();
  }
}

/** The browser's own WebP: without loss, else as good as fits. */
async function packed(page, png) {
  const text = await blank(page, async ({ png, most }) => {
    const image = await createImageBitmap(await (await fetch(`data:image/png;base64,${png}`)).blob());
    const canvas = new OffscreenCanvas(image.width, image.height);
    canvas.getContext("2d").drawImage(image, 0, 0);
    let blob;
    for (const quality of [1, 0.9, 0.8, 0.7, 0.6]) {
      blob = await canvas.convertToBlob({ type: "image/webp", quality });
      if (blob.size <= most) break;
    }
    const bytes = new Uint8Array(await blob.arrayBuffer());
    return btoa(Array.from(bytes, (byte) => String.fromCharCode(byte)).join(""));
  }, { png: png.toString("base64"), most: MOST.one });
  return Buffer.from(text, "base64");
}

/** Width and height of a picture. */
const size = (page, bytes) => blank(page, async (text) => {
  const image = await createImageBitmap(await (await fetch(`data:image/webp;base64,${text}`)).blob());
  return [image.width, image.height];
}, bytes.toString("base64"));
