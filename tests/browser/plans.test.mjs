// The start page: demos, kept plans, a new plan from three answers; places and the way back; the look back.
import assert from "node:assert/strict";
import { test } from "node:test";
import { inBothLights, withinTheWindow } from "./axe.mjs";
import { Desk } from "./desk.mjs";
import { running } from "./run.mjs";

const it = running();
const CLOSED = "Closed diameter";
const start = { start: true };

test("the first visit shows the start page, later ones the work left off", async () => {
  const desk = await Desk.open(it.browser, it.site, start);
  await desk.page.getByRole("heading", { name: "A new table from three answers" }).waitFor();
  assert.equal(await desk.cards().count(), 0);
  assert.match(await desk.page.locator('[data-say="version"]').textContent(), /^Turnleaf \d+\.\d+\.\d+, build [0-9a-f]{16}\.$/);
  await desk.take("Map room table");
  await desk.type(CLOSED, "49 in");
  await desk.kept();
  await desk.page.goto(desk.address);
  await desk.atWork();
  assert.equal(await desk.size(CLOSED).inputValue(), "49 in");
  // Whoever left off at the start page finds it again.
  await desk.allPlans();
  await desk.page.goto("about:blank");
  await desk.page.goto(desk.address);
  await desk.page.locator("#start").waitFor();
  await desk.close();
});

