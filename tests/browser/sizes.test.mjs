// Sizes: typed by keyboard, understood, refused with a sentence, kept over a reload.
import assert from "node:assert/strict";
import { readFile } from "node:fs/promises";
import { join } from "node:path";
import { test } from "node:test";
import { Desk } from "./desk.mjs";
import { running } from "./run.mjs";
import { ROOT } from "./site.mjs";

const it = running();

test("changing the closed diameter changes drawing and numbers", async () => {
  const desk = await Desk.open(it.browser, it.site);
  await desk.verdict();
  const [before, panel] = [await desk.number("closed.diameter").textContent(), "panel/1"];
  const shape = () => desk.page.locator(`svg.plan [data-piece="${panel}"]`).getAttribute("d");
  const drawn = await shape();
  await desk.type("Closed diameter", "1240");
  assert.equal(await desk.understood("Closed diameter"), "= 1240 mm");
  await desk.page.waitForFunction(
    (before) => document.querySelector('[data-number="closed.diameter"] td')?.textContent !== before,
    before,
  );
  assert.match(await desk.number("closed.diameter").textContent(), /^1240/);
  assert.notEqual(await shape(), drawn);
  await desk.close();
});

test("inches and feet are understood as typed", async () => {
  const desk = await Desk.open(it.browser, it.site);
  await desk.type("Closed diameter", "47 1/4\"");
  assert.match(await desk.understood("Closed diameter"), /1200\.15 mm/);
  await desk.type("Height", "2'5\"");
  assert.match(await desk.understood("Height"), /736\.6 mm/);
  await desk.close();
});

test("a text that is no size is refused with a sentence and stays in its box", async () => {
  const desk = await Desk.open(it.browser, it.site);
  await desk.type("Closed diameter", "as wide as the room");
  await desk.wrong("Closed diameter").waitFor();
  assert.match(await desk.wrong("Closed diameter").textContent(), /cannot be read/);
  assert.equal(await desk.size("Closed diameter").getAttribute("aria-invalid"), "true");
  assert.equal(await desk.size("Closed diameter").inputValue(), "as wide as the room");
  assert.match(await desk.verdict(), /^All \d+ checks hold/);
  await desk.size("Closed diameter").press("Escape");
  assert.equal(await desk.size("Closed diameter").inputValue(), "1200 mm");
  assert.equal(await desk.wrong("Closed diameter").count(), 0);
  await desk.close();
});

test("spaces may be typed inside a size", async () => {
  const desk = await Desk.open(it.browser, it.site);
  await desk.type("Height", "2 ft 5 in");
  assert.equal(await desk.size("Height").inputValue(), "2 ft 5 in");
  await desk.close();
});

test("the travel takes the place of the open diameter", async () => {
  const desk = await Desk.open(it.browser, it.site);
  await desk.type("Travel", "215 mm");
  assert.equal(await desk.size("Open diameter").inputValue(), "");
  await desk.page.waitForFunction(() =>
    document.getElementById("open_diameter-understood").textContent.includes("1630 mm"),
  );
  await desk.close();
});

test("sizes at odds are said, with what would mend them, and the last table stays on show", async () => {
  const desk = await Desk.open(it.browser, it.site);
  await desk.verdict();
  await desk.type("Closed diameter", "800 mm");
  await desk.page.locator("#checks .troubles li").first().waitFor();
  assert.equal(await desk.verdict(), "These sizes give no table that works.");
  assert.equal(await desk.page.locator("svg.plan [data-piece^='panel/']").count(), 6);
  // The first change offered is made with the keyboard, and gives a table that passes every check.
  const change = desk.page.locator("#checks .changes button").first();
  await change.waitFor();
  await change.press("Enter");
  await desk.page.locator("#checks .troubles").waitFor({ state: "detached" });
  assert.match(await desk.verdict(), /^All \d+ checks hold/);
  await desk.close();
});

test("work survives a reload, what cannot be used included", async () => {
  const desk = await Desk.open(it.browser, it.site);
  await desk.type("Closed diameter", "1190 mm");
  await desk.type("Height", "as high as it goes");
  await desk.page.getByLabel("Name of the plan").fill("Reading table");
  await desk.slider.press("End");
  await desk.page.waitForTimeout(400);
  await desk.kept();
  await desk.reload();
  assert.equal(await desk.size("Closed diameter").inputValue(), "1190 mm");
  assert.equal(await desk.size("Height").inputValue(), "as high as it goes");
  assert.equal(await desk.page.getByLabel("Name of the plan").inputValue(), "Reading table");
  assert.ok((await desk.turn()) > 60);
  await desk.close();
});

test("leaving the page at once loses nothing", async () => {
  const desk = await Desk.open(it.browser, it.site);
  await desk.type("Closed diameter", "1170 mm");
  await desk.reload();
  assert.equal(await desk.size("Closed diameter").inputValue(), "1170 mm");
  await desk.close();
});

