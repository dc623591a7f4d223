// A newer version of the app: announced, used when asked for, never by itself.
import assert from "node:assert/strict";
import { test } from "node:test";
import { Desk } from "./desk.mjs";
import { running } from "./run.mjs";
import { serve } from "./site.mjs";

const it = running();

test("a newer version waits until it is asked for, in every tab, and no typing is lost", async () => {
  let newer = false;
  // Another version of the offline copy is all that a new build is to the browser.
  const change = (name, body) => (newer && name === "sw.js" ? Buffer.from(String(body).replace(/VERSION = "[^"]*"/, 'VERSION = "next"')) : body);
  const site = await serve(change);
  const one = await Desk.open(it.browser, site);
  await one.page.waitForFunction(() => navigator.serviceWorker.controller !== null);
  await one.type("Closed diameter", "1180 mm");
  await one.kept();
  const two = await Desk.tab(one.context, site);
  const line = (desk) => desk.page.getByText("A newer version of Turnleaf is ready");
  assert.equal(await line(one).count(), 0);
  newer = true;
  for (const desk of [one, two]) await desk.page.evaluate(() => (window.same = true));
  await one.page.evaluate(async () => (await navigator.serviceWorker.getRegistration()).update());
  await line(one).waitFor();
  await line(two).waitFor();
  await one.page.waitForTimeout(500);
  assert.ok(await one.page.evaluate(() => window.same), "not loaded anew by itself");
  await one.type("Closed diameter", "1181 m");
  await one.page.getByRole("button", { name: "Use it now" }).click();
  await one.page.waitForFunction(() => window.same === undefined);
  await one.atWork();
  assert.equal(await one.size("Closed diameter").inputValue(), "1181 m");
  assert.equal(await line(one).count(), 0);
  assert.ok((await one.page.evaluate(() => caches.keys())).includes("turnleaf-next"));
  // The other tab goes on with the version it has, and says that there is a newer one.
  assert.ok(await two.page.evaluate(() => window.same));
  await line(two).waitFor();
  await two.type("Closed diameter", "1182 mm");
  await two.kept();
  await two.page.getByRole("button", { name: "Use it now" }).click();
  await two.page.waitForFunction(() => window.same === undefined);
  await two.atWork();
  assert.equal(await two.size("Closed diameter").inputValue(), "1182 mm");
  await one.close();
  await site.close();
});
