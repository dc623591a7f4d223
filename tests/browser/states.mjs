// Pictures of every state of the app, for looking at: wide and narrow, light and dark. Not a test.
// In: the built site in dist/, a folder. Out: PNG files named width-light-state. Run: node tests/browser/states.mjs FOLDER
// [WIDTH ...] [ONLY]; a last word that is no number keeps to one session (start, bench, odds, print, maker, shop, faults,
// broken) or to the states whose names hold it.
import { mkdir, readFile } from "node:fs/promises";
import { join } from "node:path";
import { Desk } from "./desk.mjs";
import { launch, ROOT, serve } from "./site.mjs";

const [folder, ...rest] = process.argv.slice(2);
if (!folder) throw new Error("Name a folder for the pictures.");
const widths = rest.filter((word) => /^\d+$/.test(word)).map(Number);
const only = rest.find((word) => !/^\d+$/.test(word)) ?? "";
await mkdir(folder, { recursive: true });
let newer = false;
const change = (name, body) => (newer && name === "sw.js" ? Buffer.from(String(body).replace(/VERSION = "[^"]*"/, 'VERSION = "next"')) : body);
const [site, browser] = [await serve(change), await launch()];
const demo = await readFile(join(ROOT, "demo/reading-room.json"), "utf8");

/** What is in sight, or one part of the page, in both lights. */
async function take(desk, width, name, what) {
  if (!name.includes(only) && !(only in SESSIONS)) return;
  const at = what === "all" ? desk.page : what ? desk.page.locator(what).first() : desk.page;
  for (const scheme of ["light", "dark"]) {
    await desk.page.emulateMedia({ colorScheme: scheme });
    await desk.page.waitForTimeout(150);
    await at.screenshot({ path: join(folder, `${width}-${scheme}-${name}.png`), animations: "disabled", ...(what === "all" ? { fullPage: true } : {}) });
  }
  await desk.page.emulateMedia({ colorScheme: "light" });
}

async function issue(desk, date, why) {
  const page = desk.page;
  await page.locator("#revision-date").fill(date);
  await page.locator("#revision-why").fill(why);
  await page.locator("#revision-why").press("Tab");
  await page.getByRole("button", { name: /^Look (it over|over what changed)/ }).click();
  await page.waitForFunction(() => [...document.querySelectorAll("button.main:enabled")].some((b) => /^Issue revision/.test(b.textContent)));
}
const press = (desk) => desk.page.getByRole("button", { name: /^Issue revision/ }).click();
const book = (desk) => desk.page.waitForFunction(() => document.querySelector('[data-say="book"]').textContent.includes("just as they will print"), null, { timeout: 90_000 });

/** Everything on the way of one session after another; a state that fails is told and the next session goes on. */
const SESSIONS = {
  async start(width, open, shot) {
    const desk = await open({ start: true });
    await shot(desk, "start-empty", "all");
    await desk.page.getByRole("textbox", { name: "How many sit" }).fill("16");
    await desk.page.getByRole("textbox", { name: "Diameter when closed" }).fill("wide");
    await desk.page.getByRole("button", { name: "Work out the table" }).click();
    await desk.page.locator('[data-say="search"] .wrong').first().waitFor();
    await shot(desk, "start-wrong", ".three");
    await desk.page.getByRole("textbox", { name: "Diameter when closed" }).fill("1200");
    await desk.page.getByRole("button", { name: "Work out the table" }).click();
    await desk.page.getByRole("button", { name: "Take these answers" }).first().waitFor();
    await shot(desk, "start-none", ".three");
    await desk.takeUsual();
    await desk.page.getByLabel("Name of the plan").fill("Garden room table");
    await desk.type("Height", "735 mm");
    await desk.kept();
    await desk.allPlans();
    await desk.page.getByRole("button", { name: /^Copy/ }).first().click();
    await desk.page.locator(".plan-card .glimpse svg").first().waitFor();
    await shot(desk, "start-plans", "all");
    await desk.page.getByRole("button", { name: "Open from an address" }).click();
    await shot(desk, "address", ".ask");
    await desk.page.getByRole("textbox", { name: "Address of the plan or book" }).fill("https://example.org/plans/garden-room.json");
    await desk.page.keyboard.press("Enter");
    await desk.page.waitForTimeout(200);
    await shot(desk, "address-asked", ".ask");
    await desk.close();
  },
  async bench(width, open, shot) {
    const desk = await open({});
    const page = desk.page;
    await desk.verdict();
    await page.locator(".sheet svg").first().waitFor();
    await desk.page.getByRole("button", { name: "Fold all parts" }).click();
    await shot(desk, "bench-folded", "all");
    await desk.openParts();
    await desk.page.evaluate(() => window.scrollTo(0, 0));
    await shot(desk, "bench");
    await shot(desk, "bench-all", "all");
    await shot(desk, "sizes", "#sizes");
    await desk.size("Tongue depth").focus();
    await page.locator("[data-limits]").waitFor();
    await shot(desk, "size-touched", ".passage:has(.help)");
    await desk.slider.press("End");
    await shot(desk, "above-open", ".stay");
    await page.getByRole("radio", { name: "what moves it" }).check();
    await shot(desk, "above-inside", ".stay");
    await page.getByRole("radio", { name: "in space" }).check();
    await desk.slider.fill("90");
    await page.waitForTimeout(300);
    await shot(desk, "space", ".stay");
    await page.getByRole("checkbox", { name: "cut open" }).check();
    await page.waitForTimeout(300);
    await shot(desk, "space-cut", ".stay");
    await page.getByRole("checkbox", { name: "cut open" }).uncheck();
    await page.getByRole("slider", { name: "Pull apart" }).fill("200");
    await page.waitForTimeout(300);
    await shot(desk, "space-apart", ".stay");
    await page.locator("#checks details").evaluateAll((all) => all.forEach((one) => (one.open = true)));
    await page.getByRole("slider", { name: "Pull apart" }).fill("0");
    for (const level of ["panels", "leaves", "star"]) await page.getByRole("checkbox", { name: level, exact: true }).uncheck();
    await page.locator("[data-check='clear.panel-arm.panel-arm'] button").first().click();
    await page.waitForTimeout(300);
    await shot(desk, "space-lit", ".stay");
    await page.locator("#checks details").evaluateAll((all) => all.forEach((one) => (one.open = false)));
    await shot(desk, "checks", "#checks");
    await shot(desk, "strength-numbers", "#numbers");
    await page.locator(".steps summary").nth(1).click();
    await shot(desk, "steps", "#steps");
    await page.locator(".steps summary").nth(1).click();
    await shot(desk, "book", "#book");
    await page.getByRole("radio", { name: "small pages" }).check();
    await page.waitForTimeout(2500);
    await shot(desk, "book-small", "#book");
    await page.getByLabel("Look for").fill("router");
    await page.locator(".this-hit").first().waitFor();
    await shot(desk, "book-found", "#book");
    await page.getByRole("button", { name: "Nearer" }).click();
    await page.getByRole("button", { name: "Nearer" }).click();
    await page.waitForTimeout(600);
    await shot(desk, "book-near", "#book");
    await page.getByRole("radio", { name: "chosen chapters" }).check();
    await shot(desk, "options", ".choices:has(#paper)");
    await page.getByRole("button", { name: "Add sheets of 5 × 5 ft" }).click();
    await page.getByLabel("or of your own size").fill("wide");
    await page.getByLabel("or of your own size").press("Enter");
    await desk.type("Top thickness, measured", "12 mm");
    await page.getByText("measure again").waitFor();
    await shot(desk, "stock", ".stock >> nth=0");
    await shot(desk, "measured", ".stock >> nth=1");
    await desk.close();
  },
  async odds(width, open, shot) {
    const desk = await open({});
    await desk.verdict();
    await desk.type("Height", "as high as the sill");
    await desk.type("Closed diameter", "800 mm");
    await desk.page.locator("#checks .changes button").first().waitFor();
    await shot(desk, "odds-top");
    await shot(desk, "odds-sizes", "#sizes .words");
    await shot(desk, "odds-checks", "#checks");
    await desk.openFile("broken.json", "{");
    await desk.message("was not opened");
    await desk.page.evaluate(() => window.scrollTo(0, 0));
    await shot(desk, "refused-file");
    await desk.size("Height").press("Escape");
    await desk.type("Closed diameter", "1200 mm");
    await desk.type("Panel gap", "0.1 mm").catch(() => {});
    await desk.verdict();
    await shot(desk, "checks-fail", "#checks");
    await desk.page.getByRole("button", { name: "Hold to see it before the last change" }).evaluate((b) => b.click());
    await shot(desk, "before", ".stay");
    await desk.close();
  },
  async print(width, open, shot) {
    const desk = await open({});
    await desk.page.evaluate(() => (window.print = () => {}));
    await book(desk);
    await desk.page.keyboard.press("Control+P");
    await desk.page.emulateMedia({ media: "print" });
    await desk.page.locator(".paper").first().waitFor();
    await shot(desk, "print-sheet", ".paper");
    await desk.close();
  },
  async maker(width, open, shot) {
    const desk = await open({});
    const page = desk.page;
    await desk.openFile("demo.json", demo);
    await desk.verdict();
    await page.locator("#revisions").scrollIntoViewIfNeeded();
    await shot(desk, "revisions-none", "#revisions");
    await shot(desk, "changes-none", "#changes");
    await issue(desk, "2026-02-01", "For buyers.");
    await press(desk);
    await desk.message(/is issued/);
    await desk.type("Top thickness", "20 mm");
    await desk.verdict();
    await issue(desk, "2026-04-01", "Thicker panels, as a buyer asked.");
    await shot(desk, "revision-looked", "#revisions");
    await press(desk);
    await page.locator("[data-revision]").nth(1).waitFor();
    await page.locator("#question-about").selectOption("book");
    const form = page.locator("form").filter({ hasText: "It is about" });
    await form.getByRole("textbox", { name: "Asked by" }).fill("Buyer 7");
    await form.getByRole("textbox", { name: "The question" }).fill("May I sell what I build?");
    await form.getByRole("button", { name: "Write it down" }).click();
    await page.locator("[data-question] summary").first().click();
    await shot(desk, "revisions", "#revisions");
    await page.locator("#compare-old").selectOption({ index: 1 });
    await page.locator("#compare-new").selectOption({ index: 1 });
    await page.getByRole("button", { name: "Compare", exact: true }).click();
    await page.locator(".laid .is svg").waitFor();
    await shot(desk, "changes", "#changes");
    await page.locator('[data-offer="height"] input[type=checkbox]').check();
    await page.getByRole("textbox", { name: "Least of height" }).fill("700 mm");
    await page.getByRole("textbox", { name: "Most of height" }).fill("790 mm");
    await page.locator("#offer-licence").fill("For one table of your own.");
    await shot(desk, "offer", "#buyers");
    const first = await desk.download("Save the plan for buyers");
    await desk.openFile(first.name, first.bytes);
    await page.locator("[data-offered]").first().waitFor();
    await desk.verdict();
    await page.evaluate(() => window.scrollTo(0, 0));
    await shot(desk, "buyer");
    await desk.type("Height", "900 mm");
    await desk.wrong("700 mm to 790 mm").waitFor();
    await shot(desk, "buyer-sizes", "#sizes");
    await desk.type("Height", "780 mm");
    const next = first.bytes.toString().replace("790 mm", "770 mm");
    await page.locator("#onto-file").setInputFiles({ name: "next.json", mimeType: "application/json", buffer: Buffer.from(next) });
    await page.locator('[data-say="parts"]').waitFor();
    await shot(desk, "buyer-next", "#sizes");
    await desk.close();
  },
  async shop(width, open, shot) {
    const desk = await open({});
    const page = desk.page;
    await desk.verdict();
    await page.getByRole("button", { name: "Take it to the bench" }).click();
    await page.locator(".shop-drawing svg").first().waitFor();
    await shot(desk, "shop-part");
    await page.locator("[data-reading]").first().click();
    await page.getByRole("button", { name: "One more piece is cut" }).click();
    await page.waitForTimeout(300);
    await shot(desk, "shop-reading");
    await page.getByRole("radio", { name: "Steps" }).check();
    await page.locator(".step-done").waitFor();
    await shot(desk, "shop-step");
    await page.keyboard.press("Escape");
    await page.getByRole("radio", { name: "German" }).check();
    await book(desk);
    await page.getByRole("button", { name: "Take it to the bench" }).click();
    await page.getByRole("radio", { name: "Parts", exact: true }).check();
    await page.locator(".shop-drawing svg").first().waitFor();
    await page.locator("[data-reading]").first().click();
    await shot(desk, "shop-german");
    await page.keyboard.press("Escape");
    await shot(desk, "book-german", "#book");
    await desk.close();
  },
  async faults(width, open, shot) {
    const desk = await open({});
    const page = desk.page;
    await page.waitForFunction(() => navigator.serviceWorker.controller !== null);
    await desk.verdict();
    newer = true;
    await page.evaluate(async () => (await navigator.serviceWorker.getRegistration()).update());
    await page.getByText("A newer version of Turnleaf is ready").waitFor();
    newer = false;
    await desk.type("Closed diameter", "1190 mm");
    await desk.kept();
    const two = await Desk.tab(desk.context, site);
    await two.page.getByText("open in another tab too").waitFor();
    await shot(two, "newer-and-other-tab");
    await two.page.close();
    await page.addInitScript(() => {
      IDBObjectStore.prototype.put = () => {
        throw new DOMException("no room", "QuotaExceededError");
      };
    });
    await desk.reload();
    await desk.type("Closed diameter", "1181 mm");
    await page.getByText("the browser has no room left for this page").waitFor();
    await shot(desk, "storage-refused");
    await desk.close();
  },
  async broken(width, open, shot) {
    const desk = await open({});
    const page = desk.page;
    await desk.verdict();
    await desk.type("Closed diameter", "1182 m");
    await desk.kept();
    await page.evaluate(() => {
      Performance.prototype.now = () => {
        throw new WebAssembly.RuntimeError("unreachable");
      };
    });
    await page.keyboard.type("m");
    await page.getByRole("alertdialog").waitFor();
    await shot(desk, "broke-down");
    await desk.close([/unreachable/]);
  },
};

for (const width of widths.length ? widths : [1440, 360]) {
  const height = width < 600 ? 740 : 900;
  for (const [name, session] of Object.entries(SESSIONS)) {
    if (only in SESSIONS && name !== only) continue;
    try {
      await session(width, (options) => Desk.open(browser, site, { width, height, ...options }), (desk, state, what) => take(desk, width, state, what));
      console.log(`${width} ${name}: done`);
    } catch (error) {
      console.log(`${width} ${name}: ${error.message.split("\n").slice(0, 4).join(" | ")}`);
    }
  }
}
await browser.close();
await site.close();