test("kept work that is broken is put aside and said, and the app opens", async () => {
  const desk = await Desk.open(it.browser, it.site);
  for (const rubbish of ["{\"kept\":1,\"plan\":\"{", "null", "\u0000", "{\"kept\":1,\"plan\":\"[]\"}"]) {
    // The page keeps its own work when it is left, so the rubbish is laid down from a page without the app.
    await desk.page.goto(`${desk.address}icon.svg`);
    await desk.page.evaluate((rubbish) => localStorage.setItem("turnleaf/work", rubbish), rubbish);
    await desk.arrive();
    await desk.message("put aside");
    assert.equal(await desk.size("Closed diameter").inputValue(), "1200 mm");
    // What was put aside is offered as a file, to the letter.
    await desk.allPlans();
    const coming = desk.page.waitForEvent("download");
    await desk.page.getByRole("button", { name: "Save it as a file" }).last().click();
    assert.equal(await readFile(await (await coming).path(), "utf8"), rubbish);
    await desk.takeUsual();
  }
  // Chromium asks for an icon of a page that is a bare picture, and there is none.
  await desk.close([/404/]);
});

test("work kept by an earlier version is taken over as a plan, with what waits in its fields", async () => {
  const desk = await Desk.open(it.browser, it.site, { start: true });
  const plan = await readFile(join(ROOT, "demo/window-table.json"), "utf8");
  const kept = JSON.stringify({ kept: 1, plan, waiting: { height: "as high as the sill" }, turn: 0.4 });
  await desk.page.goto(`${desk.address}icon.svg`);
  await desk.page.evaluate((kept) => {
    localStorage.clear();
    sessionStorage.clear();
    localStorage.setItem("turnleaf/work", kept);
  }, kept);
  await desk.arrive();
  await desk.atWork();
  assert.equal(await desk.page.getByLabel("Name of the plan").inputValue(), JSON.parse(plan).texts.title);
  assert.equal(await desk.size("Height").inputValue(), "as high as the sill");
  assert.equal(await desk.page.evaluate(() => localStorage.getItem("turnleaf/work")), null);
  await desk.close([/404/]);
});

test("a small storage that is full costs nothing, since plans are kept in the database", async () => {
  const desk = await Desk.open(it.browser, it.site);
  await desk.page.evaluate(() => {
    Storage.prototype.setItem = () => {
      throw new DOMException("full", "QuotaExceededError");
    };
  });
  await desk.type("Closed diameter", "1210 mm");
  await desk.kept();
  assert.match(await desk.verdict(), /checks/);
  await desk.reload();
  assert.equal(await desk.size("Closed diameter").inputValue(), "1210 mm");
  await desk.close();
});

test("the other drive gives another table that works", async () => {
  const desk = await Desk.open(it.browser, it.site);
  await desk.verdict();
  const arms = await desk.page.locator("svg.plan path.arm").count();
  assert.ok(arms > 0);
  await desk.page.getByRole("radio", { name: "a slotted cam plate" }).check();
  await desk.page.waitForFunction(() => document.querySelectorAll("svg.plan path.arm").length === 0);
  await desk.page.waitForTimeout(300);
  assert.match(await desk.verdict(), /checks hold/);
  await desk.close();
});

test("changing the unit changes no size", async () => {
  const desk = await Desk.open(it.browser, it.site);
  await desk.type("Closed diameter", "1220");
  await desk.page.getByRole("radio", { name: "inches" }).check();
  assert.match(await desk.understood("Closed diameter"), /48 1\/32 in/);
  assert.match(await desk.size("Closed diameter").inputValue(), /^1220 ?mm$/);
  await desk.page.getByRole("columnheader", { name: "inches" }).waitFor();
  await desk.close();
});

test("undo and redo go back and forth over whole changes, by keys and by buttons", async () => {
  const desk = await Desk.open(it.browser, it.site);
  const first = await desk.size("Closed diameter").inputValue();
  await desk.type("Closed diameter", "1180 mm");
  await desk.type("Height", "735 mm");
  await desk.page.keyboard.press("Control+Z");
  assert.notEqual(await desk.size("Height").inputValue(), "735 mm");
  assert.equal(await desk.size("Closed diameter").inputValue(), "1180 mm");
  await desk.page.getByRole("button", { name: "Undo: closed diameter" }).click();
  assert.equal(await desk.size("Closed diameter").inputValue(), first);
  assert.ok(await desk.page.getByRole("button", { name: "Nothing to undo" }).isDisabled());
  await desk.page.keyboard.press("Control+Shift+Z");
  await desk.page.keyboard.press("Control+Y");
  assert.equal(await desk.size("Height").inputValue(), "735 mm");
  await desk.close();
});

