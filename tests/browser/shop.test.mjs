// The shop view on a phone beside the saw: parts, read-outs, steps, ticks, without a network.
import assert from "node:assert/strict";
import { test } from "node:test";
import { Desk } from "./desk.mjs";
import { running } from "./run.mjs";

const it = running();
const PHONE = { width: 360, height: 740, hasTouch: true };

async function atTheBench(desk) {
  await desk.page.getByRole("button", { name: "Take it to the bench" }).click();
  await desk.page.locator(".shop-title").waitFor();
}

test("a part is shown large, its dimensions are read out and lit on the drawing", async () => {
  const desk = await Desk.open(it.browser, it.site, PHONE);
  await desk.verdict();
  await atTheBench(desk);
  assert.equal(await desk.page.locator(".shop-title").textContent(), "Panel");
  const reading = desk.page.locator("[data-reading='panel/dim/radius/outer-arc']").first();
  await reading.tap();
  assert.equal(await reading.getAttribute("aria-pressed"), "true");
  const lit = desk.page.locator(".shop-drawing .lit-reading");
  await lit.first().waitFor();
  assert.equal(await lit.first().getAttribute("data-id"), "panel/dim/radius/outer-arc");
  // Nearer, the smallest figure on the sheet is as large as common print, and what is lit is in sight.
  const printed = () => desk.page.locator(".shop-drawing svg text").evaluateAll((all) => Math.min(...all.map((one) => one.getBoundingClientRect().height)));
  const far = await printed();
  await desk.page.getByRole("button", { name: "Show it nearer" }).tap();
  assert.ok((await printed()) > 2 * far && (await printed()) > 10, `${far} and then ${await printed()} px`);
  // The page glides there.
  await desk.until(() => {
    const room = document.querySelector(".shop-drawing").getBoundingClientRect();
    const place = document.querySelector(".shop-drawing .lit-reading text").getBoundingClientRect();
    return place.left >= room.left && place.right <= room.right && place.top >= room.top && place.bottom <= room.bottom;
  });
  await desk.page.getByRole("button", { name: "Show the whole sheet" }).tap();
  await reading.tap();
  await lit.first().waitFor({ state: "detached" });
  assert.ok((await desk.page.evaluate(() => document.querySelector(".shop-screen").scrollWidth - document.querySelector(".shop-screen").clientWidth)) <= 0);
  for (const button of await desk.page.locator(".shop button:visible").all()) {
    const box = await button.boundingBox();
    assert.ok(box.height >= 47, `${await button.textContent()} is ${box.height} px high`);
  }
  await desk.close();
});

test("pieces cut and steps done are counted, kept, and there again without a network", async () => {
  const desk = await Desk.open(it.browser, it.site, PHONE);
  await desk.page.evaluate(() => navigator.serviceWorker.ready);
  await desk.page.waitForFunction(() => navigator.serviceWorker.controller !== null);
  await desk.verdict();
  await atTheBench(desk);
  const more = desk.page.getByRole("button", { name: "One more piece is cut" });
  for (let i = 0; i < 6; i++) await more.tap();
  assert.ok(await more.isDisabled(), "six panels and no more");
  await desk.page.getByRole("button", { name: "One piece fewer is cut" }).tap();
  assert.match(await desk.page.locator('[data-say="cut"]').textContent(), /^5 of 6 cut/);
  assert.match(await desk.page.locator('[data-say="done"]').textContent(), /^5 of \d+ pieces cut/);
  await desk.page.getByRole("radio", { name: "Steps" }).check();
  await desk.page.getByRole("checkbox", { name: /^Done/ }).check();
  await desk.page.getByRole("button", { name: "Next", exact: true }).tap();
  assert.match(await desk.page.locator('[data-say="done"]').textContent(), /^1 of \d+ steps done/);
  await desk.context.setOffline(true);
  await desk.reload();
  await desk.verdict();
  await atTheBench(desk);
  assert.match(await desk.page.locator('[data-say="cut"]').textContent(), /^5 of 6 cut/);
  await desk.page.getByRole("button", { name: "Back to the desk" }).tap();
  await desk.close();
});

test("by keys alone: from part to part, ticked, and back; other sizes afterwards are told", async () => {
  const desk = await Desk.open(it.browser, it.site);
  await desk.verdict();
  await desk.page.getByRole("button", { name: "Take it to the bench" }).press("Enter");
  await desk.page.locator(".shop-title").waitFor();
  await desk.page.getByRole("button", { name: "One more piece is cut" }).press("Enter");
  await desk.page.keyboard.press("PageDown");
  await desk.page.locator(".shop-title").filter({ hasText: /^Leaf/ }).waitFor();
  await desk.page.keyboard.press("PageUp");
  await desk.page.locator(".shop-title").filter({ hasText: /^Panel/ }).waitFor();
  await desk.page.keyboard.press("Escape");
  await desk.page.locator("dialog.shop[open]").waitFor({ state: "detached" });
  // Another language and other units print the same sizes otherwise: what is cut serves.
  await desk.page.getByRole("radio", { name: "German" }).check();
  await desk.page.locator(".bar").getByRole("radio", { name: "inches" }).check();
  await desk.verdict();
  await desk.page.getByRole("button", { name: "Take it to the bench" }).press("Enter");
  await desk.page.locator(".shop-title").filter({ hasText: /^Segment/ }).waitFor();
  assert.match(await desk.page.locator('[data-say="cut"]').textContent(), /^1 of 6 cut/);
  assert.equal(await desk.page.getByText("were cut to other sizes").count(), 0);
  await desk.page.keyboard.press("Escape");
  await desk.type("Closed diameter", "1180 mm");
  await desk.verdict();
  await desk.page.getByRole("button", { name: "Take it to the bench" }).press("Enter");
  await desk.page.getByText("were cut to other sizes").waitFor();
  await desk.page.getByRole("button", { name: "They serve" }).press("Enter");
  await desk.page.getByText("were cut to other sizes").waitFor({ state: "detached" });
  await desk.close();
});

test("the screen is asked to stay on while the view is open, where the browser can", async () => {
  const desk = await Desk.open(it.browser, it.site, PHONE);
  await desk.page.addInitScript(() => {
    window.lock = [];
    const lock = { request: async (kind) => (window.lock.push(kind), { release: async () => window.lock.push("released") }) };
    Object.defineProperty(navigator, "wakeLock", { value: lock });
  });
  await desk.reload();
  await desk.verdict();
  await atTheBench(desk);
  await desk.page.waitForFunction(() => window.lock.length === 1);
  await desk.page.getByRole("button", { name: "Back to the desk" }).tap();
  await desk.page.waitForFunction(() => window.lock.at(-1) === "released");
  assert.equal(await desk.page.evaluate(() => window.lock[0]), "screen");
  await desk.close();
});
