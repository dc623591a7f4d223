// Who has a copy: noting copies, the maker's own file, whom to tell of a revision, and where none of it may get to.
// Names and addresses are made up (demo).
import assert from "node:assert/strict";
import { execFileSync } from "node:child_process";
import { mkdtemp, readFile, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { test } from "node:test";
import { inBothLights, withinTheWindow } from "./axe.mjs";
import { Desk } from "./desk.mjs";
import { running } from "./run.mjs";
import { ROOT } from "./site.mjs";

const it = running();
const TERMINAL = process.env.TURNLEAF ?? join(ROOT, "target/debug/turnleaf");
const HEAD = "name,contact,date,revision,size,units,paper\r\n";
/** A file with columns of one's own, odd quotes, a line break, and no line ending behind its last row. */
const OWN =
  "\ufeffpaid,name,contact,date,revision,size,units,paper,note\r\n" +
  'yes,"Ann Ash (demo)",ann@example.org,2026-01-02,A, 740 mm high ,mm,a4,"two\r\nlines"\r\n' +
  'no,"Ben ""B"" Birch (demo)",by post,2026-01-03,A,,in,letter,\r\n' +
  "yes,Cleo Cedar (demo),cleo@example.org,2026-03-04,C,,mm,a4,x";
const list = (name, text) => ({ name, mimeType: "text/csv", buffer: Buffer.from(text) });

/** A plan with revisions A to C issued, from the terminal, in a folder of its own. */
async function issued() {
  const folder = await mkdtemp(join(tmpdir(), "turnleaf-"));
  const path = join(folder, "plan.json");
  await writeFile(path, await readFile(join(ROOT, "demo/reading-room.json")));
  execFileSync(TERMINAL, ["issue", path, "--date", "2026-03-01", "--reason", "Taller."]);
  const said = (words) => execFileSync(TERMINAL, words, { cwd: folder, encoding: "utf8" });
  return { folder, said, bytes: await readFile(path) };
}

/** The section as a maker meets it. */
class Section {
  constructor(desk) {
    this.desk = desk;
    this.page = desk.page;
  }
  rows() {
    return this.page.locator("[data-copy]");
  }
  said(pattern) {
    return this.page.locator(".copies-said").filter({ hasText: pattern }).waitFor();
  }
  async open(name, text) {
    await this.page.locator("#copies-file").setInputFiles(list(name, text));
  }
  async note(name, contact, press = (button) => button.click()) {
    await press(this.page.getByRole("button", { name: "Note a copy", exact: true }));
    await this.page.locator("#copy-0").waitFor();
    await this.page.locator("#copy-0").fill(name);
    await this.page.locator("#copy-1").fill(contact);
  }
  async saved() {
    return (await this.desk.download("Save the list (CSV)")).bytes.toString();
  }
}

async function at(options = {}) {
  const desk = await Desk.open(it.browser, it.site, options);
  return [desk, new Section(desk), desk.page];
}

test("a maker's own file goes through the app with every byte but for what was changed, and back to the terminal", async () => {
  const { folder, said, bytes } = await issued();
  const [desk, section, page] = await at();
  await desk.openFile("plan.json", bytes);
  await desk.message(/^Opened plan\.json/);
  await section.open("copies.csv", OWN);
  await section.said(/^copies\.csv: 3 copies, kept in this browser/);
  assert.equal(await section.saved(), OWN);
  await page.getByText("Your own columns “paid”, “note” stay in the file as they are.").waitFor();
  // One older than C: A's and none of C's.
  const last = (await page.locator("[data-revision]").first().getAttribute("data-revision")) ?? "";
  await page.locator('[data-say="older"]').filter({ hasText: `older than revision ${last}.` }).waitFor();
  // A change touches one cell of one row.
  const ben = section.rows().filter({ hasText: "Birch" });
  await ben.getByRole("button", { name: /^Change/ }).click();
  assert.equal(await page.locator("#copy-1").inputValue(), "by post");
  await page.locator("#copy-1").fill("ben@example.org");
  await page.getByRole("button", { name: "Change it" }).click();
  await section.said("is changed");
  const changed = OWN.replace("by post", "ben@example.org");
  assert.equal(await section.saved(), changed);
  await page.getByRole("button", { name: "Bring back what was here" }).last().click();
  await section.said("back in the list");
  assert.equal(await section.saved(), OWN);
  // Taken out and brought back: the file is what it was.
  await ben.getByRole("button", { name: /^Take out/ }).click();
  await section.said("out of the list");
  assert.equal(await section.rows().count(), 2);
  await page.getByRole("button", { name: "Bring it back" }).click();
  await section.said("back in the list");
  assert.equal(await section.saved(), OWN);
  // A formula becomes none, as from the terminal.
  await section.note("=1+2 (demo)", "dora@example.org");
  await page.locator("#copy-2").fill("2026-04-05");
  await page.getByRole("button", { name: "Note it" }).click();
  await section.said(/^Noted: =1\+2 \(demo\), revision .*The list has 4 copies\./);
  const text = await section.saved();
  assert.ok(text.startsWith(`${OWN}\r\n,'=1+2 (demo),dora@example.org,2026-04-05,`) && text.endsWith(",mm,a4,\r\n"), text);
  // The terminal goes on with it, and what it writes opens here.
  await writeFile(join(folder, "copies.csv"), text);
  said(["register", "copies.csv", "add", "--name", "Eve (demo)", "--date", "2026-05-06", "--revision", "A"]);
  const further = await readFile(join(folder, "copies.csv"), "utf8");
  assert.equal(further, `${text},Eve (demo),,2026-05-06,A,,,,\r\n`);
  await page.evaluate((text) => {
    const transfer = new DataTransfer();
    transfer.items.add(new File([text], "further.csv", { type: "text/csv" }));
    for (const kind of ["dragover", "drop"]) document.body.dispatchEvent(new DragEvent(kind, { dataTransfer: transfer, bubbles: true, cancelable: true }));
  }, further);
  await section.said(/^further\.csv: 5 copies/);
  assert.equal(await section.saved(), further);
  // The mails of both are the same text.
  await page.getByLabel(/^Where the new files can be fetched/).fill("https://example.org/plan.json");
  const mails = await desk.download(/^Save (the mail as a|\d mails as one) text file/);
  assert.equal(mails.bytes.toString(), said(["register", "copies.csv", "notify", "plan.json", "--link", "https://example.org/plan.json"]));
  // Python's csv module (its own reader of the same rules, RFC 4180) sees the same cells.
  await writeFile(join(folder, "further.csv"), further);
  const script = "import csv,json,sys; print(json.dumps([r for r in csv.reader(open(sys.argv[1], newline='', encoding='utf-8-sig'))]))";
  const cells = JSON.parse(execFileSync("python3", ["-c", script, join(folder, "further.csv")], { encoding: "utf8" }));
  const shown = await section.rows().evaluateAll((all) => all.map((row) => row.querySelector("th").textContent));
  assert.deepEqual(shown.reverse(), cells.slice(1).map((row) => row[1].replace(/^'=/, "=")));
  await rm(folder, { recursive: true });
  await desk.close();
});

test("by the keyboard alone, at 360 px and without a network: noted, told, kept, and in no file that goes out", async () => {
  const [desk, section, page] = await at({ width: 360, height: 740, permissions: ["clipboard-read", "clipboard-write"] });
  const enter = (button) => button.press("Enter");
  await desk.verdict();
  // A name for the files, so that nothing is looked for twice.
  await page.getByLabel("Name of the plan").fill("Oak (demo)");
  await page.getByLabel("Name of the plan").press("Tab");
  await page.waitForFunction(() => document.querySelector('[data-say="book"]').textContent.includes("just as they will print"), null, { timeout: 90_000 });
  // The saved book offers to note whom it is for; nothing is forced.
  await desk.download("Save the book");
  await enter(page.getByRole("button", { name: "Note whom this is for" }));
  await page.waitForFunction(() => document.activeElement?.id === "copy-0");
  assert.match(await page.locator("#copy-2").inputValue(), /^\d{4}-\d\d-\d\d$/);
  assert.equal(await page.locator("#copy-3").inputValue(), "A");
  assert.match(await page.locator("#copy-4").inputValue(), /1200 mm closed/);
  assert.deepEqual([await page.locator("#copy-5").inputValue(), await page.locator("#copy-6").inputValue()], ["mm", "a4"]);
  await page.context().setOffline(true);
  // What is refused is said, and what was typed stays.
  await page.locator("#copy-1").fill("fay@example.org");
  await page.locator("#copy-1").press("Enter");
  await section.said("A copy needs a name and the mark of its revision.");
  assert.equal(await page.locator("#copy-1").inputValue(), "fay@example.org");
  await page.locator("#copy-0").fill("Fay Secretbuyer");
  await page.locator("#copy-0").press("Enter");
  await section.said(/^Noted: Fay Secretbuyer, revision A\. The list has 1 copy\./);
  await page.waitForFunction(() => document.activeElement?.id === "copy-note");
  // A bad file costs nothing of what is here.
  await section.open("bad.csv", `${HEAD}Ann,a@example.org,2026-01-01,A,,,\r\nBen,b\r\n`);
  await section.said("bad.csv cannot be read as a list of copies: row 3 has 2 cells, the first row 7");
  await section.open("latin.csv", Buffer.from(`${HEAD}B\xfcrger,,2026-01-01,A,,,\r\n`, "latin1"));
  await section.said("line 2 is not in UTF-8");
  assert.equal(await section.rows().count(), 1);
  // Issue A, then B: Fay is to be told.
  for (const [date, mark] of [["2026-02-01", "A"], ["2026-03-01", "B"]]) {
    await page.locator("#revision-date").fill(date);
    await page.locator("#revision-date").press("Tab");
    await enter(page.getByRole("button", { name: /^Look (it over|over what changed)/ }));
    await page.waitForFunction(() => [...document.querySelectorAll("button.main")].some((b) => /^Issue revision/.test(b.textContent) && !b.disabled), null, { timeout: 60_000 });
    await enter(page.getByRole("button", { name: /^Issue revision/ }));
    await page.locator(`[data-revision="${mark}"]`).waitFor({ timeout: 60_000 });
  }
  await desk.message("One copy that you noted is older now");
  await enter(section.rows().first().getByRole("button", { name: /^The mail.*Fay Secretbuyer/ }));
  const mail = page.locator("#copy-mail");
  await page.waitForFunction(() => document.activeElement?.id === "copy-mail");
  const text = await mail.locator("pre").textContent();
  assert.match(text, /^To: fay@example\.org\nSubject: Oak \(demo\): revision B\n\nDear Fay Secretbuyer,\n\nyou have revision A/);
  await enter(mail.getByRole("button", { name: "Copy the text" }));
  await section.said("The mail is copied");
  assert.equal(await page.evaluate(() => navigator.clipboard.readText()), text);
  // RFC 6068: the address as it is, subject and text percent-encoded.
  const link = new URL(await mail.getByRole("link", { name: "Open it in your mail program" }).getAttribute("href"));
  assert.deepEqual([link.protocol, link.pathname], ["mailto:", "fay@example.org"]);
  assert.equal(link.searchParams.get("subject"), "Oak (demo): revision B");
  assert.equal(link.searchParams.get("body").replaceAll("\r\n", "\n"), text.split("\n\n").slice(1).join("\n\n"));
  await inBothLights(desk, "a list, the mail");
  await withinTheWindow(desk, "a list, the mail");
  await enter(section.rows().first().getByRole("button", { name: /^Change/ }));
  await inBothLights(desk, "a copy in the boxes");
  await withinTheWindow(desk, "a copy in the boxes");
  await enter(page.getByRole("button", { name: "Leave it" }));
  // In no file that goes out, and in the maker's file of all plans alone.
  const plan = await desk.download("Save the plan");
  const book = await desk.download("Save the book");
  await page.locator('[data-offer="height"] input[type=checkbox]').check();
  const buyers = await desk.download("Save the plan for buyers");
  await desk.openPath({ name: "book.pdf", mimeType: "application/pdf", buffer: book.bytes });
  await desk.message(/^Opened book\.pdf/);
  assert.equal(await section.rows().count(), 0);
  const inside = await desk.download("Save the plan");
  for (const file of [plan, buyers, inside]) assert.ok(file.bytes.length > 1000 && !file.bytes.includes("Secretbuyer") && !file.bytes.includes("fay@"), file.name);
  await desk.openFile("buyers.json", buyers.bytes);
  await desk.message(/^Opened buyers\.json/);
  assert.equal(await page.getByText("Who has a copy").count(), 0);
  await desk.allPlans();
  const all = await desk.download("Put all plans into one file");
  assert.ok(all.bytes.includes("Fay Secretbuyer"));
  await desk.message("Who has a copy of them is in it too");
  await page.context().setOffline(false);
  // Elsewhere the file brings it back.
  const other = await Desk.open(it.browser, it.site, { start: true });
  await other.openFile("all.json", all.bytes);
  await other.message(/^all\.json: \d plans were taken over/);
  await other.page.locator(".plan-card").filter({ hasText: "Oak (demo)" }).last().waitFor();
  const withList = JSON.parse(all.bytes).plans.filter((plan) => plan.copies);
  assert.equal(withList.length, 1);
  await other.page.evaluate((id) => (location.hash = `#/plan/${id}`), withList[0].id);
  await other.atWork();
  await other.page.locator("[data-copy]").filter({ hasText: "Fay Secretbuyer" }).waitFor();
  await other.close();
  await desk.close();
});

test("a list outlives the page, goes with its plan and comes back with it; two tabs never write over each other", async () => {
  const [desk, section, page] = await at();
  await desk.verdict();
  await section.note("Gil (demo)", "gil@example.org");
  await page.locator("#copy-0").press("Enter");
  await section.said("The list has 1 copy");
  // The usual table is a plan of the maker's own now, since something of the maker's lies beside it.
  assert.match(await page.evaluate(() => location.hash), /^#\/plan\/p-/);
  await desk.reload();
  await section.rows().filter({ hasText: "Gil (demo)" }).waitFor();
  const second = await Desk.tab(desk.context, it.site, (page) => page.goto(desk.page.url()));
  await second.page.evaluate((hash) => (location.hash = hash), await page.evaluate(() => location.hash));
  const there = new Section(second);
  await there.rows().filter({ hasText: "Gil (demo)" }).waitFor();
  await second.openParts();
  await there.note("Hal (demo)", "");
  await second.page.locator("#copy-0").press("Enter");
  await there.said("The list has 2 copies");
  await section.rows().filter({ hasText: "Hal (demo)" }).waitFor();
  await second.page.close();
  await desk.allPlans();
  await page.getByRole("button", { name: /^Take away/ }).first().click();
  await desk.message("was taken away, with its list of who has a copy");
  const left = () =>
    page.evaluate(
      () =>
        new Promise((resolve) => {
          const opening = indexedDB.open("turnleaf");
          opening.onsuccess = () => {
            const asked = opening.result.transaction("plans").objectStore("plans").getAllKeys();
            asked.onsuccess = () => (opening.result.close(), resolve(asked.result));
          };
        }),
    );
  assert.deepEqual(await left(), []);
  await page.getByRole("button", { name: "Bring it back" }).click();
  await page.locator("[data-plan]").first().waitFor();
  assert.equal((await left()).filter((key) => key.startsWith("copies/")).length, 1);
  await page.locator("[data-plan] h3 a").first().click();
  await section.rows().filter({ hasText: "Hal (demo)" }).waitFor();
  // The whole list is taken away and brought back.
  await page.getByRole("button", { name: "Take the list away" }).click();
  await section.said("keeps nothing of it");
  assert.equal(await section.rows().count(), 0);
  await page.getByRole("button", { name: "Bring back what was here" }).click();
  await section.rows().filter({ hasText: "Gil (demo)" }).waitFor();
  await desk.close();
});

test("five thousand copies stay usable: a part is shown, words find the others", async () => {
  const [desk, section, page] = await at();
  await desk.verdict();
  const many = Array.from({ length: 5000 }, (_, i) => `Buyer ${i} (demo),b${i}@example.org,2026-01-01,A,,mm,a4\r\n`);
  const text = HEAD + many.join("");
  await section.open("many.csv", text);
  await section.said(/^many\.csv: 5000 copies/);
  assert.equal(await section.rows().count(), 50);
  await page.locator('[data-say="copies"]').filter({ hasText: "50 of 5000 listed" }).waitFor();
  await page.getByRole("button", { name: "Show 50 more" }).click();
  await page.locator('[data-copy="4900"]').waitFor();
  assert.equal(await section.rows().count(), 100);
  await page.locator("#copies").getByRole("searchbox").fill("buyer b1234@");
  await page.locator('[data-say="copies"]').filter({ hasText: "1 of 5000 listed." }).waitFor();
  await section.rows().getByRole("button", { name: /^Take out/ }).click();
  await section.said("The copy of Buyer 1234 (demo) is out of the list.");
  assert.equal(await section.saved(), text.replace(many[1234], ""));
  await desk.close();
});

test("where the browser has no room left a list stays on the page, it is said, and it can be saved", async () => {
  const desk = await Desk.open(it.browser, it.site);
  const section = new Section(desk);
  await section.open("copies.csv", OWN);
  await section.said(/^copies\.csv: 3 copies, kept in this browser/);
  await desk.page.evaluate(() => {
    const put = IDBObjectStore.prototype.put;
    window.emptyAgain = () => (IDBObjectStore.prototype.put = put);
    IDBObjectStore.prototype.put = () => {
      throw new DOMException("no room", "QuotaExceededError");
    };
  });
  await section.note("Dora (demo)", "dora@example.org");
  await desk.page.getByRole("button", { name: "Note it" }).click();
  await desk.message("it is not kept: the browser has no room left for this page. Save it as a file.");
  assert.equal(await section.rows().count(), 4);
  const text = await section.saved();
  assert.ok(text.startsWith(OWN) && text.includes("Dora (demo),dora@example.org"), text);
  // With room again the next deed keeps all of it.
  await desk.page.evaluate(() => window.emptyAgain());
  await section.note("Eve (demo)", "eve@example.org");
  await desk.page.getByRole("button", { name: "Note it" }).click();
  await section.said(/^Noted: Eve \(demo\).*The list has 5 copies\./);
  await desk.reload();
  await section.rows().filter({ hasText: "Dora" }).waitFor();
  assert.equal(await section.rows().count(), 5);
  await desk.close();
});
