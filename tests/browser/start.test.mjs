// The app starts, and starts again without a network.
import assert from "node:assert/strict";
import { test } from "node:test";
import { Desk } from "./desk.mjs";
import { running } from "./run.mjs";

const it = running();

test("the app opens with a table that works", async () => {
  const desk = await Desk.open(it.browser, it.site);
  assert.match(await desk.verdict(), /^All \d+ checks hold/);
  assert.equal(await desk.page.locator("svg.plan [data-piece^='panel/']").count(), 6);
  await desk.close();
});

test("the heavy work is done in two workers, one for checks and one for the book", async () => {
  const desk = await Desk.open(it.browser, it.site);
  // Checks come first; the book's program is fetched when they have been answered.
  await desk.page.locator(".contents button").first().waitFor();
  assert.equal(desk.page.workers().length, 2);
  // And when the offline copy answers in the server's place.
  await desk.page.waitForFunction(() => navigator.serviceWorker.controller !== null);
  await desk.reload();
  await desk.page.locator(".contents button").first().waitFor();
  assert.equal(desk.page.workers().length, 2);
  await desk.until(async () => (await navigator.locks.query()).held.some(({ name }) => name.startsWith("turnleaf/worker/")));
  await desk.close();
});

test("where workers are refused the page does the work itself", async () => {
  const desk = await Desk.open(it.browser, it.site);
  await desk.page.addInitScript(() => {
    window.Worker = class {
      constructor() {
        throw new Error("refused");
      }
    };
  });
  await desk.reload();
  assert.match(await desk.verdict(), /^All \d+ checks hold/);
  assert.equal(desk.page.workers().length, 0);
  await desk.close();
});

test("the page is set in its own letters from the first moment on, and no later ones move it", async () => {
  const desk = await Desk.open(it.browser, it.site, { start: true });
  const words = desk.page.getByRole("heading", { name: "A new table from three answers" }).locator("xpath=following::button[1]");
  await desk.page.evaluate(() => document.fonts.ready);
  const names = await desk.page.evaluate(() => [...document.fonts].filter((one) => one.status === "loaded").map((one) => `${one.family} ${one.weight}`.replaceAll('"', "")));
  for (const name of ["Open Sans 400", "Open Sans 600", "Vollkorn 400"]) assert.ok(names.includes(name), `${name} in ${names}`);
  const wide = (await words.boundingBox()).width;
  await desk.takeUsual();
  await desk.page.locator(".sheet svg").first().waitFor();
  await desk.page.waitForFunction(() => [...document.fonts].filter((one) => one.family.includes("Open Sans") && one.status === "loaded").length > 2);
  await desk.allPlans();
  assert.equal((await words.boundingBox()).width, wide);
  await desk.close();
});

test("after the first visit the app works without a network", async () => {
  const desk = await Desk.open(it.browser, it.site);
  await desk.page.evaluate(() => navigator.serviceWorker.ready);
  await desk.page.waitForFunction(() => navigator.serviceWorker.controller !== null);
  await desk.type("Closed diameter", "1180 mm");
  await desk.kept();
  await desk.context.setOffline(true);
  await desk.reload();
  assert.equal(await desk.size("Closed diameter").inputValue(), "1180 mm");
  assert.match(await desk.verdict(), /checks/);
  await desk.close();
});
