// What everyone needs in order to use the app: names, contrast, targets, no sideways scrolling.
import assert from "node:assert/strict";
import { readFile } from "node:fs/promises";
import { join } from "node:path";
import { test } from "node:test";
import { Desk } from "./desk.mjs";
import { running } from "./run.mjs";
import { ROOT } from "./site.mjs";

const it = running();
const RULES = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22a", "wcag22aa"];

async function violations(desk) {
  const source = await readFile(join(ROOT, "node_modules/axe-core/axe.min.js"), "utf8");
  // Through the debugger, since the page's policy rightly lets no script in.
  await desk.page.evaluate(source);
  const found = await desk.page.evaluate((rules) => axe.run(document, { runOnly: rules }), RULES);
  return found.violations.map((v) => `${v.id}: ${v.nodes.map((node) => node.target.join(" ")).join(", ")}`);
}

for (const width of [1440, 360]) {
  for (const colorScheme of ["light", "dark"]) {
    test(`no rule of WCAG A or AA is broken at ${width} px, ${colorScheme}`, async () => {
      const desk = await Desk.open(it.browser, it.site, { width, colorScheme });
      await desk.verdict();
      assert.deepEqual(await violations(desk), [], "all well");
      await desk.type("Closed diameter", "wide");
      await desk.type("Height", "1 mm");
      await desk.page.getByRole("radio", { name: "what moves it" }).check();
      await desk.slider.press("End");
      await desk.openFile("broken.json", "{");
      await desk.message("was not opened");
      assert.deepEqual(await violations(desk), [], "sizes refused, file refused, open, looked into");
      await desk.size("Closed diameter").press("Escape");
      await desk.type("Closed diameter", "800 mm");
      await desk.page.locator(".troubles li").first().waitFor();
      assert.deepEqual(await violations(desk), [], "sizes at odds");
      await desk.size("Closed diameter").fill("1200 mm");
      await desk.size("Height").fill("740 mm");
      await desk.page.locator(".sheet svg").first().waitFor();
      await desk.page.getByRole("radio", { name: "in space" }).check();
      await desk.page.getByRole("radio", { name: "chosen chapters" }).check();
      await desk.page.getByRole("button", { name: "Add sheets of 5 × 5 ft" }).click();
      await desk.page.getByLabel("or of your own size").fill("wide");
      await desk.page.getByLabel("or of your own size").press("Enter");
      await desk.page.getByRole("radio", { name: "small pages" }).check();
      await desk.page.getByLabel("Look for").fill("panel");
      await desk.page.locator(".this-hit").first().waitFor();
      assert.deepEqual(await violations(desk), [], "in space, stock, chapters, small pages, words found");
      await desk.page.getByRole("button", { name: "Take it to the bench" }).click();
      await desk.page.locator(".shop-drawing svg").first().waitFor();
      await desk.page.locator("[data-reading]").first().click();
      assert.deepEqual(await violations(desk), [], "a part at the bench");
      await desk.page.getByRole("radio", { name: "Steps" }).check();
      await desk.page.locator(".step-done").waitFor();
      assert.deepEqual(await violations(desk), [], "a step at the bench");
      await desk.close();
    });
  }

  test(`nothing sticks out sideways at ${width} px`, async () => {
    const desk = await Desk.open(it.browser, it.site, { width });
    await desk.verdict();
    const sideways = () => desk.page.evaluate(() => document.documentElement.scrollWidth - window.innerWidth);
    assert.ok((await sideways()) <= 0);
    await desk.type("Closed diameter", "a very long text that nobody would ever type into a size, or would they");
    assert.ok((await sideways()) <= 0, "with a long text");
    await desk.close();
  });
}

test("at 400 % zoom of a 1280 px screen nothing sticks out sideways", async () => {
  const desk = await Desk.open(it.browser, it.site, { width: 320, height: 256 });
  await desk.verdict();
  assert.ok((await desk.page.evaluate(() => document.documentElement.scrollWidth)) <= 320);
  await desk.close();
});

test("the main job is reached by the Tab key alone", async () => {
  const desk = await Desk.open(it.browser, it.site);
  // Coming from the start page the focus is on the plan; a page just opened begins at its top.
  await desk.reload();
  const names = [];
  for (let i = 0; i < 70; i++) {
    await desk.page.keyboard.press("Tab");
    names.push(
      await desk.page.evaluate(() => {
        const at = document.activeElement;
        return at.getAttribute("aria-label") ?? at.labels?.[0]?.textContent ?? at.textContent;
      }),
    );
  }
  const text = names.join("\n");
  for (const wanted of ["Name of the plan", "Open a plan", "Save the plan", "Turn of the table", "Closed diameter", "Edge load"]) {
    assert.ok(text.includes(wanted), `${wanted} in:\n${text}`);
  }
  await desk.close();
});
