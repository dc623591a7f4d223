// What everyone needs in order to use the app: names, contrast, targets, no sideways scrolling.
import assert from "node:assert/strict";
import { test } from "node:test";
import { inBothLights, withinTheWindow } from "./axe.mjs";
import { Desk } from "./desk.mjs";
import { running } from "./run.mjs";

const it = running();

for (const width of [1440, 360]) {
  test(`no rule of WCAG A or AA is broken and nothing sticks out sideways at ${width} px, light and dark`, async () => {
    const desk = await Desk.open(it.browser, it.site, { width });
    const sound = async (state) => {
      await inBothLights(desk, state);
      await withinTheWindow(desk, state);
    };
    await desk.verdict();
    await sound("all well");
    await desk.type("Closed diameter", "wide");
    await desk.type("Height", "1 mm");
    await desk.page.getByRole("radio", { name: "what moves it" }).check();
    await desk.slider.press("End");
    await desk.openFile("broken.json", "{");
    await desk.message("was not opened");
    await sound("sizes refused, file refused, open, looked into");
    await desk.type("Closed diameter", "a very long text that nobody would ever type into a size, or would they");
    await withinTheWindow(desk, "with a long text");
    await desk.size("Closed diameter").press("Escape");
    await desk.type("Closed diameter", "800 mm");
    await desk.page.locator(".troubles li").first().waitFor();
    await sound("sizes at odds");
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
    await desk.page.locator('[data-offer="height"] input[type=checkbox]').check();
    // Names of sizes and limits stand in one screen: nobody shoves a table to and fro.
    const beyond = await desk.page.locator(".scroll.offer").evaluate((one) => one.scrollWidth - one.clientWidth);
    assert.ok(beyond <= 0, `the sizes offered stick out by ${beyond} px`);
    await desk.page.locator("[data-check^='clear.'] button:visible").first().click();
    await desk.page.locator('[data-say="lit"]').filter({ hasText: "Lit" }).waitFor();
    await sound("in space, lit, stock, chapters, small pages, words found, a size offered");
    await desk.page.getByRole("button", { name: "Take it to the bench" }).click();
    await desk.page.locator(".shop-drawing svg").first().waitFor();
    await desk.page.locator("[data-reading]").first().click();
    await sound("a part at the bench");
    await desk.page.getByRole("button", { name: "Show it nearer" }).click();
    await sound("a part at the bench, nearer");
    await desk.page.getByRole("radio", { name: "Steps" }).check();
    await desk.page.locator(".step-done").waitFor();
    await sound("a step at the bench");
    await desk.close();
  });
}

test("at 400 % zoom of a 1280 px screen nothing sticks out sideways", async () => {
  const desk = await Desk.open(it.browser, it.site, { width: 320, height: 256 });
  await desk.verdict();
  await withinTheWindow(desk, "at 320 px");
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
