// A buyer at home: the maker's plan for buyers, an own size, stock as measured, the book, the next revision; and
// opening from an address.
import assert from "node:assert/strict";
import { createServer } from "node:http";
import { readFile } from "node:fs/promises";
import { join } from "node:path";
import { test } from "node:test";
import { violations } from "./axe.mjs";
import { Desk } from "./desk.mjs";
import { running } from "./run.mjs";
import { ROOT } from "./site.mjs";

const it = running();
const demo = () => readFile(join(ROOT, "demo/reading-room.json"), "utf8");

/** Issues what lies on the bench. */
async function issue(desk, date, why) {
  const page = desk.page;
  await page.locator("#revision-date").fill(date);
  await page.locator("#revision-why").fill(why);
  await page.locator("#revision-why").press("Tab");
  const mark = (await page.getByRole("button", { name: /^Issue revision/ }).textContent()).match(/revision (\w+)/)[1];
  await page.getByRole("button", { name: /^Look (it over|over what changed)/ }).click();
  await page.waitForFunction(() => [...document.querySelectorAll("button.main")].some((b) => /^Issue revision/.test(b.textContent) && !b.disabled));
  await page.getByRole("button", { name: /^Issue revision/ }).click();
  await page.locator(`[data-revision="${mark}"]`).waitFor();
  return mark;
}

/** The maker's two plans for buyers: before and after a change. */
let made;
const plans = () => (made ??= make());

