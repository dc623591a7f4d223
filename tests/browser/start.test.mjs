// The app starts, says nothing on the console, and starts again without a network.
import assert from "node:assert/strict";
import { after, before, test } from "node:test";
import { complaintsOf, launch, serve } from "./site.mjs";

let site, browser;
before(async () => {
  site = await serve();
  browser = await launch();
});
after(async () => {
  await browser?.close();
  await site?.close();
});

test("the app opens and nothing is wrong on the console", async () => {
  const page = await browser.newPage();
  const complaints = complaintsOf(page, site.address);
  await page.goto(site.address);
  await page.getByRole("heading", { name: "Turnleaf" }).waitFor();
  assert.deepEqual(complaints, []);
  await page.close();
});

test("after the first visit the app opens without a network", async () => {
  const context = await browser.newContext();
  const page = await context.newPage();
  const complaints = complaintsOf(page, site.address);
  await page.goto(site.address);
  await page.evaluate(() => navigator.serviceWorker.ready);
  await page.waitForFunction(() => navigator.serviceWorker.controller !== null);
  await context.setOffline(true);
  await page.reload();
  await page.getByRole("heading", { name: "Turnleaf" }).waitFor();
  assert.deepEqual(complaints, []);
  await context.close();
});
