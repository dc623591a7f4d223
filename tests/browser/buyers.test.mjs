// A plan for buyers: what it refuses, and opening one from an address. The buyer's whole job is in jobs.test.mjs.
import assert from "node:assert/strict";
import { execFileSync } from "node:child_process";
import { copyFile, mkdtemp, readFile, rm, writeFile } from "node:fs/promises";
import { createServer } from "node:http";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { test } from "node:test";
import { violations } from "./axe.mjs";
import { Desk } from "./desk.mjs";
import { running } from "./run.mjs";
import { ROOT } from "./site.mjs";

const it = running();
// Set by the test command, which builds it; a run by hand finds the usual place.
const TERMINAL = process.env.TURNLEAF ?? join(ROOT, "target/debug/turnleaf");
const demo = () => readFile(join(ROOT, "demo/reading-room.json"), "utf8");

/** A maker's plan for buyers, from the terminal. */
let made;
const plan = () => (made ??= make());

async function make() {
  const folder = await mkdtemp(join(tmpdir(), "turnleaf-"));
  const [own, buyers] = [join(folder, "own.json"), join(folder, "buyers.json")];
  await copyFile(join(ROOT, "demo/reading-room.json"), own);
  execFileSync(TERMINAL, ["issue", own, "--date", "2026-02-01", "--reason", "For buyers."]);
  const limits = ["--size", "height=700 mm..790 mm", "--size", "tongue_depth"];
  execFileSync(TERMINAL, ["offer", own, ...limits, "--licence", "For one table of your own.", "-o", buyers]);
  const bytes = await readFile(buyers);
  await rm(folder, { recursive: true });
  return { name: "buyers.json", bytes };
}

test("a maker's own plan is not put onto a buyer's sizes, and an edited file is explained", async () => {
  const old = await plan();
  const desk = await Desk.open(it.browser, it.site);
  await desk.openFile(old.name, old.bytes);
  await desk.page.locator("#onto-file").setInputFiles({ name: "own.json", mimeType: "application/json", buffer: Buffer.from(await demo()) });
  await desk.message(/own\.json was not put onto your sizes\. It is no plan for buyers/);
  // The same revision once more is nothing wrong, and does not look so.
  await desk.page.locator("#onto-file").setInputFiles({ name: "same.json", mimeType: "application/json", buffer: old.bytes });
  const said = desk.page.locator('[data-say="onto"] li');
  await said.first().waitFor();
  assert.deepEqual(await said.evaluateAll((all) => all.map((one) => [one.textContent, one.className])), [["You have revision C already.", "mild"]]);
  const beyond = old.bytes.toString().replace(/"height": "740 mm"/, '"height": "900 mm"');
  assert.notEqual(beyond, old.bytes.toString());
  await desk.openFile("beyond.json", beyond);
  await desk.message(/beyond\.json was not opened.*Height: .*900 mm.* outside what this plan is offered for, 700 mm to 790 mm/);
  await desk.close();
});

test("the line of one's own copy: refused in words what cannot be printed, and on every page what can", async () => {
  const old = await plan();
  const copy = `Copy 12 <b>"for" the reading room</b> & co. (demo)`;
  const desk = await Desk.open(it.browser, it.site, { width: 360, height: 740 });
  const page = desk.page;
  await desk.openFile(old.name, old.bytes);
  const own = "A line of your own, at the foot of every page";
  for (const [text, why] of [["x".repeat(121), "121 characters; 120 fit"], ["a\u202eb", "U+202E"]]) {
    await desk.size(own).fill(text);
    await desk.wrong(why).waitFor();
    assert.equal(await desk.size(own).inputValue(), text);
  }
  assert.equal(await desk.size(own).getAttribute("aria-invalid"), "true");
  assert.deepEqual(await violations(desk), []);
  assert.ok((await page.evaluate(() => document.documentElement.scrollWidth)) <= 360);
  await desk.type(own, copy);
  await desk.wrong("characters").waitFor({ state: "detached" });
  await desk.verdict();
  const { bytes } = await desk.download("Save the book");
  const folder = await mkdtemp(join(tmpdir(), "turnleaf-"));
  await writeFile(join(folder, "book.pdf"), bytes);
  const words = execFileSync("pdftotext", ["-layout", join(folder, "book.pdf"), "-"], { maxBuffer: 1 << 26 });
  await rm(folder, { recursive: true });
  const pages = String(words).split("\f").slice(0, -1);
  assert.ok(pages.length > 50 && pages.every((text) => text.includes(copy)));
  // It is kept with the copy, and stays when the maker's next plan is taken.
  await desk.kept();
  await desk.reload();
  assert.equal(await desk.size(own).inputValue(), copy);
  await page.locator("#onto-file").setInputFiles({ name: old.name, mimeType: "application/json", buffer: old.bytes });
  await page.getByRole("button", { name: /^Take revision/ }).click();
  await desk.message(/at your own sizes/);
  assert.equal(await desk.size(own).inputValue(), copy);
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
  const old = await plan();
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
