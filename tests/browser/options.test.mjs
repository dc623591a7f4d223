// What the plan file knows beside the sizes: stock, measured thicknesses, chapters, language, rounding.
import assert from "node:assert/strict";
import { test } from "node:test";
import { Desk } from "./desk.mjs";
import { running } from "./run.mjs";

const it = running();
const PLAN = async (desk) => JSON.parse((await desk.download("Save the plan")).bytes);

test("sheets on hand are added, counted, kept for a part, refused with a sentence, and undone", async () => {
  const desk = await Desk.open(it.browser, it.site);
  await desk.page.getByRole("button", { name: "Add sheets of 5 × 5 ft" }).click();
  const size = desk.page.getByRole("textbox", { name: "Size of sheet 1" });
  assert.equal(await size.inputValue(), "5x5ft");
  const row = desk.page.locator(".sheets-on-hand > li").first();
  await row.getByLabel("how many").fill("2");
  await row.getByLabel("how many").press("Tab");
  await row.getByLabel("kept for").selectOption("top");
  assert.deepEqual((await PLAN(desk)).stock.sheets, ["5x5ft:2 top"]);
  await row.getByLabel("how many").fill("many");
  await row.getByLabel("how many").press("Tab");
  await row.locator(".wrong").filter({ hasText: "“many”" }).waitFor();
  assert.deepEqual((await PLAN(desk)).stock.sheets, ["5x5ft:2 top"], "a refusal changes nothing");
  await desk.page.getByLabel("or of your own size").fill("wide");
  await desk.page.keyboard.press("Enter");
  await desk.page.locator("#own-sheet-wrong .wrong").filter({ hasText: "“wide”" }).waitFor();
  await desk.page.getByLabel("or of your own size").fill("1250x2500mm");
  await desk.page.keyboard.press("Enter");
  assert.equal(await desk.page.locator(".sheets-on-hand > li").count(), 2);
  await desk.page.keyboard.press("Control+Z");
  await desk.page.locator(".sheets-on-hand > li").nth(1).waitFor({ state: "detached" });
  await desk.kept();
  await desk.reload();
  assert.equal(await size.inputValue(), "5x5ft");
  assert.equal(await row.getByLabel("how many").inputValue(), "2");
  await desk.close();
});

test("kerf and measured thickness are typed by the keyboard; the table follows and the book says so", async () => {
  const desk = await Desk.open(it.browser, it.site, { width: 360, height: 740 });
  await desk.verdict();
  await desk.type("Saw kerf", "1/8 in");
  // 1/8 in is 3.175 mm exactly.
  assert.match(await desk.understood("Saw kerf"), /3\.175 mm/);
  await desk.type("Saw kerf", "3");
  await desk.wrong("saw kerf").waitFor();
  await desk.page.keyboard.press("Escape");
  const label = "Top thickness, measured";
  const star = async () => (await desk.page.locator("[data-check='lift.panel.star'] p").textContent()) ?? "";
  const before = await star();
  await desk.type(label, "18.2 mm");
  await desk.page.getByText("One measured thickness stands in place of the plan's.").waitFor();
  await desk.page.waitForFunction(() => document.querySelector('[data-say="book"]').textContent.endsWith("just as they will print."), null, { timeout: 30_000 });
  await desk.type(label, "12 mm");
  await desk.page.getByText("measure again").waitFor();
  await desk.type(label, " ");
  await desk.page.keyboard.press("Backspace");
  await desk.page.getByText("measure again").waitFor({ state: "detached" });
  await desk.page.waitForFunction(
    (before) => document.querySelector("[data-check='lift.panel.star'] p")?.textContent === before,
    before,
  );
  const plan = await PLAN(desk);
  assert.deepEqual([plan.stock, plan.measured], [{ kerf: "1/8 in" }, {}]);
  await desk.close();
});

test("language, projection, paper and rounding are choices, and undo names them", async () => {
  const desk = await Desk.open(it.browser, it.site);
  await desk.page.getByRole("radio", { name: "German" }).check();
  await desk.page.getByRole("radio", { name: "third angle" }).check();
  await desk.page.getByLabel("Printed on").selectOption("letter");
  await desk.page.getByLabel("Millimetres to").selectOption("0.5 mm");
  await desk.page.getByRole("radio", { name: "both" }).check();
  await desk.page.getByLabel("and long ones in").selectOption("true");
  const { options } = await PLAN(desk);
  assert.deepEqual(
    [options.language, options.projection, options.paper, options.print],
    ["de", "third", "letter", { units: "both", mm_step: "0.5 mm", inch_denominator: 64, feet: true }],
  );
  await desk.page.locator(".contents button").filter({ hasText: "Inhalt" }).waitFor();
  await desk.page.getByRole("button", { name: /^Undo: choices for the book/ }).waitFor();
  await desk.close();
});

test("the chapters chosen are those shown and saved; none at all is refused", async () => {
  const desk = await Desk.open(it.browser, it.site);
  const contents = desk.page.locator(".contents button");
  await contents.filter({ hasText: "Building it" }).first().waitFor();
  await desk.page.getByRole("radio", { name: "shop sheets only" }).check();
  await contents.filter({ hasText: "Building it" }).first().waitFor({ state: "detached" });
  assert.match((await desk.download("Save the book")).name, /-shop\.pdf$/);
  await desk.page.getByRole("radio", { name: "chosen chapters" }).check();
  for (const chapter of ["Lists: pieces", "Cutting layouts", "A sheet for each part"]) {
    await desk.page.getByRole("checkbox", { name: chapter }).uncheck();
  }
  const last = desk.page.getByRole("checkbox", { name: "Jigs and set-ups" });
  await last.click();
  await desk.page.getByText("No chapter is named").waitFor();
  assert.ok(await last.isChecked(), "the refused choice is put back");
  await desk.kept();
  await desk.reload();
  assert.ok(await last.isChecked());
  await desk.page.keyboard.press("Control+Z");
  await desk.close();
});
