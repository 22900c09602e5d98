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
 * What may stand outside of marks: the plot's own words, those that a new plot is given (labels of
 * traits), names of formats, units, tags.
 */
function plain() {
  const folder = join(top, "demo-plot");
  const files = readdirSync(folder).filter((name) => /\.(csv|json)$/.test(name));
  const plot = files.map((name) => readFileSync(join(folder, name), "utf8"));
  const profiles = join(top, "crates/files/profiles");
  for (const name of readdirSync(profiles)) {
    const { traits = [], conditions = [] } = JSON.parse(readFileSync(join(profiles, name), "utf8"));
    plot.push(...[...traits, ...conditions].map(({ label }) => label));
  }
  const names = [
    "Leeward", "English", "Deutsch", "m", "cm", "mm", "kB", "MB", "ha", "json", "csv", "zip", "xlsx",
    "x", "A4", "Vigour",
  ];
  return new Set([...plot, ...names].flatMap((text) => text.match(/\p{L}+/gu) ?? []));
}
const PLAIN = plain();

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
  return texts.filter((text) => outside(text).some((word) => !PLAIN.has(word)));
}

/** The words of a text that stand outside of all marks. */
function outside(text) {
  let depth = 0;
  let rest = "";
  for (const letter of text) {
    if (letter === OPENS) depth += 1;
    else if (letter === ENDS) depth -= 1;
    else rest += depth > 0 ? " " : letter;
  }
  // A day of the locale, the short code of a tree.
  const bare = rest.replace(/\d+\. \p{L}+ \d{4}/gu, "").replace(/\bT\d+-\w\b/g, "");
  return bare.match(/\p{L}+/gu) ?? [];
}
