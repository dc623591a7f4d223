// The table in space: turned, walked round, cut open, pulled apart, levels hidden, the tightest place lit.
import assert from "node:assert/strict";
import { test } from "node:test";
import { Desk } from "./desk.mjs";
import { running } from "./run.mjs";

const it = running();

/** What is painted, after the next frames: a sum of its dots, how many are painted, and the box they fill. */
const painted = (desk) =>
  desk.page.evaluate(
    () =>
      new Promise((done) =>
        requestAnimationFrame(() =>
          requestAnimationFrame(() => {
            const canvas = document.querySelector("canvas.space");
            const { data } = canvas.getContext("2d").getImageData(0, 0, canvas.width, canvas.height);
            let [sum, count, red, left, right] = [0, 0, 0, canvas.width, 0];
            for (let i = 0; i < data.length; i += 4) {
              if (data[i + 3] < 128) continue;
              count++;
              sum = (sum * 31 + data[i] * 3 + data[i + 1] * 5 + data[i + 2] * 7) % 1000000007;
              if (data[i] > 100 && data[i] > 2 * data[i + 1] && data[i] > 2 * data[i + 2]) red++;
              const x = (i / 4) % canvas.width;
              left = Math.min(left, x);
              right = Math.max(right, x);
            }
            done({ sum, count, red, wide: right - left });
          }),
        ),
      ),
  );

async function inSpace(desk) {
  await desk.verdict();
  await desk.page.getByRole("radio", { name: "in space" }).check();
  await desk.page.locator("canvas.space").waitFor();
  return painted(desk);
}

test("it follows the control, and grows as the table opens", async () => {
  const desk = await Desk.open(it.browser, it.site);
  const closed = await inSpace(desk);
  assert.ok(closed.count > 10_000, `${closed.count} dots`);
  await desk.slider.press("End");
  const open = await painted(desk);
  // 1650 to 1200 mm across, less what the corners of the panels lose of an arc.
  const ratio = open.wide / closed.wide;
  assert.ok(ratio > 1.3 && ratio < 1.39, `${ratio}`);
  await desk.page.getByRole("radio", { name: "drag turns it" }).check();
  // Choosing it may have scrolled the page, and softly.
  await desk.page.evaluate(() => window.scrollTo({ top: 0, behavior: "instant" }));
  const canvas = await desk.page.locator("canvas.space").boundingBox();
  const [x, y] = [canvas.x + canvas.width / 2, canvas.y + canvas.height * 0.4];
  await desk.page.mouse.move(x + 150, y);
  await desk.page.mouse.down();
  await desk.page.mouse.move(x + 130, y - 50, { steps: 5 });
  await desk.page.mouse.up();
  assert.ok(Number(await desk.slider.inputValue()) < 130, "dragged back against the clock");
  // The tests read dots back, which the app never does.
  await desk.close([/willReadFrequently/]);
});

test("by keys one walks round it; cut open, pulled apart and without its panels it looks otherwise", async () => {
  const desk = await Desk.open(it.browser, it.site, { width: 360, height: 740 });
  let last = await inSpace(desk);
  const changed = async (what) => {
    const now = await painted(desk);
    assert.notEqual(now.sum, last.sum, what);
    last = now;
  };
  await desk.page.locator("canvas.space").focus();
  await desk.page.keyboard.press("ArrowLeft");
  await changed("walked round");
  await desk.page.keyboard.press("ArrowUp");
  await changed("looked farther down");
  await desk.page.getByRole("checkbox", { name: "cut open" }).press("Space");
  await changed("cut open");
  await desk.page.locator(".levels summary").press("Enter");
  await desk.page.getByRole("checkbox", { name: "panels", exact: true }).press("Space");
  await changed("without panels");
  const pull = desk.page.getByRole("slider", { name: "Pull apart" });
  await pull.press("End");
  await changed("pulled apart");
  assert.match(await pull.getAttribute("aria-valuetext"), /220 mm/);
  assert.ok((await desk.page.evaluate(() => document.documentElement.scrollWidth - window.innerWidth)) <= 0);
  // The tests read dots back, which the app never does.
  await desk.close([/willReadFrequently/]);
});

test("the tightest place of a check is lit at its turn", async () => {
  const desk = await Desk.open(it.browser, it.site);
  await inSpace(desk);
  // The arms lie under everything, and their own level is taken away: they are shown all the same.
  await desk.page.locator(".levels summary").click();
  await desk.page.getByRole("checkbox", { name: "arms", exact: true }).uncheck();
  const before = await painted(desk);
  await desk.page.locator("#checks details").evaluateAll((all) => all.forEach((one) => (one.open = true)));
  await desk.page.locator("[data-check='clear.panel-arm.panel-arm'] button").first().click();
  const lit = await painted(desk);
  assert.ok(lit.red > before.red + 200, `${before.red} and then ${lit.red} red dots`);
  assert.equal(await desk.page.locator('[data-say="lit"]').textContent(), "Lit, and seen through what lies before: 2\u00a0× Panel arm.");
  assert.ok(!(await desk.page.getByRole("checkbox", { name: "arms", exact: true }).isChecked()));
  // From above one looks through the top for it.
  await desk.page.getByRole("radio", { name: "from above" }).check();
  assert.equal(await desk.page.locator("svg.plan .lit:visible").count(), 2);
  assert.ok(Number(await desk.page.locator("svg.plan .panel").first().evaluate((one) => getComputedStyle(one).fillOpacity)) < 0.5);
  await desk.page.getByRole("radio", { name: "in space" }).check();
  await desk.page.locator("canvas.space").waitFor();
  await desk.page.getByRole("button", { name: "Put the light out" }).click();
  assert.ok((await painted(desk)).red < lit.red);
  assert.equal(await desk.page.locator('[data-say="lit"]').textContent(), "");
  // The tests read dots back, which the app never does.
  await desk.close([/willReadFrequently/]);
});