test("a size that is touched says how far it may go", async () => {
  const desk = await Desk.open(it.browser, it.site);
  await desk.verdict();
  await desk.size("Tongue depth").focus();
  const limits = desk.page.locator("[data-limits]");
  await limits.waitFor();
  const [, least, most] = (await limits.textContent()).match(/from ([\d.]+) mm to ([\d.]+) mm/);
  assert.ok(Number(least) < 6 && 6 < Number(most), `${least} to ${most}`);
  await desk.close();
});

test("a size is pulled on its tape by hand and by keys; table and checks follow, and one step takes a pull back", async () => {
  const desk = await Desk.open(it.browser, it.site);
  const { page } = desk;
  await desk.verdict();
  await desk.size("Closed diameter").focus();
  const tape = page.getByRole("slider", { name: "Closed diameter, on a tape" });
  const good = page.locator('.tape .good[d^="M"]');
  await good.waitFor({ state: "attached" });
  const shape = () => page.locator('svg.plan [data-piece="panel/1"]').getAttribute("d");
  const drawn = await shape();
  await tape.scrollIntoViewIfNeeded();
  const { x, y, width, height } = await tape.boundingBox();
  await page.mouse.move(x + width / 2, y + height / 2);
  await page.mouse.down();
  for (let moved = 4; moved <= 40; moved += 4) await page.mouse.move(x + width / 2 - moved, y + height / 2);
  await page.mouse.up();
  // The tape's marks lie 4 px apart, a millimetre each.
  assert.equal(await desk.size("Closed diameter").inputValue(), "1210 mm");
  assert.equal(await tape.getAttribute("aria-valuetext"), "1210 mm");
  await page.waitForFunction(() => document.querySelector('[data-number="closed.diameter"] td').textContent.startsWith("1210"));
  assert.notEqual(await shape(), drawn);
  assert.ok(await good.count(), "from where to where checks hold hangs on the other sizes only, and stays in sight");
  await page.getByRole("button", { name: "Undo: closed diameter" }).click();
  assert.equal(await desk.size("Closed diameter").inputValue(), "1200 mm");
  await tape.focus();
  for (const [key, text] of [["ArrowLeft", "1199 mm"], ["ArrowUp", "1200 mm"], ["PageUp", "1210 mm"], ["End", "2500 mm"], ["Home", "500 mm"]]) {
    await page.keyboard.press(key);
    assert.equal(await desk.size("Closed diameter").inputValue(), text);
  }
  await desk.type("Top thickness", '3/4"');
  const thin = page.getByRole("slider", { name: "Top thickness, on a tape" });
  await thin.press("ArrowRight");
  assert.equal(await desk.size("Top thickness").inputValue(), "49/64 in");
  await desk.close();
});

test("a box that the keyboard comes to is in sight at once, clear of the bar at the foot", async () => {
  const desk = await Desk.open(it.browser, it.site, { width: 360, height: 740 });
  await desk.verdict();
  const boxes = await desk.page.locator("#sizes input[type=text]:visible").all();
  assert.ok(boxes.length > 15, `${boxes.length} boxes`);
  for (const away of ["Home", "End"]) {
    await desk.page.evaluate((away) => window.scrollTo(0, away === "Home" ? 0 : document.body.scrollHeight), away);
    for (const box of boxes.filter((_, i) => i % 6 === 0)) {
      await box.focus();
      const { top, bottom, bar } = await box.evaluate((box) => {
        const { top, bottom } = box.getBoundingClientRect();
        return { top, bottom, bar: document.querySelector("nav.tabs").getBoundingClientRect().top };
      });
      assert.ok(top >= 0 && bottom <= bar, `${top} to ${bottom}, the bar at ${bar}`);
    }
  }
  await desk.close();
});

test("no line of the sentences begins with the sign that closes a size", async () => {
  const desk = await Desk.open(it.browser, it.site);
  await desk.verdict();
  let found = 0;
  for (const width of [360, 500, 800, 1000, 1280, 1440, 1700]) {
    await desk.page.setViewportSize({ width, height: 900 });
    const signs = await desk.page.locator(".said .unbroken").evaluateAll((all) =>
      all.map((one) => {
        const sign = [...one.childNodes].find((node) => node.nodeType === Node.TEXT_NODE && node.data);
        if (!sign) return null;
        const range = document.createRange();
        range.selectNodeContents(sign);
        return range.getBoundingClientRect().left >= one.querySelector("input").getBoundingClientRect().right - 1;
      }),
    );
    const closed = signs.filter((one) => one !== null);
    found += closed.length;
    assert.ok(closed.every(Boolean), `${width}: ${closed}`);
  }
  assert.ok(found > 40, `${found} signs`);
  await desk.close();
});
