// A stranger's files in the app: no script runs, the page goes on answering, the sentence is shown, the work stays.
// In: the built site. Out: passed or failed; the longest task of each file is printed and never judged.
import assert from "node:assert/strict";
import { readFile } from "node:fs/promises";
import { join } from "node:path";
import { test } from "node:test";
import { Desk } from "./desk.mjs";
import { running } from "./run.mjs";
import { ROOT } from "./site.mjs";

const it = running();
const SCRIPT = `"><img src=x onerror="window.hostile=1"><script>window.hostile=1</script>`;
const demo = async () => JSON.parse(await readFile(join(ROOT, "demo", "reading-room.json")));

/** A desk that notes long tasks, with a size typed that must stay. */
async function watched() {
  const desk = await Desk.open(it.browser, it.site);
  await desk.page.evaluate(() => {
    window.longest = 0;
    const note = (list) => list.getEntries().forEach((e) => (window.longest = Math.max(window.longest, e.duration)));
    new PerformanceObserver(note).observe({ type: "longtask" });
  });
  await desk.type("Closed diameter", "1187 mm");
  await desk.verdict();
  return desk;
}

/** Opens a file; how long the page's longest task took, in ms. */
async function open(desk, name, bytes, sentence) {
  await desk.page.evaluate(() => (window.longest = 0));
  const start = Date.now();
  await desk.openFile(name, bytes);
  await desk.message(sentence);
  const shown = Date.now() - start;
  // Long tasks are told after they end.
  await desk.page.waitForTimeout(300);
  const longest = await desk.page.evaluate(() => window.longest);
  console.log(`${name}: ${(bytes.length / 1e6).toFixed(1)} MB, message after ${shown} ms, longest task ${Math.round(longest)} ms`);
}

async function harmless(desk) {
  assert.equal(await desk.page.evaluate(() => window.hostile), undefined);
  assert.equal(await desk.page.locator("img[onerror], main script, .notice script, .notice img").count(), 0);
}

/** A small PDF whose embedded file is what these packed bytes unpack to. */
function pdfWith(packed) {
  const head = `%PDF-1.7
1 0 obj
<< /Type /Catalog /Pages 3 0 R >>
endobj
3 0 obj
<< /Type /Pages /Kids [4 0 R] /Count 1 >>
endobj
4 0 obj
<< /Type /Page /Parent 3 0 R /MediaBox [0 0 9 9] >>
endobj
2 0 obj
<< /Type /EmbeddedFile /Filter /FlateDecode /Length ${packed.length} >>
stream
`;
  return Buffer.concat([
    Buffer.from(head),
    packed,
    Buffer.from("\nendstream\nendobj\ntrailer\n<< /Root 1 0 R >>\n%%EOF\n"),
  ]);
}

