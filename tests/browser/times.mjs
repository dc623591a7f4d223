// Measures what a visitor waits for. Not a test: it prints tables in Markdown.
// In: the built site in dist/. Out: sizes and times on the standard output. Run: node tests/browser/times.mjs
// Always true: every visit begins with nothing kept; the phone is Chromium at 360 × 740 with its processor four times
// slower and a line of 9 Mbit/s with 60 ms of delay; files come compressed, as a good host sends them; whoever types
// makes sixteen letters a second, pausing by turns so short that nothing is done yet and so long that both programs are
// at work when the next letter comes.
import { createServer } from "node:http";
import { brotliCompressSync, constants } from "node:zlib";
import { readFileSync } from "node:fs";
import { extname, join } from "node:path";
import { fileURLToPath } from "node:url";
import { Desk } from "./desk.mjs";
import { launch } from "./site.mjs";

const DIST = process.env.TURNLEAF_DIST ?? join(fileURLToPath(new URL("../../", import.meta.url)), "dist");
const TYPES = { ".html": "text/html; charset=utf-8", ".js": "text/javascript", ".css": "text/css", ".wasm": "application/wasm", ".svg": "image/svg+xml", ".webmanifest": "application/manifest+json", ".woff2": "font/woff2", ".txt": "text/plain" };

const at = (times, share) => [...times].sort((a, b) => a - b)[Math.floor(share * (times.length - 1))] ?? NaN;
const row = (...cells) => console.log(`| ${cells.join(" | ")} |`);
const head = (title, ...cells) => {
  console.log(`\n### ${title}\n`);
  row(...cells);
  row(...cells.map(() => "---"));
};

const packed = new Map();
const sent = [];
const server = createServer((request, response) => {
  const path = decodeURIComponent(new URL(request.url, "http://localhost").pathname);
  const name = path.endsWith("/") ? "index.html" : path.slice(1);
  try {
    if (!packed.has(name)) {
      const body = readFileSync(join(DIST, name));
      const pressed = extname(name) === ".woff2" ? body : brotliCompressSync(body, { params: { [constants.BROTLI_PARAM_QUALITY]: 11 } });
      packed.set(name, pressed);
    }
    const body = packed.get(name);
    sent.push({ name, bytes: body.length, at: performance.now() });
    const headers = { "content-type": TYPES[extname(name)] ?? "application/octet-stream", "content-length": body.length };
    if (extname(name) !== ".woff2") headers["content-encoding"] = "br";
    response.writeHead(200, headers);
    response.end(body);
  } catch {
    response.writeHead(404);
    response.end();
  }
});
await new Promise((resolve) => server.listen(0, "127.0.0.1", resolve));
const site = { address: `http://127.0.0.1:${server.address().port}/`, close: () => new Promise((done) => (server.closeAllConnections(), server.close(done))) };
// Everything is compressed before anything is timed.
for (const name of readFileSync(join(DIST, "sw.js"), "utf8").match(/\[("\.\/"[^\]]*)\]/)[1].split(",").map((n) => JSON.parse(n))) await fetch(site.address + (name === "./" ? "" : name)).then((r) => r.arrayBuffer());

const browser = await launch();

/** A first visit to the start page: what came over until its pictures stood, and when. */
const visit = async (phone) => {
  sent.length = 0;
  const context = await browser.newContext({ viewport: phone ? { width: 360, height: 740 } : { width: 1440, height: 900 }, serviceWorkers: "block" });
  const page = await context.newPage();
  const wire = await context.newCDPSession(page);
  if (phone) {
    await wire.send("Network.enable");
    await wire.send("Network.emulateNetworkConditions", { offline: false, latency: 60, downloadThroughput: 9e6 / 8, uploadThroughput: 3e6 / 8 });
    await wire.send("Emulation.setCPUThrottlingRate", { rate: 4 });
  }
  const begun = performance.now();
  await page.goto(site.address, { waitUntil: "commit" });
  await page.locator("#start").waitFor();
  const seen = performance.now() - begun;
  const paint = await page.evaluate(() => performance.getEntriesByName("first-contentful-paint")[0]?.startTime ?? NaN);
  await page.locator("#start svg").first().waitFor({ timeout: 60_000 });
  const pictures = performance.now() - begun;
  const bytes = sent.reduce((sum, one) => sum + one.bytes, 0);
  const names = sent.map((one) => one.name);
  // What is fetched while the visitor reads.
  if (!phone) await page.waitForTimeout(4000);
  const later = sent.slice(names.length).map((one) => one.name);
  await context.close();
  return { seen, paint, pictures, bytes, names, later };
};

