// Makes the pictures of README.md and GUIDE.md from the app as it is. Not a test.
// In: the built site in dist/. Out: JPEG files in docs/, each below 150 kB. Run: node tests/browser/pictures.mjs
import { mkdir, stat } from "node:fs/promises";
import { join } from "node:path";
import { Desk } from "./desk.mjs";
import { launch, ROOT, serve } from "./site.mjs";

const MOST = 150_000;
const folder = join(ROOT, "docs");
await mkdir(folder, { recursive: true });
const [site, browser] = [await serve(), await launch()];

/** Opens the usual table at a size of the window. */
async function open(options) {
  const desk = await Desk.open(browser, site, options);
  await desk.verdict();
  await desk.page.locator(".sheet svg").first().waitFor();
  for (const close of await desk.page.locator(".notice button").all()) await close.click().catch(() => {});
  return desk;
}

async function take(what, name) {
  const path = join(folder, `${name}.jpg`);
  for (const quality of [85, 70, 55, 40]) {
    await what.screenshot({ path, type: "jpeg", quality, animations: "disabled" });
    if ((await stat(path)).size < MOST) return console.log(`${name}.jpg ${(await stat(path)).size} bytes`);
  }
  throw new Error(`${name}.jpg stays above ${MOST} bytes`);
}

let desk = await open({ width: 1280, height: 860 });
await desk.page.evaluate(() => window.scrollTo(0, 0));
await take(desk.page, "desk");
await desk.size("Closed diameter").focus();
await desk.page.locator('[data-limits="closed_diameter"]').waitFor({ timeout: 90_000 });
await take(desk.page.locator(".passage").first(), "tape");
await desk.page.getByRole("button", { name: "Fold all parts" }).click();
await desk.page.locator(".parts-line").evaluate((line) => line.scrollIntoView({ block: "start", behavior: "instant" }));
await desk.page.waitForTimeout(300);
await take(desk.page, "parts");
await desk.openParts();
await desk.page.evaluate(() => window.scrollTo(0, 0));
await desk.page.getByRole("radio", { name: "in space" }).check();
await desk.slider.fill("100");
await desk.page.waitForTimeout(300);
await take(desk.page.locator(".stay"), "space");
await desk.slider.press("End");
await desk.page.getByRole("slider", { name: "Pull apart" }).fill("200");
await desk.page.waitForTimeout(300);
await take(desk.page.locator("canvas.space"), "apart");
await take(desk.page.locator(".stock").first(), "stock");
await desk.page.getByRole("radio", { name: "small pages" }).check();
await desk.page.getByLabel("Page", { exact: true }).fill("32");
await desk.page.keyboard.press("Enter");
await desk.page.waitForTimeout(2500);
await take(desk.page.locator("#book"), "book");
// Who has a copy: two revisions, two copies noted, one of them older. The buyers are made up.
const one = (name) => desk.page.getByRole("button", { name });
for (const [date, why, mark] of [["2026-02-01", "For buyers.", "A"], ["2026-04-01", "A little higher, as a buyer asked.", "B"]]) {
  if (mark === "B") await desk.type("Height", "750 mm");
  await desk.lookOver(date, why);
  await one(`Issue revision ${mark}`).click();
  await desk.page.locator(`[data-revision="${mark}"]`).waitFor({ timeout: 90_000 });
}
const buffer = Buffer.from("name,contact,date,revision,size,units,paper\r\nAnn Ash (demo),ann@example.org,2026-02-10,A,1200 mm closed,mm,a4\r\nBen Birch (demo),ben@example.org,2026-04-12,B,1200 mm closed,in,letter\r\n");
await desk.page.locator("#copies-file").setInputFiles({ name: "copies.csv", mimeType: "text/csv", buffer });
await one(/^The mail.*Ann Ash/).click();
await desk.page.locator("#copy-mail pre").waitFor();
await desk.page.waitForTimeout(300);
await take(desk.page.locator("#copies"), "copies");
await desk.close();

desk = await open({ width: 360, height: 740 });
await desk.page.getByRole("button", { name: "Take it to the bench" }).click();
await desk.page.locator(".shop-drawing svg").first().waitFor();
await desk.page.locator("[data-reading='panel/dim/radius/outer-arc']").first().click();
await desk.page.getByRole("button", { name: "One more piece is cut" }).click();
await desk.page.waitForTimeout(400);
await take(desk.page, "bench-part");
await desk.page.getByRole("radio", { name: "Steps" }).check();
for (let i = 0; i < 14; i++) await desk.page.getByRole("button", { name: "Next", exact: true }).click();
await desk.page.waitForTimeout(300);
await take(desk.page, "bench-step");
await desk.close();
await browser.close();
await site.close();
