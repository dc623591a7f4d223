// Pictures of every state of the app, for looking at: wide and narrow, light and dark. Not a test.
// In: the built site in dist/, a folder. Out: PNG files named width-light-state, and what the printer gets as PDF. Run:
// node tests/browser/states.mjs FOLDER [WIDTH ...] [ONLY]; a last word that is no number keeps to one session (start,
// shelf, bench, odds, failing, steps, print, maker, copies, shop, german, faults, broken) or to the states whose names hold it.
import { mkdir, readFile, writeFile } from "node:fs/promises";
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

/** Air round a part of the page, px: what sticks out of it shows too. */
const AIR = 14;

/** What is in sight, all of the page, or one part of it with some air, in both lights. */
async function take(desk, width, name, what) {
  if (!name.includes(only) && !(only in SESSIONS)) return;
  const part = what && what !== "all" ? desk.page.locator(what).first() : null;
  // Tabs that stay at the edge of the window lie over any part that is taller than it.
  const tabs = (seen) => desk.page.evaluate((seen) => document.querySelectorAll(".tabs").forEach((one) => (one.style.visibility = seen)), seen);
  if (part) await tabs("hidden");
  for (const scheme of ["light", "dark"]) {
    await desk.page.emulateMedia({ colorScheme: scheme });
    await desk.page.waitForTimeout(150);
    const how = { path: join(folder, `${width}-${scheme}-${name}.png`), animations: "disabled" };
    if (part) {
      await part.scrollIntoViewIfNeeded();
      how.clip = await part.evaluate((one, air) => {
        const box = one.getBoundingClientRect();
        const [x, y] = [Math.max(0, box.x + scrollX - air), Math.max(0, box.y + scrollY - air)];
        return { x, y, width: Math.min(box.width + 2 * air, document.documentElement.clientWidth - x), height: box.height + 2 * air };
      }, AIR);
    }
    await desk.page.screenshot({ ...how, ...(what ? { fullPage: true } : {}) });
  }
  if (part) await tabs("");
  await desk.page.emulateMedia({ colorScheme: "light" });
}

const press = (desk) => desk.page.getByRole("button", { name: /^Issue revision/ }).click();
const book = (desk) => desk.page.waitForFunction(() => document.querySelector('[data-say="book"]').textContent.includes("just as they will print"), null, { timeout: 90_000 });