head("First visit", "visitor", "something is seen, ms", "start page can be used, ms", "its pictures stand, ms", "sent, kB");
for (const phone of [false, true]) {
  const visits = [];
  for (let i = 0; i < 5; i++) visits.push(await visit(phone));
  const of = (what) => at(visits.map((one) => one[what]), 0.5).toFixed(0);
  row(phone ? "phone" : "desk", of("paint"), of("seen"), of("pictures"), (visits[0].bytes / 1000).toFixed(0));
  if (!phone) globalThis.first = visits[0];
}
const told = (names) => names.map((name) => `${name.replace(/-[0-9a-f]{12,16}(?=[._])/, "")} (${(packed.get(name).length / 1000).toFixed(0)} kB)`).join(", ");
console.log(`\nSent for it: ${told(globalThis.first.names)}. While the visitor reads: ${told(globalThis.first.later)}. The program of books comes when a plan is opened.`);

/** Notes every frame of the page from now on, and tasks that the browser calls long. */
const watch = (page) =>
  page.evaluate(() => {
    window.gaps = [];
    window.tasks = [];
    new PerformanceObserver((list) => list.getEntries().forEach((one) => window.tasks.push(one.duration))).observe({ type: "longtask" });
    let last = performance.now();
    const tick = (now) => {
      window.gaps.push(now - last);
      last = now;
      requestAnimationFrame(tick);
    };
    requestAnimationFrame(tick);
  });

/** What was noted since the last time: longest frame, frames over 50 ms, longest task. */
const blocked = async (page) => {
  const { gaps, tasks } = await page.evaluate(() => ({ gaps: window.gaps.splice(0), tasks: window.tasks.splice(0) }));
  return [at(gaps, 1).toFixed(0), gaps.filter((gap) => gap > 50).length, tasks.length ? at(tasks, 1).toFixed(0) : "under 50"];
};

const waits = [];
head("At work, from letter to letter", "visitor", "letter to its painting, median ms", "95th percentile", "letter to drawing, median ms", "95th percentile", "letter to sheet on show, median ms", "proof, median ms", "book, median ms", "PDF, ms");
for (const phone of [false, true]) {
  const desk = await Desk.open(browser, site, phone ? { width: 360, height: 740 } : { width: 1440, height: 900 });
  if (phone) {
    const wire = await desk.context.newCDPSession(desk.page);
    await wire.send("Emulation.setCPUThrottlingRate", { rate: 4 });
  }
  await desk.verdict();
  await desk.page.evaluate(() => {
    window.slow = [];
    // From the event to the paint after it, as the browser itself reckons it.
    new PerformanceObserver((list) => list.getEntries().forEach((one) => one.interactionId && window.slow.push(one.duration))).observe({ type: "event", durationThreshold: 16, buffered: true });
  });
  const before = {};
  for (const name of ["build", "book", "follow"]) before[name] = (await desk.measures(name)).length;
  for (let i = 0; i < 16; i++) {
    await desk.type("Closed diameter", `${1180 + i} mm`, { delay: 62 });
    await desk.page.waitForTimeout((i % 2 ? 1200 : 400) * (phone ? 2 : 1));
  }
  await desk.page.waitForTimeout(4000);
  const slow = await desk.page.evaluate(() => window.slow);
  // A sheet of the book is looked at while a size beside it changes.
  const sheets = desk.page.locator(".contents button").filter({ hasText: /^Panel\d/ });
  if (await sheets.count()) await sheets.first().click();
  await desk.page.locator(".lectern").scrollIntoViewIfNeeded();
  await desk.page.waitForTimeout(1500);
  await watch(desk.page);
  for (let i = 0; i < 6; i++) {
    await desk.page.evaluate((text) => {
      const box = document.getElementById("closed_diameter");
      box.value = text;
      box.dispatchEvent(new InputEvent("input", { bubbles: true }));
    }, `${1200 + i} mm`);
    await desk.page.waitForTimeout(phone ? 6000 : 3500);
  }
  waits.push([phone ? "phone" : "desk", "six changes, each with its proof, sheet and book", ...(await blocked(desk.page))]);
  const since = async (name) => (await desk.measures(name)).slice(before[name] ?? 0);
  let file = "–";
  if (!phone) {
    await desk.download("Save the book");
    file = at(await desk.measures("pdf"), 0.5).toFixed(0);
    waits.push(["desk", "the book as PDF", ...(await blocked(desk.page))]);
  }
  const [follow, early] = [await since("follow"), await desk.measures("sheet")];
  row(phone ? "phone" : "desk", at(slow, 0.5).toFixed(0), at(slow, 0.95).toFixed(0), at(follow, 0.5).toFixed(0), at(follow, 0.95).toFixed(0), at(early, 0.5).toFixed(0), at(await since("build"), 0.5).toFixed(0), at(await since("book"), 0.5).toFixed(0), file);
  await desk.context.close();
}

