// The whole jobs of the maker and of the buyer, each by mouse, by keyboard alone, and by touch at phone size.
// In: the built site. Out: verdicts; the maker's two plans for buyers are what the buyers open.
// Always true: every state on the way is held to the accessibility rules; nothing is wrong on console or network,
// and the jobs done by touch need no network at all.
import assert from "node:assert/strict";
import { test } from "node:test";
import { violations } from "./axe.mjs";
import { Desk } from "./desk.mjs";
import { Finger, Keys, Mouse } from "./hands.mjs";
import { running } from "./run.mjs";

const it = running();
const WAYS = [
  { Hand: Mouse, window: { width: 1440, height: 900 } },
  { Hand: Keys, window: { width: 1440, height: 900 } },
  { Hand: Finger, window: { width: 360, height: 740, hasTouch: true, isMobile: true }, offline: true },
];

/** Opens the start page, and cuts the network off where that is asked for. */
async function begin({ Hand, window, offline }) {
  const desk = await Desk.open(it.browser, it.site, { ...window, start: true });
  if (offline) {
    await desk.page.evaluate(() => navigator.serviceWorker.ready);
    await desk.page.waitForFunction(() => navigator.serviceWorker.controller !== null);
    await desk.context.setOffline(true);
    await desk.reload();
  }
  const fits = async () => assert.ok((await desk.page.evaluate(() => document.documentElement.scrollWidth - innerWidth)) <= 0, "nothing sticks out");
  const sound = async (state) => {
    assert.deepEqual(await violations(desk), [], state);
    await fits();
  };
  return { desk, page: desk.page, hand: new Hand(desk), sound };
}

/** The book is laid out for the sizes as they are. */
const laidOut = (page) => page.waitForFunction(() => document.querySelector('[data-say="book"]').textContent.includes("just as they will print"));

/** Looks over what is on the bench, and issues it. */
async function issue({ page, hand }, mark, date, why) {
  await hand.date(page.locator("#revision-date"), date);
  assert.equal(await page.locator("#revision-date").inputValue(), date);
  await hand.write(page.locator("#revision-why"), why);
  await hand.press(page.getByRole("button", { name: /^Look (it over|over what changed)/ }));
  const button = page.getByRole("button", { name: `Issue revision ${mark}` });
  await page.waitForFunction((mark) => [...document.querySelectorAll("button.main:enabled")].some((b) => b.textContent === `Issue revision ${mark}`), mark, { timeout: 90_000 });
  return button;
}

