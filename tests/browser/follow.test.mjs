// What follows a size that is typed, and in which order.
import assert from "node:assert/strict";
import { test } from "node:test";
import { Desk } from "./desk.mjs";
import { running } from "./run.mjs";

const it = running();

/** Puts texts into a box one after the other, as fast as the page takes them; how many tables were solved at once, and in the end, when so many were waited for. */
const typed = (desk, texts, follows) =>
  desk.page.evaluate(async ({ texts, follows }) => {
    const box = document.getElementById("closed_diameter");
    const solved = () => performance.getEntriesByName("solve", "measure").length;
    const before = solved();
    for (const text of texts) {
      box.value = text;
      box.dispatchEvent(new InputEvent("input", { bubbles: true }));
      await Promise.resolve();
    }
    const atOnce = solved() - before;
    // A slow machine is given time for what should come; then, and where nothing should, what more might.
    for (let waits = 0; solved() - before < follows && waits < 600; waits++) await new Promise((done) => setTimeout(done, 50));
    await new Promise((done) => requestAnimationFrame(() => setTimeout(done, 300)));
    return [atOnce, solved() - before];
  }, { texts, follows });

test("a letter is shown before the table follows, and of letters that come at once the last is followed", async () => {
  const desk = await Desk.open(it.browser, it.site);
  await desk.verdict();
  const texts = ["1201 mm", "1202 mm", "1203 mm", "1204 mm", "1210 mm"];
  assert.deepEqual(await typed(desk, texts, 1), [0, 1]);
  // The drawing says how wide the table is across (closed: the size itself).
  await desk.page.locator("svg.plan .across").filter({ hasText: "1210 mm" }).waitFor();
  // The same size again has nothing to follow.
  assert.deepEqual(await typed(desk, ["1210 mm"], 0), [0, 0]);
  // Proof and book are of the last one too.
  await desk.page.locator('[data-number="closed.diameter"]').filter({ hasText: "1210 mm" }).waitFor();
  await desk.close();
});

test("a sheet that is looked at follows the sizes before the book does, and is the one the book has then", async () => {
  const desk = await Desk.open(it.browser, it.site);
  await desk.page.locator(".sheet svg").first().waitFor();
  await desk.page.getByRole("radio", { name: "one page" }).check();
  await desk.page.locator(".contents button").filter({ hasText: /^Panel\d/ }).first().click();
  const sheet = desk.page.getByRole("figure", { name: /^Page \d+: Panel/ });
  await sheet.waitFor();
  await desk.page.locator(".lectern").scrollIntoViewIfNeeded();
  const was = await sheet.innerHTML();
  // What is shown is noted at every change, since the book may come soon after.
  await desk.page.evaluate(() => {
    window.early = [];
    const note = () => {
      const sheet = document.querySelector(".sheet.early");
      if (sheet) window.early.push([sheet.innerHTML, document.querySelector('[data-say="book"]').textContent]);
    };
    new MutationObserver(note).observe(document.querySelector(".lectern"), { childList: true, subtree: true, attributes: true });
  });
  // Of this size the book has as many pages before it.
  await typed(desk, ["1210 mm"], 1);
  await desk.page.waitForFunction(() => window.early.length > 0);
  await desk.page.getByText(/^\d+ pages, just as they will print\.$/).waitFor();
  await desk.page.waitForFunction(() => !document.querySelector(".sheet.early"));
  const [[early, said]] = await desk.page.evaluate(() => window.early);
  assert.notEqual(early, was);
  assert.equal(early, await sheet.innerHTML());
  assert.match(said, /of the new sizes already/);
  await desk.close();
});

test("while a book is made a bar says how far it is, and goes when it stands", async () => {
  const desk = await Desk.open(it.browser, it.site);
  const bar = desk.page.locator("progress.laying");
  await desk.page.getByText(/^\d+ pages, just as they will print\.$/).waitFor();
  assert.equal(await bar.isVisible(), false);
  await bar.evaluate((bar) => {
    window.far = [];
    new MutationObserver(() => bar.checkVisibility({ visibilityProperty: true }) && window.far.push(bar.value)).observe(bar, { attributes: true });
  });
  await desk.type("Closed diameter", "1215 mm");
  await bar.waitFor({ state: "visible" });
  await bar.waitFor({ state: "hidden" });
  const far = await desk.page.evaluate(() => window.far);
  // Some forty drawings are made; the page need not have had time to show each.
  assert.ok(new Set(far).size > 4, `${far}`);
  assert.ok(far.every((share, i) => share <= 1 && (i === 0 || share >= far[i - 1])), `${far}`);
  await desk.close();
});

test("the part that is looked at stays on show though pages before it go", async () => {
  const desk = await Desk.open(it.browser, it.site);
  const count = async () => Number((await desk.page.getByText(/^\d+ pages, just as they will print\.$/).textContent()).match(/^\d+/)[0]);
  const before = await count();
  await desk.page.getByRole("radio", { name: "one page" }).check();
  await desk.page.locator(".contents button").filter({ hasText: /^Panel\d/ }).first().click();
  const sheet = desk.page.getByRole("figure", { name: /^Page \d+: Panel$/ });
  await sheet.waitFor();
  const label = await sheet.getAttribute("aria-label");
  await desk.type("Closed diameter", "1230 mm");
  await desk.page.getByText(/being laid out anew/).waitFor();
  assert.notEqual(await count(), before, "another size is wanted here, of which the book has fewer pages");
  await desk.page.waitForFunction((label) => document.querySelector(".sheet").getAttribute("aria-label") !== label, label);
  assert.match(await desk.page.locator(".sheet").first().getAttribute("aria-label"), /^Page \d+: Panel$/);
  await desk.close();
});
