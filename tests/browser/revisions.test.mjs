// The maker's relation with buyers: issuing revisions, comparing them, the change notice, questions and answers.
import assert from "node:assert/strict";
import { createHash } from "node:crypto";
import { test } from "node:test";
import { Desk } from "./desk.mjs";
import { running } from "./run.mjs";
import { violations } from "./axe.mjs";

const it = running();

/** Issues the revision under work, by mouse or by the keyboard alone. */
async function issue(desk, date, why, press = (button) => button.click()) {
  const page = desk.page;
  await page.locator("#revision-date").fill(date);
  await page.locator("#revision-why").fill(why);
  await page.locator("#revision-why").press("Tab");
  await press(page.getByRole("button", { name: /^Look (it over|over what changed)/ }));
  const issue = page.getByRole("button", { name: /^Issue revision/ });
  await page.waitForFunction(() => [...document.querySelectorAll("button.main")].some((b) => /^Issue revision/.test(b.textContent) && !b.disabled));
  const mark = (await issue.textContent()).match(/revision (\w+)/)[1];
  await press(issue);
  await page.locator(`[data-revision="${mark}"]`).waitFor();
  return mark;
}

const enter = (button) => button.press("Enter");

test("issue, change, compare: the issued book stays what it was", async () => {
  const desk = await Desk.open(it.browser, it.site);
  const page = desk.page;
  await desk.verdict();
  await page.getByRole("button", { name: "Look it over" }).click();
  await page.locator("#issue-note").filter({ hasText: "The revision has no date" }).waitFor();
  assert.equal(await issue(desk, "2026-02-01", "First issue."), "A");
  const first = await desk.download(/^Its book/);
  await desk.message(/the issued file of revision A, byte for byte/);
  // A change, and the list of it before the next issue.
  await desk.type("Tongue depth", "8 mm");
  await desk.verdict();
  await page.getByRole("button", { name: "Look over what changed since A" }).click();
  const size = page.locator('.looked [data-changed="tongue_depth"]');
  await size.waitFor();
  assert.match(await size.textContent(), /6\smm.*8\smm.*\+2 mm/);
  // Typing on makes what was looked over old: it cannot be issued unseen.
  await desk.type("Tongue depth", "7 mm");
  await page.getByText("The plan was changed since you looked it over").waitFor();
  assert.ok(await page.getByRole("button", { name: "Issue revision B" }).isDisabled());
  assert.equal(await issue(desk, "2026-03-01", "Deeper tongues, as a buyer asked."), "B");
  // Undo takes the size back, never the revision.
  await page.getByRole("button", { name: /^Undo: words/ }).waitFor();
  while (!(await page.getByRole("button", { name: "Nothing to undo" }).count())) await page.getByRole("button", { name: /^Undo/ }).click();
  assert.equal(await desk.size("Tongue depth").inputValue(), "6 mm");
  assert.equal(await page.locator("[data-revision]").count(), 2);
  // Two issued revisions compared; the sheet of the panel laid over; the cut parts; the notice.
  await page.locator("#compare-old").selectOption("A");
  await page.locator("#compare-new").selectOption("B");
  await page.getByRole("button", { name: "Compare", exact: true }).click();
  await page.locator('[data-say="compared"]').filter({ hasText: /^From revision A to revision B: 1 size/ }).waitFor();
  const panel = page.locator('.cut-parts [data-part="panel"]');
  assert.notEqual(await panel.getAttribute("data-fate"), "still good");
  assert.match(await panel.textContent(), /\d mm/);
  await page.locator("#laid-page").selectOption("sheet/panel");
  await page.waitForFunction(() => document.querySelectorAll(".laid .was svg text").length > 0 && document.querySelectorAll(".laid .is svg text").length > 0);
  const dash = await page.locator(".laid .was svg path[stroke]").first().evaluate((path) => getComputedStyle(path).strokeDasharray);
  assert.notEqual(dash, "none");
  const opacity = (layer) => page.locator(`.laid .${layer}`).evaluate((at) => Number(getComputedStyle(at).opacity));
  await page.locator("#laid-share").press("Home");
  assert.deepEqual([await opacity("was"), await opacity("is")], [1, 0]);
  await page.locator("#laid-share").press("End");
  assert.deepEqual([await opacity("was"), await opacity("is")], [0, 1]);
  const hold = page.getByRole("button", { name: "Hold to see the older" });
  await hold.hover();
  await page.mouse.down();
  assert.equal(await opacity("was"), 1);
  await page.mouse.up();
  assert.equal(await opacity("was"), 0);
  // The first book, again, after everything and a reload.
  await desk.kept();
  await desk.reload();
  await desk.verdict();
  const coming = page.waitForEvent("download");
  await page.locator('[data-revision="A"] button').click();
  const chunks = [];
  for await (const chunk of await (await coming).createReadStream()) chunks.push(chunk);
  const print = (bytes) => createHash("sha256").update(bytes).digest("hex");
  assert.equal(print(Buffer.concat(chunks)), print(first.bytes));
  await desk.close();
});

