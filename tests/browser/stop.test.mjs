// Heavy work that is not wanted, or no longer, stops; what was there before stays, and the work can be begun anew.
import assert from "node:assert/strict";
import { test } from "node:test";
import { Desk } from "./desk.mjs";
import { running } from "./run.mjs";

const it = running();
// The offline copy is kept out, so that everything fetched is seen.
const OFFLINE = [/will not work offline/, /registration blocked/];
const MADE = /^\d+ pages, just as they will print\.$/;

/** A desk that counts its workers, those ended from the page, and what was fetched of the program of the book. */
const watched = async (options = {}) => {
  const context = await it.browser.newContext({ viewport: { width: 1440, height: 900 }, acceptDownloads: true, serviceWorkers: "block" });
  const fetched = [];
  context.on("request", (request) => /turnleaf-book.*\.wasm/.test(request.url()) && fetched.push(request.url()));
  const desk = await Desk.tab(context, it.site, (page) =>
    page.addInitScript(() => {
      [window.begun, window.ended] = [[], []];
      window.Worker = class extends Worker {
        constructor(address, how) {
          super(address, how);
          this.program = how.name.includes("book") ? "book" : "checks";
          window.begun.push(this.program);
        }
        terminate() {
          window.ended.push(this.program);
          super.terminate();
        }
      };
    }),
  );
  if (!options.start) await desk.takeUsual();
  desk.fetched = fetched;
  return desk;
};
/** Waits until the program of the book is at work on the pages. */
const atWork = (desk) => desk.page.waitForFunction(() => document.querySelector("progress.laying:not(.still)")?.value > 0);
const ended = (desk, program = "book") => desk.page.evaluate((program) => window.ended.filter((one) => one === program), program);
/** Presses what a selector finds as soon as it is there: the search may be quick. */
const whenThere = (selector) =>
  new MutationObserver((_, watch) => {
    const stop = [...document.querySelectorAll(selector)].find((button) => button.textContent === "Stop looking");
    if (stop) (watch.disconnect(), stop.click());
  }).observe(document.body, { childList: true, subtree: true });

test("making the pages can be stopped by keyboard: the older stay, it is said, and they can be made anew", async () => {
  const desk = await watched();
  await desk.page.getByText(MADE).waitFor();
  const sheet = await desk.page.locator(".sheet").first().innerHTML();
  await desk.type("Closed diameter", "1216 mm");
  const stop = desk.page.getByRole("button", { name: "Stop making the pages" });
  await atWork(desk);
  await stop.focus();
  await desk.page.keyboard.press("Enter");
  const said = desk.page.locator('[data-say="book"]');
  await said.filter({ hasText: /You stopped the making of the pages: those on show are of the older sizes/ }).waitFor();
  assert.equal(await said.getAttribute("role"), "status");
  assert.deepEqual(await ended(desk), ["book"]);
  assert.equal(await desk.page.locator("progress.laying").isVisible(), false);
  assert.equal(await desk.page.locator(".sheet").first().innerHTML(), sheet);
  assert.equal(await desk.page.locator("#closed_diameter").inputValue(), "1216 mm");
  // The focus stands on what goes on.
  await desk.page.waitForTimeout(1500);
  const on = desk.page.getByRole("button", { name: "Make the pages now" });
  assert.equal(await on.evaluate((button) => button === document.activeElement), true);
  await desk.page.keyboard.press("Enter");
  await desk.page.getByText(MADE).waitFor();
  assert.notEqual(await desk.page.locator(".sheet").first().innerHTML(), "");
  assert.equal(await on.isVisible(), false);
  // The program came over once, though it was started twice.
  assert.equal(await desk.page.evaluate(() => window.begun.filter((program) => program === "book").length), 2);
  assert.equal(desk.fetched.length, 1, `${desk.fetched}`);
  await desk.close(OFFLINE);
});

test("what was stopped is made when a size changes, and of the newest sizes", async () => {
  const desk = await watched();
  await desk.page.getByText(MADE).waitFor();
  await desk.type("Closed diameter", "1216 mm");
  await desk.page.getByRole("button", { name: "Stop making the pages" }).click();
  await desk.page.getByText(/You stopped the making of the pages/).waitFor();
  await desk.type("Closed diameter", "1218 mm");
  await desk.page.getByText(MADE).waitFor();
  await desk.page.locator('[data-number="closed.diameter"]').filter({ hasText: "1218 mm" }).waitFor();
  await desk.close(OFFLINE);
});

test("writing the book to a file can be stopped, and begun anew", async () => {
  const desk = await watched();
  await desk.page.getByText(MADE).waitFor();
  const save = desk.page.getByRole("button", { name: "Save the book" });
  await save.click();
  await desk.page.getByRole("button", { name: "Stop writing the book" }).click();
  await desk.page.getByText(/The writing of the book was stopped; no file was saved/).waitFor();
  await desk.page.waitForFunction(() => document.activeElement?.id === "save-book");
  const [file] = await Promise.all([desk.page.waitForEvent("download"), save.click()]);
  assert.match(file.suggestedFilename(), /\.pdf$/);
  await desk.close(OFFLINE);
});

test("a search for what would mend the sizes can be stopped, and begun anew", async () => {
  const desk = await watched();
  await desk.verdict();
  await desk.page.evaluate(whenThere, '[data-stop="mend"]');
  await desk.size("Closed diameter").fill("700 mm");
  await desk.page.getByText(/The search was stopped before it found anything/).first().waitFor();
  await desk.page.getByRole("button", { name: "Look again" }).first().click();
  await desk.page.getByText(/This mends it|Any one of these mends it|No change of one size alone/).first().waitFor();
  await desk.close(OFFLINE);
});

test("the search for a table of three answers can be stopped: nothing is made of it, the answers stay, and it can be begun anew", async () => {
  const desk = await watched({ start: true });
  const open = desk.page.getByRole("textbox", { name: "Diameter when open" });
  await open.fill("1700 mm");
  // The page has heard that the program of checks is there: it waits for the worker's end by its lock.
  await desk.until(async () => (await navigator.locks.query()).pending.some(({ name }) => name.startsWith("turnleaf/worker/")));
  await desk.page.evaluate(whenThere, ".three button");
  await desk.page.getByRole("button", { name: "Work out the table" }).press("Enter");
  await desk.page.getByText("The search was stopped; your answers are as they were.").waitFor();
  await desk.page.waitForFunction(() => document.activeElement?.id === "work-out");
  assert.deepEqual(await ended(desk, "checks"), ["checks"]);
  assert.equal(await open.inputValue(), "1700 mm");
  assert.equal(await desk.cards().count(), 0);
  await desk.page.keyboard.press("Enter");
  await desk.message(/^A table of \d+ sectors was found/);
  await desk.atWork();
  assert.equal(await desk.size("Open diameter").inputValue(), "1700 mm");
  await desk.close(OFFLINE);
});