async function make() {
  const desk = await Desk.open(it.browser, it.site);
  const page = desk.page;
  await desk.openFile("demo.json", await demo());
  await desk.verdict();
  await page.getByText("Nothing is issued yet: a plan made now").waitFor();
  const first = await issue(desk, "2026-02-01", "For buyers.");
  await page.locator('[data-offer="height"] input[type=checkbox]').check();
  await page.getByRole("textbox", { name: "Least of height" }).fill("700 mm");
  await page.getByRole("textbox", { name: "Most of height" }).fill("790 mm");
  await page.locator('[data-offer="tongue_depth"] input[type=checkbox]').check();
  await page.getByRole("button", { name: /limits of tongue depth/ }).click();
  await page.waitForFunction(() => document.querySelector('[data-offer="tongue_depth"] input[type=text]').value === "0 mm");
  await page.getByRole("checkbox", { name: "mm", exact: true }).check();
  await page.getByRole("checkbox", { name: "both", exact: true }).check();
  await page.locator("#offer-licence").fill("For one table of your own; do not pass the file on.");
  assert.deepEqual(await violations(desk), []);
  const old = await desk.download("Save the plan for buyers");
  // A limit that does not hold the plan's own size is refused.
  await page.getByRole("textbox", { name: "Most of height" }).fill("701 mm");
  await page.getByRole("button", { name: "Save the plan for buyers" }).click();
  await desk.message(/do not hold the plan's own/);
  await page.getByRole("textbox", { name: "Most of height" }).fill("770 mm");
  await desk.type("Top thickness", "20 mm");
  await desk.verdict();
  const second = await issue(desk, "2026-04-01", "Thicker panels.");
  const next = await desk.download("Save the plan for buyers");
  await desk.close();
  return { old, next, first, second };
}

for (const way of [{ width: 1440, height: 900 }, { width: 360, height: 740 }]) {
  test(`own size, measured stock, book, next revision at ${way.width} px, by the keyboard alone`, async () => {
    const { old, next, second } = await plans();
    assert.ok(!next.bytes.includes('"frozen"'));
    const desk = await Desk.open(it.browser, it.site, way);
    const page = desk.page;
    await desk.openFile(old.name, old.bytes);
    await page.locator('[data-say="licence"]').filter({ hasText: "For one table of your own" }).waitFor();
    // Only what is offered can be typed.
    assert.equal(await page.getByRole("textbox", { name: "Closed diameter" }).count(), 0);
    assert.equal(await page.locator("[data-offered]").count(), 2);
    assert.equal(await page.locator("#steps, #revisions, #buyers").count(), 0);
    assert.equal(await page.locator("#own-paper option").count(), 6);
    assert.equal(await page.locator('input[name="own-units"]').count(), 2);
    await desk.type("Height", "900 mm");
    await desk.wrong("700 mm to 790 mm").waitFor();
    await desk.type("Height", "780 mm");
    await desk.type("Top thickness, measured", "18.7 mm");
    await page.locator("#measured-stock_thickness").press("Tab");
    await page.locator("#own-language").selectOption("de");
    await page.locator("#own-language").selectOption("en");
    await desk.verdict();
    await page.waitForFunction(() => document.querySelector('[data-say="book"]').textContent.includes("just as they will print"));
    assert.deepEqual(await violations(desk), []);
    assert.ok((await page.evaluate(() => document.documentElement.scrollWidth)) <= way.width);
    const book = await desk.download("Save the book");
    assert.equal(book.bytes.subarray(0, 5).toString(), "%PDF-");
    // The next revision: 780 mm is no longer offered, the measured stock stays, thicker panels change parts.
    await page.locator("#onto-file").setInputFiles({ name: next.name, mimeType: "application/json", buffer: next.bytes });
    await page.locator('[data-say="onto"] li').filter({ hasText: /780 mm.*700 mm to 770 mm.*own value is taken instead/ }).waitFor();
    await page.locator('[data-say="compared"]').filter({ hasText: "From your table by revision" }).waitFor();
    await page.locator('[data-say="parts"]').waitFor();
    // The panels were cut from measured stock, so they stay good; legs of another height do not.
    const fates = await page.locator(".cut-parts li[data-part]").evaluateAll((all) => Object.fromEntries(all.map((li) => [li.dataset.part, li.dataset.fate])));
    assert.equal(fates.panel, "still good", JSON.stringify(fates));
    assert.equal(fates.leg, "needs work", JSON.stringify(fates));
    assert.deepEqual(await violations(desk), []);
    await page.getByRole("button", { name: `Take revision ${second}` }).press("Enter");
    await desk.message(new RegExp(`This is revision ${second} at your own sizes`));
    assert.equal(await desk.size("Top thickness, measured").inputValue(), "18.7 mm");
    assert.equal(await desk.size("Height").inputValue(), "740 mm");
    // A saved book opens as the plan it was made from, own size and all.
    await desk.openPath({ name: "book.pdf", mimeType: "application/pdf", buffer: book.bytes });
    await desk.message(/^Opened book\.pdf/);
    assert.equal(await desk.size("Height").inputValue(), "780 mm");
    await desk.close();
  });
}

test("a maker's own plan is not put onto a buyer's sizes, and an edited file is explained", async () => {
  const { old } = await plans();
  const desk = await Desk.open(it.browser, it.site);
  await desk.openFile(old.name, old.bytes);
  await desk.page.locator("#onto-file").setInputFiles({ name: "own.json", mimeType: "application/json", buffer: Buffer.from(await demo()) });
  await desk.message(/own\.json was not put onto your sizes\. It is no plan for buyers/);
  const beyond = old.bytes.toString().replace(/"height": "740 mm"/, '"height": "900 mm"');
  assert.notEqual(beyond, old.bytes.toString());
  await desk.openFile("beyond.json", beyond);
  await desk.message(/beyond\.json was not opened.*Height: .*900 mm.* outside what this plan is offered for, 700 mm to 790 mm/);
  await desk.close();
});

/** Another site that hands out files to whoever asks. */
async function elsewhere(files) {
  const asked = [];
  const server = createServer((request, response) => {
    asked.push({ url: request.url, headers: request.headers });
    const file = files[new URL(request.url, "http://localhost").pathname];
    if (file === undefined) return response.writeHead(404, { "access-control-allow-origin": "*" }).end();
    response.writeHead(200, { "access-control-allow-origin": "*", ...file.headers });
    response.end(file.body);
  });
  await new Promise((resolve) => server.listen(0, "127.0.0.1", resolve));
  // A test that fails must not keep the run waiting for this server.
  server.unref();
  const close = () => new Promise((resolve) => (server.closeAllConnections(), server.close(resolve)));
  return { asked, close, host: `127.0.0.1:${server.address().port}`, address: `http://127.0.0.1:${server.address().port}` };
}

test("from an address: asked before it is fetched and before it replaces anything; only web addresses, only so large", async () => {
  const { old } = await plans();
  const far = await elsewhere({
    "/plan.json": { body: old.bytes },
    "/large.json": { body: Buffer.alloc(21_000_000, 32) },
    "/chunked.json": { body: "x", headers: { "content-length": "1" } },
    "/shut.json": { body: "{}", headers: { "access-control-allow-origin": "https://example.org" } },
  });
  const desk = await Desk.open(it.browser, it.site);
  const page = desk.page;
  await desk.type("Closed diameter", "1180 mm");
  await desk.kept();
  const ask = page.getByRole("region", { name: "Opening from an address" });
  // Behind #open= in the page's own address.
  await page.evaluate((address) => (location.hash = `#open=${address}`), `${far.address}/plan.json`);
  await ask.getByText("Fetch a plan from").waitFor();
  assert.ok((await ask.textContent()).includes(far.host));
  assert.equal(far.asked.length, 0, "nothing is asked before the visitor agrees");
  assert.ok(!page.url().includes("open="), "a reload does not ask again");
  assert.deepEqual(await violations(desk), []);
  await ask.getByRole("button", { name: "Fetch it" }).press("Enter");
  await ask.getByText("a plan for buyers, revision").waitFor();
  assert.equal(await desk.size("Closed diameter").inputValue(), "1180 mm", "nothing is replaced yet");
  assert.equal(far.asked.length, 1);
  assert.ok(!far.asked[0].headers.cookie && !far.asked[0].headers.referer);
  await ask.getByRole("button", { name: "Open it" }).press("Enter");
  await page.locator("[data-offered]").first().waitFor();
  await page.getByRole("button", { name: "Bring back what was here" }).click();
  assert.equal(await desk.size("Closed diameter").inputValue(), "1180 mm");
  // Typed.
  const go = async (text) => {
    await page.getByRole("button", { name: "Open from an address" }).click();
    await page.getByRole("textbox", { name: "Address of the plan or book" }).fill(text);
    await page.keyboard.press("Enter");
  };
  for (const text of ["javascript:alert(1)", "file:///etc/passwd", "data:text/plain,5"]) {
    await go(text);
    await ask.getByText("can only be fetched from an address that begins with https://").waitFor();
    await ask.getByRole("button", { name: "Close" }).click();
  }
  const fails = async (path, pattern) => {
    await go(`${far.address}${path}`);
    await ask.getByRole("button", { name: "Fetch it" }).click();
    await ask.getByText(pattern).waitFor();
    await ask.getByRole("button", { name: "Close" }).click();
  };
  await fails("/large.json", /has more than 20 MB/);
  await fails("/none.json", /no such file \(answer 404\)/);
  await fails("/shut.json", /does not let other pages read its files/);
  await fails("/chunked.json", /cannot be read at line 1/);
  assert.equal(await desk.size("Closed diameter").inputValue(), "1180 mm");
  await far.close();
  // The requests were wanted; the browser itself tells of the refused ones on the console.
  await desk.close([/elsewhere: http:\/\/127\.0\.0\.1/, /Failed to load resource/, /blocked by CORS policy/, /^failed: /]);
});