test("questions are written down, filtered, answered and printed, by the keyboard alone and at 360 px", async () => {
  const desk = await Desk.open(it.browser, it.site, { width: 360, height: 740 });
  const page = desk.page;
  await desk.verdict();
  await page.waitForFunction(() => document.querySelectorAll("#question-thing option").length > 100);
  // A radius of the panel, from the list.
  const form = page.locator("form").filter({ hasText: "It is about" });
  const dimension = await page.locator("#question-thing option[value^='panel/dim/']").first().getAttribute("value");
  await page.locator("#question-thing").selectOption(dimension);
  await form.getByRole("textbox", { name: "Asked by" }).fill("Buyer 7");
  await form.getByRole("textbox", { name: "The question" }).fill("Is this measured to the tongue?");
  await enter(form.getByRole("button", { name: "Write it down" }));
  await page.locator('[data-question="1"]').waitFor();
  // A second one about the book.
  await page.locator("#question-about").selectOption("book");
  await form.getByRole("textbox", { name: "The question" }).fill("May I sell what I build?");
  await enter(form.getByRole("button", { name: "Write it down" }));
  const second = page.locator('[data-question="2"]');
  await second.waitFor();
  await enter(second.locator("summary"));
  await second.getByRole("radio", { name: "declined" }).press("Space");
  await second.getByRole("textbox", { name: "Why not" }).fill("The licence says so.");
  await second.getByRole("textbox", { name: "Why not" }).press("Tab");
  const first = page.locator('[data-question="1"]');
  await enter(first.locator("summary"));
  await first.getByRole("radio", { name: "answered" }).press("Space");
  await first.getByRole("textbox", { name: "The answer" }).fill("To the edge, without the tongue.");
  await first.getByRole("textbox", { name: "The answer" }).press("Tab");
  await first.getByRole("checkbox").press("Space");
  await first.locator("summary").filter({ hasText: "answered in revision A, printed" }).waitFor();
  // Filters.
  const listed = () => page.locator("[data-question]").count();
  await page.getByRole("radio", { name: /^declined \(1\)/ }).press("Space");
  await page.getByText("1 of 2 listed.").waitFor();
  assert.equal(await page.locator("[data-question]").getAttribute("data-question"), "2");
  await page.getByRole("radio", { name: /^all \(2\)/ }).press("Space");
  await page.getByRole("searchbox", { name: "with the words" }).fill("TONGUE");
  await page.getByText("1 of 2 listed.").waitFor();
  assert.equal(await listed(), 1);
  assert.deepEqual(await violations(desk), []);
  assert.ok((await page.evaluate(() => document.documentElement.scrollWidth)) <= 360);
  // Who asked is in the maker's plan file, not in the book; the answer is printed.
  const plan = await desk.download("Save the plan");
  assert.ok(plan.bytes.includes("Buyer 7"));
  await page.waitForFunction(() => document.querySelector('[data-say="book"]').textContent.includes("just as they will print"));
  const book = await desk.download("Save the book");
  await desk.openPath({ name: "book.pdf", mimeType: "application/pdf", buffer: book.bytes });
  await desk.message(/^Opened book\.pdf/);
  await page.getByRole("searchbox", { name: "with the words" }).fill("");
  await page.locator('[data-question="1"]').waitFor();
  const inside = await desk.download("Save the plan");
  assert.ok(inside.bytes.includes("without the tongue") && !inside.bytes.includes("Buyer 7") && !inside.bytes.includes("May I sell"));
  await desk.close();
});

test("a dimension is chosen by a press on it in the pages", async () => {
  const desk = await Desk.open(it.browser, it.site);
  const page = desk.page;
  await desk.verdict();
  await page.locator(".contents button").filter({ hasText: /^Panel/ }).first().click();
  const figure = page.locator('.sheet [data-role="dimension"][data-id^="panel/dim/"]').first();
  await figure.waitFor();
  await page.getByRole("button", { name: "Point at it in the pages" }).click();
  const id = await figure.getAttribute("data-id");
  await figure.locator("text").first().click();
  await page.waitForFunction((id) => document.querySelector("#question-thing").value === id, id);
  await page.waitForFunction(() => document.activeElement.id === "question-thing");
  await desk.close();
});
