// A made-up language in which every text is English in marks: what stands outside of marks was not
// said through the list of texts.
import { readFileSync, readdirSync } from "node:fs";
import { join } from "node:path";
import { top } from "./browser.js";

const [RECORD, FIELD, CONTEXT] = ["\x1e", "\x1f", "\x04"];
export const [OPENS, ENDS] = ["⟦", "⟧"];

/** The texts of a language with each translation replaced by its English in marks. */
function marked(texts) {
  return texts.split(RECORD).map((record) => {
    const [english, ...forms] = record.split(FIELD);
    const words = `${OPENS}${english.split(CONTEXT).pop()}${ENDS}`;
    return [english, ...forms.map(() => words)].join(FIELD);
  }).join(RECORD);
}

/** Has the page and its workers speak the made-up language in place of German. */
export async function speakMarked(context) {
  await context.route(/\/words\/de-\w+\.txt$/, async (route) => {
    const answer = await route.fetch();
    await route.fulfill({ response: answer, body: marked(await answer.text()) });
  });
}

/**
 * What may stand outside of marks, each as a whole: the plot's own names, labels and notes, those
 * that a new plot is given, names of formats, units.
 */
function plain() {
  const read = (path) => readFileSync(join(top, path), "utf8");
  const table = (name, columns) => {
    const [head, ...lines] = read(`demo-plot/${name}`).trim().split("\n").map((line) => line.split(","));
    return columns.flatMap((column) => lines.map((cells) => cells[head.indexOf(column)]));
  };
  const head = JSON.parse(read("demo-plot/plot.json"));
  const profiles = readdirSync(join(top, "crates/files/profiles"))
    .map((name) => JSON.parse(read(`crates/files/profiles/${name}`)));
  const traits = [head, ...profiles].flatMap((one) => [...one.traits, ...one.conditions ?? []]);
  return [
    head.name, head.layout.low_end, head.layout.high_end,
    ...traits.flatMap(({ label, unit, scale = [] }) => [label, unit, ...scale.map((step) => step.label)]),
    ...table("trees.csv", ["tree_id", "tag", "seed_parent", "pollen_parent", "genotype", "note"]),
    ...table("scores.csv", ["round", "note", "scorer"]),
    "Leeward", "English", "Deutsch", "A4", "json", "csv", "zip", "xlsx", "m", "cm", "mm", "kB", "MB", "ha", "x", "Vigour",
  ];
}
const escaped = (text) => text.replace(/[\\^$.*+?()[\]{}|]/g, "\\$&");
// The longest first: a name may be part of another.
const PLAIN = new RegExp([...new Set(plain().filter((text) => /\p{L}/u.test(text ?? "")))]
  .sort((a, b) => b.length - a.length)
  .map((text) => `(?<![\\p{L}\\d])${escaped(text)}(?![\\p{L}\\d])`).join("|"), "gu");

/** The texts on the page, seen or heard, that have words outside of marks. */
export async function unmarked(page) {
  const texts = await page.evaluate(() => {
    const found = new Set();
    const walker = document.createTreeWalker(document.body, NodeFilter.SHOW_ELEMENT | NodeFilter.SHOW_TEXT);
    for (let node = walker.nextNode(); node; node = walker.nextNode()) {
      if (node.nodeType === Node.TEXT_NODE) {
        if (node.parentElement.checkVisibility() && !node.parentElement.closest("noscript, code, [lang]:not(html)")) found.add(node.data);
      } else if (node.checkVisibility()) {
        for (const name of ["aria-label", "aria-description", "aria-valuetext", "title", "placeholder", "alt"]) {
          if (node.hasAttribute(name)) found.add(node.getAttribute(name));
        }
      }
    }
    found.add(document.title);
    return [...found];
  });
  return texts.filter((text) => outside(text).length > 0);
}

/** The words of a text that stand outside of all marks and may not. */
function outside(text) {
  let depth = 0;
  let rest = "";
  for (const letter of text) {
    if (letter === OPENS) depth += 1;
    else if (letter === ENDS) depth -= 1;
    else rest += depth > 0 ? " " : letter;
  }
  // A day of the locale, the short code of a tree.
  const bare = rest.replace(/\d+\. \p{L}+ \d{4}/gu, "").replace(/\bT\d+-\w\b/g, "").replace(PLAIN, " ");
  return bare.match(/\p{L}+/gu) ?? [];
}
