// Build steps: read, reworded, moved, hidden, added, with notes and pictures, by the keyboard, and undone.
import assert from "node:assert/strict";
import { test } from "node:test";
import zlib from "node:zlib";
import { Desk } from "./desk.mjs";
import { running } from "./run.mjs";

const it = running();

/** The lines of the list, as numbered. */
const titles = (desk) => desk.page.locator(".steps summary").allTextContents();

/** The step with an identifier, opened by the keyboard. */
async function opened(desk, id) {
  const step = desk.page.locator(`[data-step="${id}"]`);
  await step.locator("summary").focus();
  await desk.page.keyboard.press("Enter");
  await step.getByRole("textbox", { name: "Title" }).waitFor();
  return step;
}

async function write(desk, step, box, text) {
  await step.getByRole("textbox", { name: box }).focus();
  await desk.page.keyboard.press("Control+A");
  await desk.page.keyboard.insertText(text);
  await desk.page.keyboard.press("Tab");
}

/** A grey PNG, made here from the standard's own parts (ISO/IEC 15948). */
function png(width, height) {
  const chunk = (name, data) => {
    const body = Buffer.concat([Buffer.from(name, "latin1"), data]);
    const [length, sum] = [Buffer.alloc(4), Buffer.alloc(4)];
    length.writeUInt32BE(data.length);
    sum.writeUInt32BE(zlib.crc32(body));
    return Buffer.concat([length, body, sum]);
  };
  const head = Buffer.alloc(13);
  head.writeUInt32BE(width, 0);
  head.writeUInt32BE(height, 4);
  head.set([8, 0, 0, 0, 0], 8);
  const rows = Buffer.alloc((width + 1) * height, 120);
  for (let y = 0; y < height; y++) rows[y * (width + 1)] = 0;
  const sign = Buffer.from([0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a]);
  return Buffer.concat([sign, chunk("IHDR", head), chunk("IDAT", zlib.deflateSync(rows)), chunk("IEND", Buffer.alloc(0))]);
}

test("a step is reworded with a living number, and an unknown one is told with the nearest", async () => {
  const desk = await Desk.open(it.browser, it.site);
  await desk.verdict();
  const step = await opened(desk, "make/top");
  assert.match(await step.getByRole("textbox", { name: "Text" }).inputValue(), /\[=gap\.width\]/);
  await write(desk, step, "Title", "Saw the top");
  await write(desk, step, "Text", "Gaps are [=gap.width] wide.");
  await step.locator(".said p").filter({ hasText: "Gaps are 225 mm wide." }).waitFor();
  assert.match((await titles(desk))[1], /^2 {2}Saw the top/);
  await write(desk, step, "Notes", "Mind the [=gap.widht].");
  const told = desk.page.locator("#step-remarks .wrong");
  await told.first().waitFor();
  assert.match(await told.first().textContent(), /Saw the top.*note 1.*“gap\.widht”.*“gap\.width”/);
  await desk.page.keyboard.press("Control+Z");
  await told.first().waitFor({ state: "detached" });
  await desk.close();
});

test("an answer that comes while one types takes nothing away", async () => {
  const desk = await Desk.open(it.browser, it.site);
  await desk.verdict();
  const step = await opened(desk, "make/top");
  const text = step.getByRole("textbox", { name: "Text" });
  const answers = async () => (await desk.measures("build")).length;
  const before = await answers();
  await write(desk, step, "Title", "Saw the top");
  await text.focus();
  await desk.page.keyboard.press("Control+A");
  await desk.page.keyboard.insertText("Half a sentence");
  // The answer to the new title comes while the text is still being typed.
  await desk.page.waitForFunction((n) => performance.getEntriesByName("build", "measure").length > n, before);
  await desk.page.locator(".steps summary").filter({ hasText: "Saw the top" }).waitFor();
  assert.equal(await text.inputValue(), "Half a sentence");
  await desk.close();
});

test("steps are moved, hidden, added and put back, and undo takes it back", async () => {
  const desk = await Desk.open(it.browser, it.site);
  await desk.verdict();
  const before = await titles(desk);
  const step = await opened(desk, "make/bars");
  await step.getByRole("button", { name: "Move up" }).press("Enter");
  await desk.page.waitForFunction(
    (was) => document.querySelectorAll(".steps summary")[11].textContent !== was,
    before[11],
  );
  assert.match((await titles(desk))[11], /^12 {2}Bar/);
  await step.getByRole("button", { name: "Hide from the book" }).press("Enter");
  await step.locator("summary").filter({ hasText: /^hidden/ }).waitFor();
  await step.getByRole("button", { name: "Add a step behind" }).press("Enter");
  await desk.page.locator('[data-step="own/1"]').waitFor();
  assert.equal((await titles(desk)).length, before.length + 1);
  await desk.page.locator('[data-step="own/1"] summary').filter({ hasText: "12" }).waitFor();
  for (let i = 0; i < 3; i++) {
    await desk.page.keyboard.press("Control+Z");
  }
  await desk.page.waitForFunction((many) => document.querySelectorAll(".steps summary").length === many, before.length);
  await desk.close();
});

test("a picture is kept with its caption, and rubbish is refused with a sentence", async () => {
  const desk = await Desk.open(it.browser, it.site);
  await desk.verdict();
  const step = await opened(desk, "fit/base");
  const file = step.getByLabel("and is the file");
  await step.getByRole("textbox", { name: "A picture shows" }).fill("The plate on its frame");
  await file.setInputFiles({ name: "rubbish.png", mimeType: "image/png", buffer: Buffer.from("no picture") });
  await desk.message(/neither PNG nor JPEG/);
  await file.setInputFiles({ name: "plate.png", mimeType: "image/png", buffer: png(60, 40) });
  await step.locator(".pictures li").filter({ hasText: "The plate on its frame (60 × 40 dots)" }).waitFor();
  await desk.reload();
  await desk.verdict();
  const again = await opened(desk, "fit/base");
  await again.getByRole("button", { name: /^Take the picture/ }).press("Enter");
  await again.locator(".pictures li").first().waitFor({ state: "detached" });
  await desk.close();
});
