// Plan files: saved, opened, dropped; broken ones are refused with a sentence and touch nothing.
import assert from "node:assert/strict";
import { mkdtemp, readFile, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { test } from "node:test";
import { Desk } from "./desk.mjs";
import { running } from "./run.mjs";
import { ROOT } from "./site.mjs";

const it = running();
const demo = (name) => readFile(join(ROOT, "demo", name));

test("a saved plan opens again as it was", async () => {
  const desk = await Desk.open(it.browser, it.site);
  await desk.type("Closed diameter", "1195 mm");
  await desk.page.getByLabel("Name of the plan").fill("Window table, oak");
  await desk.page.keyboard.press("Tab");
  const { name, bytes } = await desk.download("Save the plan");
  assert.equal(name, "window-table-oak.turnleaf.json");
  assert.equal(JSON.parse(bytes).sizes.closed_diameter, "1195 mm");
  await desk.type("Closed diameter", "1300 mm");
  await desk.openFile(name, bytes);
  await desk.message(`Opened ${name}`);
  assert.equal(await desk.size("Closed diameter").inputValue(), "1195 mm");
  await desk.page.getByRole("button", { name: "Bring back what was here" }).click();
  assert.equal(await desk.size("Closed diameter").inputValue(), "1300 mm");
  await desk.close();
});

test("a dropped plan opens", async () => {
  const desk = await Desk.open(it.browser, it.site);
  await desk.dropFile("map-room.json", String(await demo("map-room.json")));
  await desk.message("Opened map-room.json");
  await desk.close();
});

test("a broken plan is refused with a sentence and the work stays", async () => {
  const desk = await Desk.open(it.browser, it.site);
  await desk.type("Closed diameter", "1185 mm");
  const good = JSON.parse(await demo("reading-room.json"));
  const broken = {
    "cut.json": [String(await demo("reading-room.json")).slice(0, 300), /cut\.json was not opened/],
    "empty.json": ["", /This file is empty/],
    "picture.json": [Buffer.from([0x89, 0x50, 0x4e, 0x47, 0xff, 0xfe]), /not text in UTF-8/],
    "newer.json": [JSON.stringify({ ...good, version: 99 }), /newer/],
    "type.json": [JSON.stringify({ ...good, sizes: { ...good.sizes, height: [] } }), /Height/],
    "huge.json": [JSON.stringify({ ...good, sizes: { ...good.sizes, height: "1e300 mm" } }), /Height/],
    "script.json": [JSON.stringify({ format: "<img src=x onerror=alert(1)>" }), /not a plan/],
  };
  for (const [name, [bytes, sentence]] of Object.entries(broken)) {
    await desk.openFile(name, bytes);
    await desk.message(sentence);
    assert.equal(await desk.size("Closed diameter").inputValue(), "1185 mm", name);
    assert.equal(await desk.page.locator(".notice img").count(), 0);
  }
  await desk.close();
});

test("50 MB of rubbish is refused with a sentence", async () => {
  const desk = await Desk.open(it.browser, it.site);
  const folder = await mkdtemp(join(tmpdir(), "turnleaf-"));
  const path = join(folder, "rubbish.json");
  await writeFile(path, Buffer.alloc(49_000_000, "{\"a\":"));
  await desk.openPath(path);
  await desk.message("49.0 MB");
  await rm(folder, { recursive: true });
  assert.match(await desk.verdict(), /checks/);
  await desk.close();
});
