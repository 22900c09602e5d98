// What the person decides on a tree, and what to do next: kept, undone by deciding again, read again
// after a reload, in the saved copy; and the plan, as the command line has it, walked.
import assert from "node:assert/strict";
import { mkdir } from "node:fs/promises";
import { join } from "node:path";
import { after, before, test } from "node:test";
import { artefacts, ready, top } from "../help/browser.js";
import { visitDemo } from "../help/demo.js";
import { copied, link } from "../help/keeping.js";
import { plotLog, records } from "../help/log.js";
import { looks } from "../help/looks.js";
import { table, texts } from "../help/plots.js";

let visit, page, planned, walked;

before(async () => {
  await mkdir(artefacts, { recursive: true });
  const demo = join(top, "demo-plot");
  planned = table("plan", demo, "--disease", "scab");
  walked = table("plan", demo, "--disease", "scab", "--walk");
  visit = await visitDemo("#/proof/scab");
  page = visit.page;
  await page.locator(".proof-next").waitFor({ timeout: 120_000 });
});

after(() => visit?.close());

const plan = () => page.locator(".proof-next");
const go = (address) => page.evaluate((it) => { location.hash = it; }, address);
const now = () => page.locator(".decided-now");
const choose = (name) => page.locator(".decided").getByRole("button", { name, exact: true }).click();

test("the plan names the trees that the command line names, in its order", async () => {
  const of = (what) => planned.filter((line) => line.what === what).map((line) => line.tree_id);
  const shown = await plan().getByRole("link").evaluateAll((all) => all.map((one) => one.hash.replace("#/tree/", "")));
  assert.deepEqual(shown, [...of("watch").slice(0, 8), ...of("check")]);
  assert.ok(of("watch").length === 60 && of("check").length > 0);
  await plan().getByText(`${walked.length} trees:`).waitFor();
  await looks(page, "plan");
});

test("a decision stands with its reason, and another takes its place", async () => {
  const tree = planned[0].tree_id;
  await go(`#/tree/${tree}`);
  await now().waitFor();
  assert.equal(await now().innerText(), "Undecided.");
  await page.getByLabel("Why (may stay empty)").fill("clean for two years, \"sweet\"");
  await choose("Watch");
  await page.getByText("Watch, since").waitFor();
  assert.match(await now().innerText(), /^Watch, since .*: clean for two years, "sweet"\.$/);
  assert.equal(await page.getByLabel("Why (may stay empty)").inputValue(), "");
  await choose("Cull");
  await page.getByText("Cull, since").waitFor();
  await page.getByText("Decided before").click();
  await page.getByText("Watch, since").waitFor();
  assert.equal(await page.locator(".decided [aria-pressed=true]").innerText(), "Cull");
  await looks(page, "decided");
});

test("what is to be culled is in the plan no more, and no judgement grew old by it", async () => {
  await go("#/proof/scab");
  await plan().waitFor();
  const shown = await plan().getByRole("link").evaluateAll((all) => all.map((one) => one.hash.replace("#/tree/", "")));
  assert.ok(!shown.slice(0, 8).includes(planned[0].tree_id), shown.join(" "));
  assert.equal(shown[0], planned[1].tree_id);
  assert.equal(await page.getByText("Scores came since").count(), 0);
});

test("decisions are kept over a reload and stand in the copy", async () => {
  await link(page, "Folder");
  await page.getByText("Everything is saved in this browser").waitFor();
  await page.reload();
  await ready(page);
  await go(`#/tree/${planned[0].tree_id}`);
  await page.getByText("Cull, since").waitFor();
  await choose("Undecided again");
  await page.locator(".decided-now", { hasText: /^Undecided\.$/ }).waitFor();
  const log = records(await plotLog(page)).whole;
  assert.equal(log.filter(({ kind }) => kind === "D").length, 3);
  await link(page, "Folder");
  const { "decisions.csv": text } = texts(await copied(page), ["decisions.csv"]);
  const lines = text.trim().split("\n");
  assert.equal(lines[0], "decision_id,tree_id,decision,decided_on,reason");
  assert.deepEqual(lines.slice(1).map((line) => line.split(",")[2]), ["watch", "cull", ""]);
  assert.ok(lines[1].endsWith(',"clean for two years, ""sweet"""'), lines[1]);
});

test("the next walk goes to the trees of the plan", async () => {
  await go("#/proof/scab");
  await plan().waitFor({ timeout: 120_000 });
  await page.getByRole("button", { name: "Walk to these trees next" }).click();
  await page.getByText(`${walked.length} trees: clean ones that are not proven yet`).waitFor({ timeout: 60_000 });
  assert.equal(await page.getByLabel("Scab on leaves").isChecked(), true);
  assert.equal(await page.getByLabel("only those where a score tells most").isChecked(), true);
  await page.getByLabel("Trees seen sick before come last").setChecked(false);
  await page.locator(".walk-start", { hasText: `Walk ${walked.length} trees` }).click();
  await page.locator(".walk-key").first().waitFor();
});