test("a demo that is only looked at is no plan; with the first change it is one, and the demo stays", async () => {
  const desk = await Desk.open(it.browser, it.site, start);
  await desk.take("Reading room table");
  assert.match(await desk.verdict(), /^All \d+ checks hold/);
  await desk.slider.press("End");
  await desk.allPlans();
  assert.equal(await desk.cards().count(), 0);
  await desk.take("Reading room table");
  assert.match(desk.page.url(), /#\/demo\/reading-room$/);
  await desk.type(CLOSED, "1210 mm");
  await desk.kept();
  assert.match(desk.page.url(), /#\/plan\//);
  await desk.allPlans();
  assert.equal(await desk.cards().count(), 1);
  await desk.page.locator(".demos").getByRole("link", { name: "Reading room table" }).click();
  await desk.atWork();
  assert.equal(await desk.size(CLOSED).inputValue(), "1200 mm");
  await desk.close();
});

test("back and forward go between places, and an address that is no plan is said", async () => {
  const desk = await Desk.open(it.browser, it.site, start);
  await desk.take("Reading room table");
  await desk.page.goBack();
  await desk.page.locator("#start").waitFor();
  await desk.page.goForward();
  await desk.atWork();
  assert.match(await desk.page.title(), /^Reading room table/);
  await desk.page.evaluate(() => (location.hash = "#checks"));
  await desk.page.waitForTimeout(100);
  assert.ok(await desk.page.locator("#work").isVisible());
  await desk.page.evaluate(() => (location.hash = "#/plan/p-nowhere"));
  await desk.message("not kept in this browser");
  await desk.page.locator("#start").waitFor();
  await desk.close();
});

test("three answers give a table that passes every check", async () => {
  const desk = await Desk.open(it.browser, it.site, start);
  const answer = (name) => desk.page.getByRole("textbox", { name });
  await answer("Diameter when closed").fill("3'8\"");
  await answer("Diameter when open").fill("1.5 m");
  await answer("How many sit at it when open").fill("7");
  await answer("How many sit at it when open").press("Enter");
  await desk.atWork();
  await desk.message("A table of 7 sectors was found");
  assert.equal(await desk.size(CLOSED).inputValue(), "3'8\"");
  assert.equal(await desk.size("Open diameter").inputValue(), "1.5 m");
  assert.equal(await desk.page.getByLabel("Name of the plan").inputValue(), "Round table for 7");
  assert.match(await desk.verdict(), /^All \d+ checks hold/);
  await desk.page.goBack();
  assert.equal(await desk.cards().count(), 1);
  await desk.close();
});

test("answers that cannot be met are refused in words, with what would do instead", async () => {
  const desk = await Desk.open(it.browser, it.site, start);
  const answer = (name) => desk.page.getByRole("textbox", { name });
  await answer("How many sit at it when open").fill("16");
  await desk.page.getByRole("button", { name: "Work out the table" }).click();
  // π · 1650 mm / 16, by hand.
  await desk.page.getByText("16 people have 324 mm of edge each").waitFor();
  await desk.page.reload();
  assert.equal(await answer("How many sit at it when open").inputValue(), "16", "answers outlast a reload");
  await desk.page.getByRole("button", { name: "Work out the table" }).click();
  await desk.page.getByRole("button", { name: "Take these answers" }).first().click();
  await desk.page.getByRole("button", { name: "Work out the table" }).click();
  await desk.atWork();
  assert.match(await desk.verdict(), /^All \d+ checks hold/);
  await desk.allPlans();
  await answer("Diameter when closed").fill("wide");
  assert.equal(await answer("Diameter when closed").getAttribute("aria-invalid"), "true");
  await desk.page.getByRole("button", { name: "Work out the table" }).click();
  await desk.page.locator('[data-say="search"] .wrong').filter({ hasText: "Closed diameter" }).waitFor();
  await desk.close();
});

test("plans are copied, taken away, brought back, and put into one file that another browser reads", async () => {
  const desk = await Desk.open(it.browser, it.site);
  await desk.page.getByLabel("Name of the plan").fill("Oak table");
  await desk.type(CLOSED, "1180 mm");
  await desk.type("Height", "up to the sill");
  await desk.kept();
  await desk.allPlans();
  await desk.page.getByRole("button", { name: "Copy: Oak table", exact: true }).click();
  await desk.message("Copied as “Oak table, copy”");
  assert.equal(await desk.cards().count(), 2);
  const { name, bytes } = await desk.download("Put all plans into one file");
  await desk.page.getByRole("button", { name: "Take away: Oak table", exact: true }).click();
  await desk.message("“Oak table” was taken away");
  assert.equal(await desk.cards().count(), 1);
  await desk.page.getByRole("button", { name: "Bring it back" }).click();
  await desk.page.waitForFunction(() => document.querySelectorAll("[data-plan]").length === 2);
  const other = await Desk.open(it.browser, it.site, start);
  await other.openFile(name, bytes);
  await other.message("2 plans were taken over");
  await other.take("Oak table");
  assert.equal(await other.size(CLOSED).inputValue(), "1180 mm");
  assert.equal(await other.size("Height").inputValue(), "up to the sill");
  await other.openFile(name, bytes);
  await other.message("2 were here already");
  assert.equal(await other.cards().count(), 2);
  await other.close();
  await desk.close();
});

test("the same file again doubles nothing; what was changed since stays beside the file's, told apart by name", async () => {
  const desk = await Desk.open(it.browser, it.site);
  await desk.page.getByLabel("Name of the plan").fill("Oak table");
  await desk.type(CLOSED, "1180 mm");
  await desk.kept();
  const single = await desk.download("Save the plan");
  await desk.allPlans();
  const { bytes } = await desk.download("Put all plans into one file");
  // One plan's own file, opened again: just that plan is here.
  await desk.openFile("oak.json", single.bytes);
  await desk.message("Opened oak.json: just this plan was here already.");
  await desk.atWork();
  assert.equal(await desk.size(CLOSED).inputValue(), "1180 mm");
  // Changed here, then all of the file once more, three times.
  await desk.type(CLOSED, "1190 mm");
  await desk.kept();
  await desk.allPlans();
  const names = () => desk.cards().getByRole("link").allTextContents();
  for (const said of ["1 differs from what is here under the same name, so both are kept: the file’s “Oak table” is now “Oak table, as in plans.json”", "1 was here already", "1 was here already"]) {
    await desk.openFile("plans.json", bytes);
    await desk.message(said);
    assert.equal(await desk.cards().count(), 2, said);
  }
  assert.equal((await names()).filter((name) => name.trim() === "Oak table, as in plans.json").length, 1);
  await desk.take("Oak table, as in plans.json");
  assert.equal(await desk.size(CLOSED).inputValue(), "1180 mm");
  await desk.openFile("oak.json", single.bytes);
  await desk.message("A plan called “Oak table” that differs is here too; both are kept, and this one is marked “from oak.json”");
  await desk.allPlans();
  assert.equal(await desk.cards().count(), 3);
  await desk.close();
});

test("holding a button shows the table before the last change, letting go the table as it is", async () => {
  const desk = await Desk.open(it.browser, it.site);
  await desk.verdict();
  const shape = () => desk.page.locator('svg.plan [data-piece="panel/1"]').getAttribute("d");
  const first = await shape();
  await desk.type(CLOSED, "1240 mm");
  await desk.page.waitForFunction((first) => document.querySelector('svg.plan [data-piece="panel/1"]').getAttribute("d") !== first, first);
  const now = await shape();
  const hold = desk.page.getByRole("button", { name: "Hold to see it before the last change" });
  await hold.hover();
  await desk.page.mouse.down();
  await desk.page.getByText("Before: closed diameter 1200 mm, now 1240 mm.").waitFor();
  assert.equal(await shape(), first);
  await desk.page.mouse.up();
  assert.equal(await shape(), now);
  // The same by the keyboard, and by a press that cannot be held.
  await hold.focus();
  await desk.page.keyboard.down("Space");
  assert.equal(await shape(), first);
  await desk.page.keyboard.up("Space");
  assert.equal(await shape(), now);
  await hold.evaluate((button) => button.click());
  assert.equal(await hold.getAttribute("aria-pressed"), "true");
  await hold.evaluate((button) => button.click());
  assert.equal(await shape(), now);
  assert.equal(await desk.size(CLOSED).inputValue(), "1240 mm");
  await desk.close();
});

for (const width of [1440, 360]) {
  test(`the start page breaks no rule of WCAG A or AA and sticks out nowhere at ${width} px, light and dark`, async () => {
    const desk = await Desk.open(it.browser, it.site, { width });
    await desk.type(CLOSED, "1180 mm");
    await desk.kept();
    await desk.allPlans();
    await desk.page.getByRole("textbox", { name: "How many sit" }).fill("16");
    await desk.page.getByRole("button", { name: "Work out the table" }).click();
    await desk.page.getByRole("button", { name: "Take these answers" }).first().waitFor();
    await inBothLights(desk, "a kept plan, answers that give no table");
    await withinTheWindow(desk, "the start page");
    await desk.close();
  });
}
