// The accessibility rules that every state of the app is held to.
// In: an open desk. Out: what is broken, one line a rule. Always true: axe-core's WCAG 2.2 A and AA rules.
import { readFile } from "node:fs/promises";
import { join } from "node:path";
import { ROOT } from "./site.mjs";

const RULES = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22a", "wcag22aa"];

export async function violations(desk) {
  const source = await readFile(join(ROOT, "node_modules/axe-core/axe.min.js"), "utf8");
  // Through the debugger, since the page's policy rightly lets no script in.
  await desk.page.evaluate(source);
  const found = await desk.page.evaluate((rules) => axe.run(document, { runOnly: rules }), RULES);
  return found.violations.map((v) => `${v.id}: ${v.nodes.map((node) => node.target.join(" ")).join(", ")}`);
}