test("files that cannot be used are refused with a sentence, at once, and the work stays", async () => {
  const { deflateSync } = await import("node:zlib");
  const plan = await demo();
  const written = (value) => JSON.stringify({ ...plan, ...value });
  const put = (place, text) => JSON.stringify({ ...plan, [place]: "@" }).replace('"@"', text);
  const row = { mark: "A", date: "2026-01-02", what: SCRIPT };
  const ask = (n) => ({ number: n + 1, about: "book", text: SCRIPT });
  const step = (n) => ({ id: `own/${n}`, title: SCRIPT });
  const keys = Object.fromEntries(Array.from({ length: 300_000 }, (_, i) => [`k${i}`, 0]));
  const files = {
    "revisions.json": [written({ revisions: Array(10_000).fill(row) }), /10000 earlier revisions/],
    "questions.json": [written({ questions: Array.from({ length: 10_000 }, (_, n) => ask(n)) }), /10000 questions/],
    "steps.json": [written({ steps: Array.from({ length: 10_000 }, (_, n) => step(n)) }), /10000 steps/],
    "ones.json": [put("steps", `[${"1,".repeat(2_000_000)}1]`), /2000001 steps/],
    "deep.json": [put("texts", "[".repeat(100_000) + "]".repeat(100_000)), /nests more than 24 levels/],
    "brackets.json": ["[".repeat(4_900_000), /nests more than 24 levels/],
    "offer.json": [written({ offer: keys }), /offer to buyers cannot be read/],
    "repeated.json": [put("stock", `{${'"k":0,'.repeat(600_000)}"k":0}`), /more than once/],
    "long.json": [written({ texts: { title: SCRIPT.repeat(40_000) } }), /characters; 120 fit/],
    "number.json": [put("sizes", '{"height": 1e999999999}'), /height/],
    "type.json": [written({ sizes: [SCRIPT] }), /sizes/],
    "format.json": [JSON.stringify({ format: SCRIPT }), /not a plan/],
    "mark.json": [written({ revision: { mark: SCRIPT } }), /revision mark/],
    "turned.json": [written({ texts: { title: "\u202egnirts\0" } }), /U\+202E/],
    "bomb.pdf": [pdfWith(deflateSync(Buffer.alloc(200_000_000, " "), { level: 9 })), /more than 5 MB/],
  };
  const desk = await watched();
  for (const [name, [bytes, sentence]] of Object.entries(files)) {
    await open(desk, name, bytes, sentence);
    assert.equal(await desk.size("Closed diameter").inputValue(), "1187 mm", name);
    await harmless(desk);
  }
  // The page answers: a size typed is understood.
  await desk.type("Closed diameter", "1188 mm");
  // 1188 mm and 735 mm in 64ths of an inch of 25.4 mm.
  assert.match(await desk.understood("Closed diameter"), /46 49\/64 in/);
  await desk.verdict();
  await desk.close();
});

test("what may be in a plan is shown as words, in the greatest plan too", async () => {
  const plan = await demo();
  plan.texts = { ...plan.texts, title: SCRIPT, maker: "=1+1 <b>", notes: [SCRIPT] };
  plan.revision = { mark: "B", date: "2026-02-03", reasons: [SCRIPT] };
  plan.revisions = Array.from({ length: 1000 }, (_, i) => ({
    mark: String((i % 99) + 1),
    date: "2026-01-02",
    what: SCRIPT.repeat(10),
    figures: "f".repeat(2000),
  }));
  const ask = (i) => ({ number: i + 1, about: "part", id: "panel", from: SCRIPT.slice(0, 60), text: SCRIPT });
  plan.questions = Array.from({ length: 1000 }, (_, i) => ask(i));
  plan.steps = [{ id: "own/1", title: SCRIPT, text: [SCRIPT], after: "first", notes: [SCRIPT] }];
  plan[SCRIPT] = { [SCRIPT]: SCRIPT };
  const desk = await watched();
  // A thousand questions and revisions keep a slow machine busy for more than half a minute.
  desk.page.setDefaultTimeout(180_000);
  await open(desk, "greatest.json", JSON.stringify(plan), /Opened greatest\.json/);
  assert.equal(await desk.page.getByLabel("Name of the plan").inputValue(), SCRIPT);
  assert.match(await desk.verdict(), /^All \d+ checks hold/);
  await harmless(desk);
  await desk.page.evaluate(() => (window.longest = 0));
  await desk.type("Height", "735 mm");
  assert.match(await desk.understood("Height"), /28 15\/16 in/);
  await desk.verdict();
  await desk.page.waitForTimeout(300);
  const longest = await desk.page.evaluate(() => window.longest);
  console.log(`typing in the greatest plan: longest task ${Math.round(longest)} ms`);
  // Long lists come so many rows at a time, and the focus goes to the first of the new ones.
  const [rows, more] = [desk.page.locator(".questions > li"), desk.page.locator(".questions + button")];
  assert.equal(await rows.count(), 50);
  assert.equal(await more.textContent(), "List the next 50 of 950 more");
  await more.click();
  await desk.page.waitForFunction(() => document.activeElement.dataset.question === "51");
  assert.equal(await rows.count(), 100);
  await desk.page.getByRole("button", { name: "Bring back what was here" }).click();
  await desk.page.waitForFunction(() => document.getElementById("closed_diameter").value === "1187 mm");
  await harmless(desk);
  await desk.close();
});