/** Presses to their next painting, as the browser itself reckons it: the longest of each press's events. */
const pressed = async (phone) => {
  const desk = await Desk.open(browser, site, phone ? { width: 360, height: 740 } : { width: 1440, height: 900 });
  const { page } = desk;
  if (phone) await (await desk.context.newCDPSession(page)).send("Emulation.setCPUThrottlingRate", { rate: 4 });
  await desk.verdict();
  await page.evaluate(() => {
    window.events = [];
    new PerformanceObserver((list) => window.events.push(...list.getEntries().filter((one) => one.interactionId).map((one) => one.duration))).observe({ type: "event", durationThreshold: 16 });
  });
  const settle = () => page.waitForTimeout(phone ? 1000 : 500);
  const found = [];
  const timed = async (words, times, deed, back = async () => {}) => {
    const took = [];
    for (let i = 0; i < times; i++) {
      await settle();
      await page.evaluate(() => window.events.splice(0));
      await deed(i);
      await settle();
      // What is quicker than the browser notes counts as the quickest it notes.
      took.push(Math.max(16, ...(await page.evaluate(() => window.events.splice(0)))));
      await back(i);
    }
    found.push([words, at(took, 0.5), at(took, 0.95)]);
  };
  await page.getByText(/^\d+ pages, just as they will print\.$/).waitFor();
  await settle();
  const radio = (name) => page.getByRole("radio", { name, exact: true });
  await timed("look at it in space, and from above again", 6, (i) => radio(i % 2 ? "from above" : "in space").check());
  await timed("play the turn", 6, () => page.getByRole("button", { name: "Play the turn" }).click(), () => page.getByRole("button", { name: "Pause the turn" }).click({ timeout: 1000 }).catch(() => {}));
  const part = page.getByRole("button", { name: "Checks and numbers" });
  await timed("fold a part, and open it again", 6, () => part.click());
  await timed("a page from the contents", 6, (i) => page.locator(".contents button").nth(3 + 2 * i).click());
  await page.evaluate(() => window.scrollTo(0, 0));
  const units = page.getByRole("group", { name: "Units" }).getByRole("radio");
  await timed("other units", 6, (i) => units.nth((i + 1) % 2).click());
  await page.getByText(/^\d+ pages, just as they will print\.$/).waitFor();
  for (let i = 0; i < 6; i++) {
    await desk.type("Closed diameter", `${1190 + i} mm`);
    await page.waitForTimeout(1550);
  }
  await timed("undo", 6, () => page.getByRole("button", { name: /^Undo/ }).click());
  await page.getByText(/^\d+ pages, just as they will print\.$/).waitFor();
  await page.getByRole("button", { name: "Take it to the bench" }).click();
  await page.locator(".shop-title").waitFor();
  await timed("a tick at the bench", 6, (i) => page.locator(".shop").getByRole("button", { name: i % 2 ? "One piece fewer is cut" : "One more piece is cut" }).click());
  await page.getByRole("button", { name: "Back to the desk" }).click();
  await desk.allPlans();
  await timed("open a plan from the start page", 6, () => page.locator("[data-plan] a").first().click(), () => desk.allPlans());
  await desk.context.close();
  return found;
};

head("From a press to the next painting", "press", "desk, median ms", "95th percentile", "phone, median ms", "95th percentile");
const [ofDesk, ofPhone] = [await pressed(false), await pressed(true)];
ofDesk.forEach(([words, median, most], i) => row(words, median, most, ofPhone[i][1], ofPhone[i][2]));

head("How long the page stands still meanwhile", "visitor", "while there is made", "longest frame, ms", "frames over 50 ms", "longest task, ms");
for (const one of waits) row(...one);

head("Frames over a play of five seconds (software rendering)", "view", "window", "frames", "median ms", "95th percentile", "longest", "working out and painting, median ms");
for (const view of ["from above", "in space"]) {
  for (const [width, height] of [[1440, 900], [360, 740]]) {
    const desk = await Desk.open(browser, site, { width, height });
    await desk.verdict();
    await desk.page.getByRole("radio", { name: view }).check();
    // Pages and checks are worked out meanwhile; they are not what is measured.
    await desk.page.waitForTimeout(4000);
    await desk.page.getByRole("button", { name: "Play the turn" }).click();
    const times = await desk.page.evaluate(
      () =>
        new Promise((done) => {
          const frames = [];
          const begun = performance.now();
          let last = begun;
          const tick = (now) => {
            frames.push(now - last);
            last = now;
            if (now - begun < 5000) requestAnimationFrame(tick);
            else done(frames.slice(1));
          };
          requestAnimationFrame(tick);
        }),
    );
    const paints = await desk.measures("paint");
    row(view, `${width} × ${height}`, times.length, at(times, 0.5).toFixed(1), at(times, 0.95).toFixed(1), at(times, 1).toFixed(1), paints.length ? at(paints, 0.5).toFixed(1) : "–");
    await desk.context.close();
  }
}
await browser.close();
await site.close();
