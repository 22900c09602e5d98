// The tokens' colours stand off each other wherever the style sheets lay one on another, and no sheet
// has a colour of its own. axe-core's arithmetic is the second opinion.
import assert from "node:assert/strict";
import { readdirSync, readFileSync } from "node:fs";
import { createRequire } from "node:module";
import { join } from "node:path";
import { after, test } from "node:test";
import { top } from "../help/browser.js";
import { counted } from "../help/counted.js";

const axe = createRequire(import.meta.url)("axe-core");
const STYLE = join(top, "www/style");
const sheet = (name) => readFileSync(join(STYLE, name), "utf8").replace(/\/\*.*?\*\//gs, "");

/** The colours that a block of the tokens' sheet sets. */
function block(head) {
  const text = sheet("tokens.css");
  const at = text.indexOf(`${head} {`);
  assert.ok(at >= 0, head);
  const body = text.slice(text.indexOf("{", at) + 1, text.indexOf("}", at));
  return Object.fromEntries([...body.matchAll(/--([\w-]+): (#[0-9a-f]{6});/g)].map(([, name, hex]) => [name, hex]));
}

const day = block(":root");
const evening = block(':root[data-theme="dark"]');
/** A sheet of paper has few colours of its own, and nothing on it has another. */
const themes = { day, evening, sheet: block(".paper-pages, .paper-report") };

/** Contrast by WCAG 2.2, from 1 to 21. */
function contrast(one, other) {
  const light = (hex) => {
    const part = (at) => {
      const share = parseInt(hex.slice(at, at + 2), 16) / 255;
      return share <= 0.04045 ? share / 12.92 : ((share + 0.055) / 1.055) ** 2.4;
    };
    return 0.2126 * part(1) + 0.7152 * part(3) + 0.0722 * part(5);
  };
  const [dark, bright] = [light(one), light(other)].sort((a, b) => a - b);
  return (bright + 0.05) / (dark + 0.05);
}

const PAPERS = ["paper", "paper-raised", "paper-sunk"];
/** What is written, and on what. */
const WORDS = {
  "ink": [...PAPERS, "accent-soft", "bad-soft", "warn-soft"],
  "ink-soft": [...PAPERS, "accent-soft", "bad-soft", "warn-soft"],
  "accent": [...PAPERS, "accent-soft", "warn-soft", "bad-soft"],
  "accent-ink": ["accent"],
  "bad": [...PAPERS, "bad-soft"],
  "warn": [...PAPERS, "warn-soft", "accent-soft"],
  "paper": ["ink"],
};
/** Borders of what can be used, rings of what has the keyboard, marks that say something. */
const EDGES = {
  "line-strong": PAPERS,
  "accent": [...PAPERS, "accent-soft", "bad-soft", "warn-soft"],
  "bad": [...PAPERS, "bad-soft"],
  "warn": [...PAPERS, "warn-soft"],
  "ink-soft": PAPERS,
};
/** Numbers that the page gives to a sheet. */
const GIVEN = ["rows", "share"];
/** Lines between parts, which nothing depends on. */
const DECORATION = ["line"];

const pairs = (table, colours = day) => Object.entries(table).flatMap(([on, grounds]) =>
  grounds.map((ground) => [on, ground])).filter((pair) => pair.every((name) => name in colours));

const figures = {};
after(() => counted("colours", figures));

for (const [theme, colours] of Object.entries(themes)) {
  test(`${theme}: words have a contrast of 4.5, borders and rings one of 3`, () => {
    const least = figures[theme] = { pairs: pairs(WORDS, colours).length + pairs(EDGES, colours).length };
    for (const [what, wanted, table] of [["words", 4.5, WORDS], ["edges", 3, EDGES]]) {
      const found = pairs(table, colours).map(([on, ground]) => ({ on, ground, contrast: contrast(colours[on], colours[ground]) }));
      assert.deepEqual(found.filter((pair) => !(pair.contrast >= wanted)), [], `${theme}, ${what}`);
      least[what] = found.reduce((a, b) => (a.contrast <= b.contrast ? a : b));
    }
  });
}

test("axe-core reckons the same", () => {
  const { Color, getContrast } = axe.commons.color;
  const parsed = (hex) => { const it = new Color(); it.parseHexString(hex); return it; };
  for (const colours of Object.values(themes)) {
    for (const [on, ground] of [...pairs(WORDS, colours), ...pairs(EDGES, colours)]) {
      const theirs = getContrast(parsed(colours[ground]), parsed(colours[on]));
      assert.ok(Math.abs(theirs - contrast(colours[on], colours[ground])) < 0.01, `${on} on ${ground}: ${theirs}`);
    }
  }
});

test("every colour is in the table, and both ways into the evening lead to the same", () => {
  const used = new Set([...pairs(WORDS), ...pairs(EDGES)].flat().concat(DECORATION));
  assert.deepEqual(Object.keys(day).filter((name) => !used.has(name)), []);
  assert.deepEqual(Object.keys(evening), Object.keys(day));
  assert.deepEqual(block(':root:not([data-theme="light"])'), evening);
});

test("no style sheet has a colour that is no token", () => {
  const names = /#[0-9a-f]{3,8}\b|\b(?:rgba?|hsla?|hwb|lab|lch|oklab|oklch|color(?:-mix)?|light-dark)\(|:[^;{}]*\b(?:white|black|red|green|blue|gr[ae]y|silver|yellow|orange|purple|navy|teal|maroon)\b/gi;
  const found = readdirSync(STYLE).filter((name) => name !== "tokens.css").flatMap((name) =>
    [...sheet(name).matchAll(names)].map(([colour]) => `${name}: ${colour}`));
  assert.deepEqual(found, []);
  const known = new Set([...sheet("tokens.css").matchAll(/--([\w-]+):/g)].map(([, name]) => name).concat(GIVEN));
  const unknown = readdirSync(STYLE).flatMap((name) =>
    [...sheet(name).matchAll(/var\(--([\w-]+)/g)].map(([, token]) => token).filter((token) =>
      !known.has(token) && !sheet(name).includes(`--${token}:`)).map((token) => `${name}: --${token}`));
  assert.deepEqual(unknown, []);
});