async function maker(way) {
  const at = await begin(way);
  const { desk, page, hand, sound } = at;
  const button = (name) => page.getByRole("button", { name, exact: true });
  // Three questions: too many people, then what would do.
  await hand.write(page.getByRole("textbox", { name: "How many sit at it when open" }), "16");
  await hand.press(button("Work out the table"));
  // π · 1650 mm / 16, by hand.
  await page.getByText("16 people have 324 mm of edge each").waitFor();
  await sound("answers that give no table");
  await hand.press(button("Take these answers").first());
  await hand.press(button("Work out the table"));
  await page.locator("#work:not([hidden])").waitFor();
  const part = (title) => page.getByRole("button", { name: new RegExp(`^${title}`) });
  await desk.message(/^A table of \d+ sectors was found/);
  assert.match(await desk.verdict(), /^All \d+ checks hold/);
  await sound("a table from three answers");
  // Design: a name, a size that cannot be, the remedy.
  await hand.write(page.getByLabel("Name of the plan"), "Garden room table");
  await hand.write(desk.size("Closed diameter"), "800 mm");
  // The checks are folded to a line; the drawing's own words lead into them.
  await hand.press(page.getByRole("link", { name: "See what is at odds" }));
  await page.locator("#checks .troubles li").first().waitFor();
  const remedy = page.locator("#checks .changes button").first();
  await remedy.waitFor();
  await sound("sizes at odds, with remedies");
  await hand.press(remedy);
  await page.locator("#checks .troubles").waitFor({ state: "detached" });
  assert.match(await desk.verdict(), /^All \d+ checks hold/);
  // The first revision.
  await hand.press(part("Revisions and questions"));
  await hand.press(await issue(at, "A", "2026-02-01", "For buyers."));
  await page.locator('[data-revision="A"]').waitFor();
  await desk.message(/^Revision A is issued/);
  // A year half typed is no day yet, and nothing to complain of.
  assert.deepEqual((await desk.messages()).filter((said) => said.includes("is not a day")), []);
  await sound("a revision issued");
  // A change, looked over and issued.
  await hand.write(desk.size("Top thickness"), "21 mm");
  await desk.verdict();
  const next = await issue(at, "B", "2026-04-01", "Thicker panels, as a buyer asked.");
  const changed = page.locator('.looked [data-changed="stock_thickness"]');
  assert.match(await changed.textContent(), /19\smm.*21\smm.*\+2 mm/);
  await sound("what changed, looked over");
  await hand.press(next);
  await page.locator('[data-revision="B"]').waitFor();
  // Plans for buyers, of either revision.
  await hand.press(part("A plan for buyers"));
  const offered = page.locator('[data-offer="height"]');
  await hand.tick(offered.locator("input[type=checkbox]"));
  const height = parseFloat(await offered.locator("td").first().textContent());
  await hand.write(page.getByRole("textbox", { name: "Least of height" }), `${height - 40} mm`);
  await hand.write(page.getByRole("textbox", { name: "Most of height" }), `${height + 50} mm`);
  await hand.tick(page.locator('[data-offer="tongue_depth"] input[type=checkbox]'));
  await hand.press(page.getByRole("button", { name: /limits of tongue depth/ }));
  await page.waitForFunction(() => document.querySelector('[data-offer="tongue_depth"] input[type=text]').value === "0 mm");
  await hand.tick(page.getByRole("checkbox", { name: "mm", exact: true }));
  await hand.tick(page.getByRole("checkbox", { name: "both", exact: true }));
  await hand.write(page.locator("#offer-licence"), "For one table of your own; do not pass the file on.");
  await hand.choose(page.locator("#offer-mark"), "revision A");
  await sound("an offer to buyers");
  const first = await hand.download(button("Save the plan for buyers"));
  await hand.choose(page.locator("#offer-mark"), "revision B");
  // A limit that does not hold the plan's own size is refused.
  await hand.write(page.getByRole("textbox", { name: "Most of height" }), `${height - 30} mm`);
  await hand.press(button("Save the plan for buyers"));
  await desk.message(/do not hold the plan's own/);
  await hand.write(page.getByRole("textbox", { name: "Most of height" }), `${height + 30} mm`);
  const second = await hand.download(button("Save the plan for buyers"));
  assert.ok(!second.bytes.includes('"frozen"'), "a plan for buyers holds no earlier revision");
  // The change notice.
  await hand.press(part("What changed"));
  await hand.choose(page.locator("#compare-old"), "revision A");
  await hand.choose(page.locator("#compare-new"), "revision B");
  await hand.press(button("Compare"));
  await page.locator('[data-say="compared"]').filter({ hasText: /^From revision A to revision B: 1 size/ }).waitFor();
  assert.notEqual(await page.locator('.cut-parts [data-part="panel"]').getAttribute("data-fate"), "still good");
  await sound("two revisions compared");
  const notice = await hand.download(button("Save the change notice"));
  assert.match(notice.name, /change-notice\.pdf$/);
  assert.equal(notice.bytes.subarray(0, 5).toString(), "%PDF-");
  await desk.close();
  return { first, second, height };
}

/** The maker's two plans for buyers, made once. */
let made;
const plans = () => (made ??= maker(WAYS[0]));

async function buyer(way) {
  const { first, second, height } = await plans();
  const { desk, page, hand, sound } = await begin(way);
  const button = (name) => page.getByRole("button", { name, exact: true });
  await hand.hand(button("Open a plan"), first);
  await page.locator('[data-say="licence"]').filter({ hasText: "For one table of your own" }).waitFor();
  // Only what is offered can be typed.
  assert.equal(await page.getByRole("textbox", { name: "Closed diameter" }).count(), 0);
  assert.equal(await page.locator("[data-offered]").count(), 2);
  assert.equal(await page.locator("#steps, #revisions, #buyers").count(), 0);
  assert.equal(await page.locator("#own-paper option").count(), 6);
  assert.equal(await page.locator('input[name="own-units"]').count(), 2);
  // An own size, first beyond its limits.
  await hand.write(desk.size("Height"), "950 mm");
  await desk.wrong(`${height - 40} mm to ${height + 50} mm`).waitFor();
  await sound("a size beyond its limits");
  await hand.write(desk.size("Height"), `${height + 40} mm`);
  // Stock as measured, and the book in another language and back.
  await hand.write(desk.size("Top thickness, measured"), "18.7 mm");
  await hand.choose(page.locator("#own-language"), "German");
  await hand.choose(page.locator("#own-language"), "English");
  await desk.verdict();
  await laidOut(page);
  await sound("an own table");
  const book = await hand.download(button("Save the book"));
  assert.equal(book.bytes.subarray(0, 5).toString(), "%PDF-");
  // The next revision onto the own size: no longer offered; the measured stock stays, thicker panels change parts.
  await hand.hand(page.locator("#onto-file"), second);
  const why = new RegExp(`${height + 40} mm.*${height - 40} mm to ${height + 30} mm.*own value is taken instead`);
  await page.locator('[data-say="onto"] li').filter({ hasText: why }).waitFor();
  await page.locator('[data-say="compared"]').filter({ hasText: "From your table by revision" }).waitFor();
  await page.locator('[data-say="parts"]').waitFor();
  // The panels were cut from measured stock, so they stay good; legs of another height do not.
  const fates = await page.locator(".cut-parts li[data-part]").evaluateAll((all) => Object.fromEntries(all.map((li) => [li.dataset.part, li.dataset.fate])));
  assert.equal(fates.panel, "still good", JSON.stringify(fates));
  assert.equal(fates.leg, "needs work", JSON.stringify(fates));
  await sound("the next revision, not yet taken");
  await hand.press(button("Take revision B"));
  await desk.message(/This is revision B at your own sizes/);
  assert.equal(await desk.size("Top thickness, measured").inputValue(), "18.7 mm");
  assert.equal(await desk.size("Height").inputValue(), `${height} mm`);
  // A saved book opens as the plan it was made from, own size and all.
  await hand.hand(button("Open a plan"), { name: "book.pdf", bytes: book.bytes });
  await desk.message(/^Opened book\.pdf/);
  assert.equal(await desk.size("Height").inputValue(), `${height + 40} mm`);
  await desk.close();
}

for (const way of WAYS) {
  const called = `${way.Hand.called}${way.offline ? ", without a network" : ""}`;
  test(`the maker's whole job ${called}`, () => (way === WAYS[0] ? plans() : maker(way)));
  test(`the buyer's whole job ${called}`, () => buyer(way));
}
