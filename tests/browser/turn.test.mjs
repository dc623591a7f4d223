// The turn: by keyboard, by dragging the table, by playing, and with less motion.
import assert from "node:assert/strict";
import { test } from "node:test";
import { Desk } from "./desk.mjs";
import { running } from "./run.mjs";

const it = running();

test("the keyboard turns the table from closed to open and back", async () => {
  const desk = await Desk.open(it.browser, it.site);
  await desk.slider.focus();
  await desk.page.keyboard.press("End");
  const open = await desk.turn();
  assert.ok(open > 90, `${open}`);
  await desk.page.getByText("Open: panels, leaves and star lie flush").first().waitFor();
  await desk.page.keyboard.press("Home");
  assert.equal(await desk.turn(), 0);
  for (let i = 0; i < 10; i++) await desk.page.keyboard.press("ArrowRight");
  assert.equal(await desk.turn(), 5);
  assert.match(await desk.slider.getAttribute("aria-valuetext"), /^5° of/);
  await desk.close();
});

test("a panel moves outward by the travel", async () => {
  const desk = await Desk.open(it.browser, it.site);
  const shift = async () => {
    const [, , , , x, y] = (await desk.place("panel/1")).match(/-?[\d.]+/g).map(Number);
    return [x, y];
  };
  const [x0, y0] = await shift();
  await desk.slider.press("End");
  const [x1, y1] = await shift();
  // (1650 − 1200) / 2
  assert.ok(Math.abs(Math.hypot(x1 - x0, y1 - y0) - 225) < 0.01, `${x1 - x0} ${y1 - y0}`);
  await desk.close();
});

test("dragging the table turns it with the hand", async () => {
  const desk = await Desk.open(it.browser, it.site);
  await desk.drag(70);
  const turned = await desk.turn();
  assert.ok(Math.abs(turned - 70) < 1.5, `${turned}`);
  await desk.drag(-90);
  assert.equal(await desk.turn(), 0);
  await desk.close();
});

test("play goes to open, can be paused, and goes back", async () => {
  const desk = await Desk.open(it.browser, it.site);
  await desk.page.getByRole("button", { name: "Play the turn" }).click();
  // It is drawn many times on the way.
  const seen = await desk.page.evaluate(
    () =>
      new Promise((done) => {
        const [seen, begun] = [new Set(), performance.now()];
        const tick = (now) => {
          seen.add(document.querySelector("svg.plan .turns").getAttribute("transform"));
          if (now - begun < 700) requestAnimationFrame(tick);
          else done(seen.size);
        };
        requestAnimationFrame(tick);
      }),
  );
  assert.ok(seen > 3, `${seen} turns drawn`);
  await desk.page.getByRole("button", { name: "Pause the turn" }).click();
  const paused = await desk.turn();
  assert.ok(paused > 0 && paused < 140, `${paused}`);
  await desk.page.waitForTimeout(200);
  assert.equal(await desk.turn(), paused);
  await desk.page.getByRole("button", { name: "Play the turn" }).click();
  await desk.page.getByText("Open: panels, leaves and star lie flush").first().waitFor({ timeout: 9000 });
  await desk.page.getByRole("button", { name: "Play the turn" }).click();
  await desk.page.waitForTimeout(700);
  assert.ok((await desk.turn()) < 148);
  await desk.close();
});

test("with less motion asked for, play shows standing pictures", async () => {
  const desk = await Desk.open(it.browser, it.site, { reducedMotion: "reduce" });
  await desk.page.getByRole("button", { name: "Play the turn" }).click();
  const seen = new Set();
  const begun = Date.now();
  for (let i = 0; i < 20; i++) {
    seen.add(await desk.turn());
    await desk.page.waitForTimeout(60);
  }
  // Each picture stands for 0.9 s, however long twenty looks take.
  const seconds = (Date.now() - begun) / 1000;
  assert.ok(seen.size <= seconds / 0.9 + 2, `${seen.size} pictures in ${seconds} s`);
  await desk.close();
});

test("a check leads to the turn at which it is tightest", async () => {
  const desk = await Desk.open(it.browser, it.site);
  await desk.verdict();
  const button = desk.page.locator("[data-check='lift.panel.star'] button");
  const wanted = Number((await button.textContent()).match(/([\d.]+)°/)[1]);
  await button.click();
  assert.ok(Math.abs((await desk.turn()) - wanted) < 1);
  await desk.close();
});

test("the mechanism below the top can be looked at", async () => {
  const desk = await Desk.open(it.browser, it.site);
  await desk.page.getByRole("radio", { name: "what moves it" }).check();
  assert.ok(await desk.page.locator("svg.plan.inside").isVisible());
  await desk.close();
});
