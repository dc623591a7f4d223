// Parts of a plan's page that fold to a line: opened by hand, by links, by the browser's search; remembered by plan.
import assert from "node:assert/strict";
import { test } from "node:test";
import { inBothLights, withinTheWindow } from "./axe.mjs";
import { Desk } from "./desk.mjs";
import { running } from "./run.mjs";

const it = running();
const line = (desk, title) => desk.page.getByRole("button", { name: new RegExp(`^${title}`) });
const open = (desk, title) => line(desk, title).getAttribute("aria-expanded");

/** A plan as someone finds it who never folded or opened anything. */
async function first(options = {}) {
  const desk = await Desk.open(it.browser, it.site, { start: true, ...options });
  await desk.page.getByRole("link", { name: "Take the usual table" }).click();
  await desk.page.locator("#work:not([hidden])").waitFor();
  await desk.verdict();
  return desk;
}

for (const width of [1440, 360]) {
  test(`folded, each part says in a line how it stands, and links open it: ${width} px`, async () => {
    const desk = await first({ width });
    const page = desk.page;
    assert.match(await line(desk, "Checks and numbers").textContent(), /All \d+ checks hold/);
    assert.match(await line(desk, "Build steps").textContent(), /\d+ steps/);
    assert.equal(await open(desk, "The book"), "true");
    assert.equal(await open(desk, "Checks and numbers"), "false");
    assert.ok(!(await page.locator("#checks").isVisible()));
    await inBothLights(desk, "folded");
    await withinTheWindow(desk, "folded");
    // A link to a part opens it; so does the line about sizes at odds.
    await page.getByRole("link", { name: "Steps", exact: true }).click();
    assert.equal(await open(desk, "Build steps"), "true");
    await desk.type("Closed diameter", "800 mm");
    await line(desk, "Checks and numbers").filter({ hasText: "These sizes give no table that works." }).waitFor();
    await page.getByRole("link", { name: "See what is at odds" }).click();
    await page.locator("#checks .troubles li").first().waitFor();
    await desk.close();
  });
}

test("what is folded and open is remembered for each plan, and a new one takes over the last", async () => {
  const desk = await first();
  await desk.type("Closed diameter", "1180 mm");
  await desk.kept();
  await line(desk, "Build steps").press("Enter");
  await line(desk, "The book").press("Space");
  await desk.reload();
  assert.deepEqual([await open(desk, "Build steps"), await open(desk, "The book")], ["true", "false"]);
  await desk.allPlans();
  await desk.page.locator("#start").getByRole("link", { name: "Map room table" }).click();
  await desk.page.locator("#work:not([hidden])").waitFor();
  assert.deepEqual([await open(desk, "Build steps"), await open(desk, "The book")], ["true", "false"]);
  await desk.page.getByRole("button", { name: "Fold all parts" }).click();
  await desk.page.goBack();
  await desk.cards().getByRole("link").first().click();
  await desk.page.locator("#work:not([hidden])").waitFor();
  assert.equal(await open(desk, "Build steps"), "true");
  await desk.close();
});

test("a folded part is opened by what is found in it and by what leads into it", async () => {
  const desk = await first();
  const page = desk.page;
  await page.getByRole("button", { name: "Fold all parts" }).click();
  // The browser's own search tells a part by this event that words were found in it (HTML Living Standard, "hidden").
  assert.equal(await page.locator("#part-proof").getAttribute("hidden"), "until-found");
  await page.evaluate(() => document.querySelector("#part-proof").dispatchEvent(new Event("beforematch", { bubbles: true })));
  assert.equal(await open(desk, "Checks and numbers"), "true");
  await page.getByRole("button", { name: "Fold all parts" }).click();
  // A printed figure leads to the number behind it, in a part that is folded.
  await line(desk, "The book").click();
  await page.locator(".contents button").filter({ hasText: "sizes" }).first().click();
  await page.locator(".sources summary").click();
  const source = page.locator(".sources button[data-leads^='solved/']").first();
  await source.waitFor();
  const leads = await source.getAttribute("data-leads");
  await source.press("Enter");
  await page.waitForFunction((leads) => `solved/${document.activeElement.dataset.number}` === leads, leads);
  assert.equal(await open(desk, "Checks and numbers"), "true");
  await desk.close();
});