/** Everything on the way of one session after another; a state that fails is told and the next session goes on. */
const SESSIONS = {
  async start(width, open, shot) {
    const desk = await open({ start: true });
    for (const glimpse of await desk.page.locator(".plan-card .glimpse").all()) await glimpse.locator("svg").waitFor();
    await shot(desk, "start-empty", "all");
    await desk.page.evaluate(() => {
      const dataTransfer = new DataTransfer();
      dataTransfer.items.add(new File(["{}"], "plan.json", { type: "application/json" }));
      document.body.dispatchEvent(new DragEvent("dragover", { dataTransfer, bubbles: true, cancelable: true }));
    });
    await shot(desk, "start-drop");
    await desk.page.evaluate(() => document.body.dispatchEvent(new DragEvent("dragleave", { bubbles: true })));
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
    for (const glimpse of await desk.page.locator(".plan-card .glimpse").all()) await glimpse.locator("svg").waitFor({ timeout: 90_000 });
    await shot(desk, "start-plans", "all");
    await desk.page.getByRole("button", { name: "Open from an address" }).click();
    await shot(desk, "address", ".ask");
    await desk.page.getByRole("textbox", { name: "Address of the plan or book" }).fill("https://example.org/plans/garden-room.json");
    await desk.page.keyboard.press("Enter");
    await desk.page.waitForTimeout(200);
    await shot(desk, "address-asked", ".ask");
    await desk.close();
  },
  async shelf(width, open, shot) {
    const desk = await open({});
    const page = desk.page;
    await page.getByLabel("Name of the plan").fill("Garden room table");
    await desk.type("Closed diameter", "1187 mm");
    await desk.kept();
    await desk.allPlans();
    const all = JSON.parse((await desk.download("Put all plans into one file")).bytes);
    const plan = JSON.parse(all.plans[0].work.plan);
    plan.sizes.closed_diameter = "1150 mm";
    all.plans[0].work.plan = JSON.stringify(plan);
    await desk.openFile("turnleaf-plans.json", JSON.stringify(all));
    await desk.message("turnleaf-plans.json");
    await page.waitForTimeout(2000);
    await shot(desk, "start-taken-in", "all");
    await page.getByRole("button", { name: /^Take away/ }).first().click();
    await page.getByRole("button", { name: "Bring it back" }).waitFor();
    await shot(desk, "start-taken-away");
    await desk.spoil('{"kept":1,"plan":"{\\"format\\":\\"turnleaf-plan\\"');
    await page.reload();
    await desk.ready();
    await page.getByRole("link", { name: "Spoilt" }).click();
    await desk.message("could not be read");
    await shot(desk, "start-put-aside", "all");
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
    for (const units of ["inches", "both"]) {
      await page.locator(".bar").getByRole("radio", { name: units, exact: true }).check();
      await desk.verdict();
      await shot(desk, `sizes-${units}`, "#sizes .words");
    }
    await page.locator(".bar").getByRole("radio", { name: "mm", exact: true }).check();
    await desk.verdict();
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
    await page.getByRole("slider", { name: "Pull apart" }).fill("0");
    await page.locator(".levels summary").click();
    for (const level of ["rising plate", "arms"]) await page.getByRole("checkbox", { name: level, exact: true }).uncheck();
    await page.waitForTimeout(300);
    await shot(desk, "space-levels", ".stay");
    await page.locator("#checks details").evaluateAll((all) => all.forEach((one) => (one.open = true)));
    for (const level of ["panels", "leaves", "star"]) await page.getByRole("checkbox", { name: level, exact: true }).uncheck();
    await page.locator("[data-check='clear.panel-arm.panel-arm'] button").first().click();
    await page.waitForTimeout(300);
    await shot(desk, "space-lit", ".stay");
    await page.getByRole("radio", { name: "from above" }).check();
    await page.getByRole("radio", { name: "the top" }).check();
    await shot(desk, "above-lit", ".stay");
    await page.getByRole("button", { name: "Put the light out" }).click();
    await shot(desk, "checks-all", "#checks");
    await page.locator("#checks details").evaluateAll((all) => all.forEach((one) => (one.open = false)));
    await shot(desk, "checks", "#checks");
    await shot(desk, "strength-numbers", "#numbers");
    await page.locator("#numbers details").evaluateAll((all) => all.forEach((one) => (one.open = true)));
    await shot(desk, "strength-open", "#numbers");
    await page.locator("#numbers details").evaluateAll((all) => all.forEach((one) => (one.open = false)));
    await shot(desk, "book", "#book");
    await page.locator("#book details").evaluateAll((all) => all.forEach((one) => (one.open = true)));
    await shot(desk, "book-details", "#book");
    await page.locator("#book details").evaluateAll((all) => all.forEach((one) => (one.open = false)));
    await page.getByRole("button", { name: /^Cutting layouts/ }).first().click();
    await page.waitForTimeout(800);
    await shot(desk, "book-layouts", ".sheets");
    await page.getByRole("radio", { name: "one page" }).check();
    await page.waitForTimeout(600);
    await shot(desk, "book-one", ".sheets");
    await page.getByRole("radio", { name: "two pages" }).check();
    await page.getByLabel("Look for").fill("zzz");
    await page.waitForTimeout(800);
    await shot(desk, "book-no-hit", ".sheets");
    await page.getByLabel("Look for").fill("");
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
    await desk.verdict();
    await desk.page.getByRole("button", { name: "Hold to see it before the last change" }).evaluate((b) => b.click());
    await shot(desk, "before-none", ".stay");
    await desk.page.getByRole("button", { name: "Hold to see it before the last change" }).evaluate((b) => b.click());
    await desk.page.getByLabel("Name of the plan").fill("Table");
    await desk.type("Closed diameter", "1180 mm");
    await desk.verdict();
    await desk.page.getByRole("button", { name: "Hold to see it before the last change" }).evaluate((b) => b.click());
    await shot(desk, "before", ".stay");
    await desk.close();
  },
  async failing(width, open, shot) {
    // The demo's arms are fixed: no others are looked for.
    const desk = await open({ start: true });
    const page = desk.page;
    await desk.take("Reading room table");
    await desk.verdict();
    // What fails when it is built as given, and what was tried to mend it; and a load that nothing carries.
    await desk.type("Arm clearance", "20 mm");
    await page.locator("#checks .changes button").first().waitFor({ timeout: 90_000 });
    await shot(desk, "checks-fail", "#checks");
    await page.evaluate(() => window.scrollTo(0, 0));
    await shot(desk, "checks-fail-top");
    await page.getByRole("button", { name: "Fold all parts" }).click();
    await shot(desk, "checks-fail-folded", ".part >> nth=0");
    await page.getByRole("button", { name: "Open all parts" }).click();
    await desk.type("Arm clearance", "4 mm");
    await desk.type("Edge load", "1500 N");
    await desk.verdict();
    await page.waitForTimeout(1500);
    await page.locator("#numbers details").first().evaluate((one) => (one.open = true));
    await shot(desk, "strength-beyond", "#numbers");
    await desk.close();
  },
  async steps(width, open, shot) {
    const desk = await open({});
    const page = desk.page;
    await desk.verdict();
    const step = page.locator('[data-step="make/top"]');
    await step.locator("summary").click();
    await step.getByRole("textbox", { name: "Notes" }).fill("Mind the [=gap.widht].");
    await page.keyboard.press("Tab");
    await page.locator("#step-remarks .wrong").first().waitFor();
    await step.getByRole("textbox", { name: "A picture shows" }).fill("The panels side by side");
    const picture = Buffer.from(await page.evaluate(async () => {
      const canvas = Object.assign(document.createElement("canvas"), { width: 320, height: 200 });
      const pen = canvas.getContext("2d");
      pen.fillStyle = "#c99a62";
      pen.fillRect(0, 0, 320, 200);
      return canvas.toDataURL("image/png").split(",")[1];
    }), "base64");
    await step.getByLabel("and is the file").setInputFiles({ name: "panels.png", mimeType: "image/png", buffer: picture });
    await step.locator(".pictures li").first().waitFor();
    const bars = page.locator('[data-step="make/bars"]');
    await bars.locator("summary").click();
    await bars.getByRole("button", { name: "Hide from the book" }).click();
    await bars.locator("summary").filter({ hasText: /^hidden/ }).waitFor();
    await shot(desk, "steps", "#steps");
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
    await desk.page.emulateMedia({ media: null });
    await writeFile(join(folder, `${width}-printed.pdf`), await desk.page.pdf({ preferCSSPageSize: true, printBackground: true }));
    await desk.close();
  },
  async copies(width, open, shot) {
    const desk = await open({});
    const page = desk.page;
    await desk.openFile("demo.json", demo);
    await desk.verdict();
    await shot(desk, "copies-none", "#copies");
    const rows = ["Ann Ash (demo),ann@example.org,2026-01-02,0,1200 mm closed,mm,a4", "Ben Birch (demo),by post,2026-01-03,A,,both,letter", "Cleo Cedar (demo),cleo@example.org,2026-02-04,B,47 1/4 in closed,in,letter"];
    const buffer = Buffer.from(`name,contact,date,revision,size,units,paper\n${rows.join("\n")}\n`);
    await page.locator("#copies-file").setInputFiles({ name: "copies.csv", mimeType: "text/csv", buffer });
    await page.locator("[data-copy]").first().waitFor();
    await shot(desk, "copies", "#copies");
    await page.getByRole("button", { name: "Note a copy", exact: true }).click();
    await page.locator("#copy-0").press("Enter");
    await page.locator(".copies-said.wrong").waitFor();
    await shot(desk, "copies-form", "#copies");
    await page.getByRole("button", { name: "Leave it" }).click();
    await page.locator("[data-copy] button").filter({ hasText: "The mail" }).last().click();
    await page.locator("#copy-mail").waitFor();
    await shot(desk, "copies-mail", "#copies");
    await page.locator("[data-copy] button").filter({ hasText: "Take out" }).first().click();
    await desk.message("is out of the list");
    await page.evaluate(() => window.scrollTo(0, 0));
    await shot(desk, "copies-out");
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
    await desk.lookOver("2026-02-01", "For buyers.");
    await press(desk);
    await desk.message(/is issued/);
    await desk.type("Top thickness", "20 mm");
    await desk.verdict();
    await desk.lookOver("2026-04-01", "Thicker panels, as a buyer asked.");
    await shot(desk, "revision-looked", "#revisions");
    await press(desk);
    await page.locator("[data-revision]").nth(2).waitFor();
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
    await page.locator("#laid-page").selectOption("sheet/leaf-riser").catch(() => page.locator("#laid-page").selectOption({ index: 3 }));
    await page.waitForFunction(() => document.querySelectorAll(".laid .is svg text").length > 0);
    await page.waitForTimeout(1500);
    await shot(desk, "changes", "#changes");
    const notice = await desk.download("Save the change notice");
    await writeFile(join(folder, `${width}-notice.pdf`), notice.bytes);
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
    await shot(desk, "messages");
    await page.getByRole("button", { name: "Close all messages" }).click();
    await page.evaluate(() => window.scrollTo(0, 0));
    await shot(desk, "buyer");
    await desk.type("Height", "900 mm");
    await desk.wrong("700 mm to 790 mm").waitFor();
    await shot(desk, "buyer-sizes", "#sizes");
    await desk.type("Height", "780 mm");
    const next = first.bytes.toString().replace("790 mm", "770 mm");
    await page.locator("#onto-file").setInputFiles({ name: "next.json", mimeType: "application/json", buffer: Buffer.from(next) });
    await page.locator('[data-say="parts"]').waitFor();
    await page.waitForTimeout(2500);
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
    await page.getByRole("button", { name: "Show it nearer" }).click();
    await page.waitForTimeout(300);
    await shot(desk, "shop-nearer");
    await page.getByRole("button", { name: "Show the whole sheet" }).click();
    await page.getByRole("radio", { name: "Steps" }).check();
    await page.locator(".step-done").waitFor();
    await shot(desk, "shop-step");
    for (let i = 0; i < 14; i++) await page.getByRole("button", { name: "Next", exact: true }).click();
    await page.getByRole("checkbox", { name: /^Done/ }).check();
    await shot(desk, "shop-step-figure");
    await page.keyboard.press("Escape");
    await desk.type("Closed diameter", "1180 mm");
    await desk.verdict();
    await page.getByRole("button", { name: "Take it to the bench" }).click();
    await page.getByRole("radio", { name: "Parts", exact: true }).check();
    await page.getByText("were cut to other sizes").waitFor();
    await page.locator(".shop-drawing svg").first().waitFor();
    await shot(desk, "shop-other-sizes");
    await desk.close();
  },
  async german(width, open, shot) {
    const desk = await open({});
    const page = desk.page;
    await desk.verdict();
    await page.getByRole("radio", { name: "German" }).check();
    await desk.verdict();
    await book(desk);
    await page.locator(".lectern svg").first().waitFor();
    await shot(desk, "book-german", "#book");
    await page.getByLabel("Page", { exact: true }).fill("28");
    await page.getByRole("button", { name: "Turn to it" }).click();
    await page.waitForTimeout(1200);
    await shot(desk, "book-german-drawing", ".sheets");
    await page.getByRole("button", { name: "Take it to the bench" }).click();
    await page.locator(".shop-drawing svg").first().waitFor();
    await page.locator("[data-reading]").first().click();
    await page.getByRole("button", { name: "Next", exact: true }).click();
    await page.waitForTimeout(800);
    await shot(desk, "shop-german");
    await page.getByRole("radio", { name: "Steps" }).check();
    await page.locator(".step-done").waitFor();
    await page.getByRole("button", { name: "Next", exact: true }).click();
    await page.waitForTimeout(300);
    await shot(desk, "shop-german-step");
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
    await two.page.evaluate(() => window.scrollTo(0, 0));
    await shot(two, "newer-and-other-tab");
    await two.page.close();
    await page.addInitScript(() => {
      const Real = window.Worker;
      window.workers = [];
      window.Worker = class extends Real {
        constructor(file, how) {
          super(file, how);
          if (how.name.includes("checks")) window.workers.push(this);
        }
      };
    });
    await desk.reload();
    await desk.verdict();
    await desk.type("Closed diameter", "1196 mm");
    await page.evaluate(() => window.workers.at(-1).terminate());
    await desk.message("stopped and was started again");
    await page.evaluate(() => window.scrollTo(0, 0));
    await shot(desk, "worker-killed");
    await page.addInitScript(() => {
      IDBObjectStore.prototype.put = () => {
        throw new DOMException("no room", "QuotaExceededError");
      };
    });
    await desk.reload();
    await desk.type("Closed diameter", "1181 mm");
    await page.getByText("the browser has no room left for this page").waitFor();
    await page.evaluate(() => window.scrollTo(0, 0));
    await shot(desk, "storage-refused");
    await desk.allPlans();
    await page.locator("#start .glimpse svg").nth(3).waitFor();
    await shot(desk, "start-storage-refused", "all");
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
