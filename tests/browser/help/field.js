// Plots to walk, made up here, and what a walk is told by its keys.
import { handed } from "./plots.js";

const scab = {
  id: "scab_leaf", disease: "scab", label: "Scab on leaves", kind: "ordinal",
  scale: [
    { value: 0, label: "not observed" },
    { value: 1, label: "none seen", severity: 0 },
    { value: 2, label: "a few spots", severity: 0.01 },
    { value: 3, label: "up to 5 % of leaf area", severity: 0.05 },
    { value: 4, label: "up to 25 %", severity: 0.25 },
    { value: 5, label: "more than 25 %", severity: 0.6 },
  ],
};
const bloom = {
  id: "bloom", label: "Bloom", kind: "ordinal",
  scale: [{ value: 0, label: "none" }, { value: 1, label: "some clusters" }, { value: 2, label: "all over" }],
};

/** A plot of rows and places, CRLF, with a column of another program; invented. */
export function field({ rows, places, name = "Withy Field", scores = [] }) {
  const head = {
    format: "leeward-plot", version: 1, name,
    layout: { row_spacing_m: 3, place_spacing_m: 0.75, first_row: 1, first_place: 1 },
    season_starts_month: 1, traits: [scab, bloom],
  };
  const trees = ["tree_id,row,place,tag,our_colour,grafted_on,genotype,status,note"];
  for (let row = 1; row <= rows; row += 1) {
    for (let place = 1; place <= places; place += 1) {
      trees.push(`${row}-${place},${row},${place},W${row}-${place},"red, pale",,,,`);
    }
  }
  return {
    "plot.json": JSON.stringify(head, null, 2),
    "trees.csv": `${trees.join("\r\n")}\r\n`,
    "scores.csv": `${["score_id,tree_id,trait,value,scored_on,round,scorer,note,replaces", ...scores].join("\n")}\n`,
  };
}

/** Hands a plot folder to the page that has none open yet, and goes to Walk. */
export async function openField(page, files) {
  await page.getByText("Open a plot folder").click();
  await page.locator("input.files-input").last().setInputFiles(handed(files));
  await page.waitForFunction(() => location.hash === "#/map", null, { timeout: 120_000 });
  await page.getByRole("link", { name: "Walk", exact: true }).click();
  await page.locator(".walk-start").waitFor();
}

/** What the hand and the eye find on a walk. */
export function hand(page) {
  const button = (words) => page.getByRole("button", { name: words, exact: true });
  return {
    button,
    name: () => page.locator(".walk-name").innerText(),
    last: () => page.locator(".walk-last").innerText(),
    asked: () => page.locator(".walk-asked legend").innerText(),
    key: (value) => page.locator(".walk-key", { has: page.locator(`.walk-value:text-is("${value}")`) }),
    tree: async (fact) => { await button("Tree, note").click(); await button(fact).click(); },
    cannot: async (reason) => { await button("Can’t score").click(); await button(reason).click(); },
    trait: (label) => page.locator(".walk-trait", { hasText: label }),
    saved: () => page.getByText("All saved").waitFor(),
    facts: async () => Object.fromEntries(await page.locator(".walk-over dl").evaluate((list) =>
      [...list.querySelectorAll("dt")].map((it) => [it.textContent, it.nextElementSibling.textContent]))),
  };
}
