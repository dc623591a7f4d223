// The book: seen as pages, saved as PDF, the same bytes as from the terminal.
import assert from "node:assert/strict";
import { execFileSync } from "node:child_process";
import { mkdtemp, readFile, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { after, before, test } from "node:test";
import { Desk } from "./desk.mjs";
import { running } from "./run.mjs";
import { ROOT } from "./site.mjs";

const it = running();
// Set by the test command, which builds it; a run by hand finds the usual place.
const TERMINAL = process.env.TURNLEAF ?? join(ROOT, "target/debug/turnleaf");
let folder;
before(async () => (folder = await mkdtemp(join(tmpdir(), "turnleaf-"))));
after(() => rm(folder, { recursive: true }));

const text = (path) => execFileSync("pdftotext", ["-layout", path, "-"], { encoding: "utf8", maxBuffer: 1 << 26 });

async function saved(desk) {
  const { name, bytes } = await desk.download("Save the book");
  const path = join(folder, name);
  await writeFile(path, bytes);
  execFileSync("qpdf", ["--check", path]);
  return { name, path, bytes };
}

test("the book is saved as a sound PDF that holds the sizes", async () => {
  const desk = await Desk.open(it.browser, it.site);
  await desk.page.getByLabel("Name of the plan").fill("Oak table");
  await desk.page.keyboard.press("Tab");
  await desk.verdict();
  const before = await saved(desk);
  assert.equal(before.name, "oak-table.pdf");
  assert.match(text(before.path), /Oak table/);
  assert.match(text(before.path), /1200/);
  await desk.type("Closed diameter", "1234 mm");
  const after = await saved(desk);
  assert.match(text(after.path), /1234/);
  assert.notDeepEqual(after.bytes, before.bytes);
  await desk.close();
});

for (const demo of ["reading-room.json", "map-room.json", "window-table.json"]) {
  test(`the demo opens, every check holds, and browser and terminal write the same bytes: ${demo}`, async () => {
    const desk = await Desk.open(it.browser, it.site);
    const plan = join(ROOT, "demo", demo);
    await desk.openPath(plan);
    await desk.message(`Opened ${demo}`);
    assert.equal(await desk.page.getByLabel("Name of the plan").inputValue(), JSON.parse(await readFile(plan)).texts.title);
    await desk.page.waitForFunction(() => document.querySelectorAll("[data-check]").length > 0);
    assert.match(await desk.verdict(), /^All \d+ checks hold/);
    const browser = await saved(desk);
    const native = join(folder, `${demo}.pdf`);
    execFileSync(TERMINAL, ["book", plan, "-o", native]);
    assert.ok(browser.bytes.equals(await readFile(native)), "the two files differ");
    await desk.close();
  });
}

test("every page can be looked at", async () => {
  const desk = await Desk.open(it.browser, it.site);
  const contents = desk.page.locator(".contents button");
  await contents.first().waitFor();
  const count = Number((await desk.page.locator('[data-say="book"]').textContent()).match(/^(\d+) pages/)[1]);
  assert.ok(count > 5, `${count} pages`);
  for (let entry = 0; entry < (await contents.count()); entry++) {
    await contents.nth(entry).click();
    assert.equal(await contents.nth(entry).getAttribute("aria-current"), "true");
  }
  await desk.page.getByRole("radio", { name: "one page" }).check();
  await contents.first().click();
  await desk.page.locator('.sheet[data-page="0"] svg').waitFor();
  const on = desk.page.getByRole("button", { name: "Leaf on" });
  const leaf = async (to) => {
    await on.click();
    await desk.page.locator(`.sheet[data-page="${to}"] svg`).waitFor();
  };
  // From the front, and from the last entry of the contents to the end.
  for (let to = 1; to < 8; to++) await leaf(to);
  await contents.last().click();
  // The page before stays on show until the newer is drawn.
  const far = await desk.page.waitForFunction(() => {
    const shown = Number([...document.querySelectorAll(".sheet[data-page]:has(svg)")].at(-1)?.dataset.page);
    return shown > 8 && shown;
  });
  let at = await far.jsonValue();
  while (await on.isEnabled()) await leaf(++at);
  assert.equal(at, count - 1);
  await desk.close();
});

test("a link on a page leads to the page it names", async () => {
  const desk = await Desk.open(it.browser, it.site);
  const links = desk.page.locator(".sheet a");
  await desk.page.locator(".contents button").first().waitFor();
  await desk.page.getByRole("button", { name: "Leaf on" }).click();
  await links.first().waitFor();
  const name = await links.first().getAttribute("aria-label");
  assert.match(name, /^Page /);
  await links.first().click();
  await desk.page.getByRole("figure", { name }).waitFor();
  await desk.close();
});

test("pages are set in the book's own fonts", async () => {
  const desk = await Desk.open(it.browser, it.site);
  await desk.page.locator(".sheet svg text").first().waitFor();
  const known = await desk.page.evaluate(() => [...document.fonts].filter((f) => f.family.includes("Open Sans")).length);
  // Three that come whole with the program of books, and two parts of them that the page begins with.
  assert.equal(known, 5);
  assert.ok(await desk.page.evaluate(() => document.fonts.check('12px "Open Sans"')));
  await desk.close();
});

test("how long each piece of the work takes is noted", async () => {
  const desk = await Desk.open(it.browser, it.site);
  await desk.verdict();
  await desk.type("Closed diameter", "1210 mm");
  await desk.page.locator(".sheet svg text").filter({ hasText: "1210" }).first().waitFor({ state: "attached" });
  await saved(desk);
  const said = [];
  for (const name of ["solve", "build", "book", "pages", "pdf"]) {
    const times = (await desk.measures(name)).sort((a, b) => a - b);
    assert.ok(times.length > 0, `${name} was measured`);
    said.push(`${name} ${times[Math.floor(times.length / 2)].toFixed(1)} ms (median of ${times.length})`);
  }
  console.log(`in WebAssembly: ${said.join(", ")}`);
  await desk.close();
});
