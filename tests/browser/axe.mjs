// The accessibility rules that every state of the app is held to.
// In: an open desk. Out: what is broken, one line a rule. Always true: axe-core's WCAG 2.2 A and AA rules.
import assert from "node:assert/strict";
import { readFile } from "node:fs/promises";
import { join } from "node:path";
import { ROOT } from "./site.mjs";

const RULES = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22a", "wcag22aa"];
/** The rules of those that look at colours. */
const COLOURS = ["color-contrast", "link-in-text-block"];
const source = readFile(join(ROOT, "node_modules/axe-core/axe.min.js"), "utf8");

async function broken(desk, runOnly) {
  // Through the debugger, since the page's policy rightly lets no script in.
  if (!(await desk.page.evaluate(() => "axe" in window))) await desk.page.evaluate(await source);
  const found = await desk.page.evaluate((runOnly) => axe.run(document, { runOnly, resultTypes: ["violations"] }), runOnly);
  return found.violations.map((v) => `${v.id}: ${v.nodes.map((node) => node.target.join(" ")).join(", ")}`);
}

export const violations = (desk) => broken(desk, RULES);

/** All rules in the light, and those about colours in the dark too: nothing else of the page depends on it. */
export async function inBothLights(desk, state) {
  assert.deepEqual(await violations(desk), [], state);
  await desk.page.emulateMedia({ colorScheme: "dark" });
  assert.deepEqual(await broken(desk, { type: "rule", values: COLOURS }), [], `${state}, in the dark`);
  await desk.page.emulateMedia({ colorScheme: "light" });
}

/** Nothing may stick out of the window sideways. */
export async function withinTheWindow(desk, state) {
  assert.ok((await desk.page.evaluate(() => document.documentElement.scrollWidth - window.innerWidth)) <= 0, state);
}
