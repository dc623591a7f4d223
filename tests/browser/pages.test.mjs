// The pages of the book on the screen and from the printer.
import assert from "node:assert/strict";
import { execFileSync } from "node:child_process";
import { mkdtemp, readFile, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { after, before, test } from "node:test";
import { Desk } from "./desk.mjs";
import { running } from "./run.mjs";

const it = running();
let folder;
before(async () => (folder = await mkdtemp(join(tmpdir(), "turnleaf-"))));
after(() => rm(folder, { recursive: true }));

const laid = (desk) => desk.page.locator(".sheet svg").first().waitFor();
const open = (desk) => desk.page.locator(".sheet").evaluateAll((all) => all.map((sheet) => Number(sheet.dataset.page)));
const hits = (desk) => desk.page.locator('[data-say="hits"]');

test("words are looked for, counted and marked, on and back, and none are said", async () => {
  const desk = await Desk.open(it.browser, it.site);
  await laid(desk);
  await desk.page.getByLabel("Look for").fill("router");
  await hits(desk).filter({ hasText: /^1 of \d+$/ }).waitFor();
  const many = Number((await hits(desk).textContent()).match(/of (\d+)/)[1]);
  assert.ok(many > 3, `${many} hits`);
  await desk.page.locator(".sheet .this-hit").first().waitFor();
  await desk.page.getByLabel("Look for").press("Shift+Enter");
  await hits(desk).filter({ hasText: `${many} of ${many}` }).waitFor();
  await desk.page.getByRole("button", { name: "Next hit" }).click();
  await hits(desk).filter({ hasText: `1 of ${many}` }).waitFor();
  // The mark lies under its word: both boxes share most of their place.
  await desk.until(() => {
    const mark = document.querySelector(".sheet .this-hit path").getBoundingClientRect();
    return [...document.querySelectorAll(".sheet svg text")].some((text) => {
      const box = text.getBoundingClientRect();
      const inside = mark.left >= box.left - 1 && mark.right <= box.right + 1;
      return /router/i.test(text.textContent) && inside && Math.abs(mark.top + mark.bottom - box.top - box.bottom) < box.height;
    });
  });
  await desk.page.getByLabel("Look for").fill("grand piano");
  await hits(desk).filter({ hasText: "stands nowhere" }).waitFor();
  await desk.close();
});

test("a page is turned to by its label; one that is not there is said", async () => {
  const desk = await Desk.open(it.browser, it.site, { width: 360, height: 740 });
  await laid(desk);
  await desk.page.getByLabel("Page", { exact: true }).fill("12");
  await desk.page.keyboard.press("Enter");
  await desk.page.getByRole("figure", { name: /^Page 12:/ }).waitFor();
  await desk.page.getByLabel("Page", { exact: true }).fill("xyz");
  await desk.page.keyboard.press("Enter");
  await desk.page.getByText("There is no page “xyz”").waitFor();
  await desk.page.getByRole("figure", { name: /^Page 12:/ }).waitFor();
  await desk.close();
});

test("pages come nearer by buttons, keys, wheel and pinch, and what is under the hand stays", async () => {
  const desk = await Desk.open(it.browser, it.site, { hasTouch: true });
  await laid(desk);
  const room = desk.page.getByRole("region", { name: /^Pages lying open/ });
  const wide = () => desk.page.locator(".lectern .facing").evaluate((facing) => parseFloat(facing.style.width));
  await room.focus();
  await desk.page.keyboard.press("PageDown");
  await desk.page.waitForFunction(() => document.querySelector(".sheet").dataset.page === "1");
  await desk.page.keyboard.press("+");
  await desk.page.keyboard.press("+");
  assert.ok(Math.abs((await wide()) - 156.25) < 0.1, `${await wide()}`);
  await desk.page.keyboard.press("0");
  assert.equal(await wide(), 100);
  await desk.page.getByRole("button", { name: "Farther" }).click();
  assert.equal(await wide(), 80);
  await desk.page.getByRole("button", { name: "Fit the room" }).click();
  await room.hover({ position: { x: 400, y: 120 } });
  await desk.page.keyboard.down("Control");
  await desk.page.mouse.wheel(0, -250);
  await desk.page.keyboard.up("Control");
  await desk.page.waitForFunction(() => parseFloat(document.querySelector(".lectern .facing").style.width) > 120);
  const near = await wide();
  await desk.page.evaluate(() => {
    const room = document.querySelector(".lectern");
    const seen = room.getBoundingClientRect();
    const finger = (kind, id, dx) =>
      room.dispatchEvent(
        new PointerEvent(kind, { pointerId: id, pointerType: "touch", bubbles: true, clientX: seen.left + 200 + dx, clientY: seen.top + 100 }),
      );
    finger("pointerdown", 1, -50);
    finger("pointerdown", 2, 50);
    finger("pointermove", 2, 150);
    finger("pointerup", 1, -50);
    finger("pointerup", 2, 150);
  });
  assert.ok(Math.abs((await wide()) / near - 2) < 0.02, "fingers twice as far apart, pages twice as large");
  await desk.close();
});

test("small pages are drawn as they come into sight and open their page", async () => {
  const desk = await Desk.open(it.browser, it.site);
  await laid(desk);
  await desk.page.getByRole("radio", { name: "small pages" }).check();
  await desk.page.locator('[data-thumb="0"] img').waitFor();
  await desk.page.locator('[data-thumb="30"]').scrollIntoViewIfNeeded();
  await desk.page.locator('[data-thumb="30"] img').waitFor();
  await desk.page.locator('[data-thumb="30"]').click();
  await desk.page.waitForFunction(() => [...document.querySelectorAll(".sheet")].some((s) => s.dataset.page === "30"));
  assert.ok((await open(desk)).includes(30));
  await desk.close();
});

test("a printed figure leads back to the size or the rule behind it, by mouse and by keyboard", async () => {
  const desk = await Desk.open(it.browser, it.site);
  await laid(desk);
  const list = desk.page.locator(".sources");
  // The chapter of sizes has figures of either kind.
  await desk.page.locator(".contents button").filter({ hasText: "sizes" }).first().click();
  const figure = desk.page.locator(".sheet [data-origin^='size/'] text").first();
  await figure.waitFor();
  const origin = await figure.evaluate((text) => text.closest("[data-origin]").dataset.origin);
  await figure.click();
  await desk.page.waitForFunction((origin) => `size/${document.activeElement.id}` === origin, origin);
  await list.locator("summary").focus();
  await desk.page.keyboard.press("Enter");
  const back = list.locator("button[data-leads^='solved/']").first();
  await back.waitFor();
  const leads = await back.getAttribute("data-leads");
  await back.press("Enter");
  await desk.page.waitForFunction((leads) => `solved/${document.activeElement.dataset.number}` === leads, leads);
  await desk.close();
});

/** The longest runs of dark dots, a picture at 10 dots a millimetre: lengths in tenths of a millimetre. */
function runs(pgm, across) {
  const head = pgm.subarray(0, 40).toString("latin1").match(/^P5\s+(\d+)\s+(\d+)\s+255\s/);
  const [width, height] = [Number(head[1]), Number(head[2])];
  const dots = pgm.subarray(head[0].length);
  const found = new Set();
  for (let j = 0; j < (across ? height : width); j++) {
    let run = 0;
    for (let i = 0; i <= (across ? width : height); i++) {
      const inside = i < (across ? width : height);
      const dark = inside && dots[across ? j * width + i : i * width + j] < 110;
      if (dark) run++;
      else if (run) {
        found.add(run);
        run = 0;
      }
    }
  }
  return found;
}

// ISO 216 and ANSI/ASME Y14.1, in points of 1/72 in.
for (const [paper, ...size] of [["a4", (210 / 25.4) * 72, (297 / 25.4) * 72], ["letter", 612, 792]]) {
  test(`the browser prints the book alone, each page on its paper, at full size: ${paper}`, async () => {
    const desk = await Desk.open(it.browser, it.site);
    await desk.page.addInitScript(() => (window.print = () => (window.asked = true)));
    await desk.reload();
    await desk.verdict();
    await desk.page.getByLabel("Printed on").selectOption(paper);
    // A few chapters are enough: the sheets of paper are what is looked at.
    await desk.page.getByRole("radio", { name: "chosen chapters" }).check();
    for (const key of ["How it moves", "Cutting layouts", "Drawings of the whole table", "Setting up", "Strength", "Notes", "Glossary", "A sheet for each part", "Building it", "Lists"]) {
      await desk.page.getByRole("checkbox", { name: key }).uncheck();
    }
    await desk.page.waitForFunction(() => document.querySelector('[data-say="book"]').textContent.endsWith("just as they will print."));
    const count = Number((await desk.page.locator('[data-say="book"]').textContent()).match(/^(\d+)/)[1]);
    await desk.page.keyboard.press("Control+P");
    await desk.page.waitForFunction(() => window.asked === true, null, { timeout: 20_000 });
    const path = join(folder, `${paper}.pdf`);
    await writeFile(path, await desk.page.pdf({ preferCSSPageSize: true, printBackground: true }));
    const info = execFileSync("pdfinfo", ["-f", "1", "-l", "999", path], { encoding: "utf8" });
    const sizes = info.split("\n").filter((line) => /^Page +\d+ size/.test(line));
    assert.equal(sizes.length, count, "one page a sheet, none besides");
    for (const line of sizes) {
      const sides = line.match(/size: +([\d.]+) x ([\d.]+)/).slice(1).map(Number).sort((a, b) => a - b);
      // Within half a point, which is 0.18 mm: the browser counts in dots of 1/96 in.
      assert.ok(Math.abs(sides[0] - size[0]) < 0.5 && Math.abs(sides[1] - size[1]) < 0.5, line);
    }
    const words = execFileSync("pdftotext", ["-layout", path, "-"], { encoding: "utf8" });
    assert.doesNotMatch(words, /Leaf on|Save the plan/, "nothing but the book");
    // The page with the check bars, known by its words, at 254 dots an inch.
    const page = words.split("\f").findIndex((text) => /100 mm/.test(text) && /4 in/.test(text) && /bar/i.test(text)) + 1;
    assert.ok(page > 0, "the page of the check bars is there");
    const pictures = [];
    for (let one = 1; one <= count; one++) {
      const text = words.split("\f")[one - 1];
      if (/100 mm/.test(text) && /4 in/.test(text)) pictures.push(one);
    }
    const lengths = { across: new Set(), along: new Set() };
    for (const one of pictures) {
      const stem = join(folder, `${paper}-${one}`);
      execFileSync("pdftoppm", ["-r", "254", "-gray", "-f", String(one), "-l", String(one), "-singlefile", path, stem]);
      const pgm = await readFile(`${stem}.pgm`);
      for (const run of runs(pgm, true)) lengths.across.add(run);
      for (const run of runs(pgm, false)) lengths.along.add(run);
    }
    const near = (set, tenths) => [tenths - 3, tenths - 2, tenths - 1, tenths, tenths + 1, tenths + 2, tenths + 3].some((run) => set.has(run));
    // 100 mm and 4 in (101.6 mm exactly), within 0.3 mm, across and along the sheet.
    assert.ok(near(lengths.across, 1000) && near(lengths.along, 1000), "100 mm bars");
    assert.ok(near(lengths.across, 1016) && near(lengths.along, 1016), "4 in bars");
    await desk.page.evaluate(() => window.dispatchEvent(new Event("afterprint")));
    await desk.page.locator(".paper").first().waitFor({ state: "detached" });
    await desk.close();
  });
}
