// The app as a maker meets it: what there is to see, type, drag and press.
// In: an open page. Out: deeds and readings in the maker's words.
// Always true: closing a desk fails the test if anything was wrong on the console or on the network.
import assert from "node:assert/strict";
import { complaintsOf } from "./site.mjs";

/** How long anything is waited for, ms. */
const WAIT = 60_000;

export class Desk {
  /**
   * Opens the app in a browser context of its own, so that no work is shared between tests, and takes the usual table
   * from the start page; or stays there with `start`.
   */
  static async open(browser, site, options = {}) {
    const { width = 1440, height = 900, start = false, ...context } = options;
    const own = await browser.newContext({ viewport: { width, height }, acceptDownloads: true, ...context });
    const desk = await Desk.tab(own, site);
    if (!start) await desk.takeUsual();
    return desk;
  }

  /** Opens the app in one more tab of a browser that is open already. */
  static async tab(context, site, prepare = async () => {}) {
    const page = await context.newPage();
    // How fast the machine is, is not what is tested.
    page.setDefaultTimeout(WAIT);
    const desk = new Desk(context, page, complaintsOf(page, site.address), site.address);
    await prepare(page);
    await desk.arrive();
    return desk;
  }

  constructor(context, page, complaints, address) {
    Object.assign(this, { context, page, complaints, address });
  }

  async arrive() {
    await this.page.goto(this.address);
    await this.ready();
  }

  async reload() {
    await this.page.reload();
    await this.ready();
  }

  /** Waits until the start page or a plan shows. Parts of a plan stay as they were left. */
  async ready() {
    await this.page.locator("#start, #work:not([hidden])").first().waitFor();
  }

  /** From the start page to the usual table. */
  async takeUsual() {
    await this.page.getByRole("link", { name: "Take the usual table" }).click();
    await this.atWork();
  }

  async atWork() {
    await this.page.locator("#work:not([hidden])").waitFor();
    await this.openParts();
  }

  /** Opens every part of the plan; what is chosen once holds for all plans without a choice of their own. */
  async openParts() {
    const open = this.page.getByRole("button", { name: "Open all parts" });
    if (await open.isEnabled()) await open.click();
  }

  /** From a plan to the start page. */
  async allPlans() {
    await this.page.getByRole("link", { name: "All plans" }).click();
    await this.page.locator("#start").waitFor();
  }

  /** The cards of the kept plans. */
  cards() {
    return this.page.locator("[data-plan]");
  }

  /** Puts a plan of these letters, called "Spoilt", among the kept ones. */
  async spoil(letters) {
    await this.page.evaluate(
      (letters) =>
        new Promise((resolve) => {
          const opening = indexedDB.open("turnleaf");
          opening.onsuccess = () => {
            const writing = opening.result.transaction(["plans", "cards"], "readwrite");
            const card = { id: "p-bad", stamp: "1", name: "Spoilt", changed: 0, order: 0, bytes: 9, says: "" };
            writing.objectStore("plans").put(letters, "p-bad");
            writing.objectStore("cards").put(JSON.stringify(card), "p-bad");
            writing.oncomplete = () => (opening.result.close(), resolve());
          };
        }),
      letters,
    );
  }

  /** Opens a plan or demo from the start page by its name. */
  async take(name) {
    await this.page.locator("#start").getByRole("link", { name, exact: true }).first().click();
    await this.atWork();
  }

  /** Closes the app; nothing may have gone wrong meanwhile, beyond what is expected. */
  async close(expected = []) {
    const left = this.complaints.filter((complaint) => !expected.some((pattern) => pattern.test(complaint)));
    await this.context.close();
    assert.deepEqual(left, []);
  }

  /** Waits until something asked of the page is so. The browser driver's own waiting takes any promise for a yes. */
  async until(asked) {
    for (const begun = Date.now(); Date.now() - begun < WAIT; ) {
      if (await this.page.evaluate(asked)) return;
      await this.page.waitForTimeout(50);
    }
    assert.fail(`never so: ${asked}`);
  }

  /** The box of a size, found by the name a screen reader says. */
  size(name) {
    return this.page.getByRole("textbox", { name, exact: true });
  }

  /** Types a size with the keyboard alone: into the box, all of it selected, over it; with `delay` so many ms a letter. */
  async type(name, text, { delay = 0 } = {}) {
    await this.size(name).focus();
    await this.page.keyboard.press("Control+A");
    await this.page.keyboard.type(text, { delay });
  }

  /** What stands below a size's box. */
  async understood(name) {
    const ids = (await this.size(name).getAttribute("aria-describedby")).split(" ");
    return (await this.page.locator(`[id="${ids[0]}"]`).textContent()).trim();
  }

  /** The sentence about a size that cannot be used. */
  wrong(name) {
    return this.page.locator(".wrong").filter({ hasText: name });
  }

  /** Waits until the checks are through and gives their verdict. */
  async verdict() {
    const line = this.page.locator('[data-say="verdict"]');
    await this.page.waitForFunction(
      () => !document.querySelector('[data-say="verdict"]').textContent.startsWith("Checking"),
    );
    return line.textContent();
  }

  /** A number of the table, in the first unit column. */
  number(id) {
    return this.page.locator(`[data-number="${id}"] td`).first();
  }

  get slider() {
    return this.page.getByRole("slider", { name: "Turn of the table" });
  }

  /** The turn in degrees, as the drawing shows it. */
  async turn() {
    const transform = await this.page.locator("svg.plan .turns").getAttribute("transform");
    return Number(transform.match(/rotate\(([-\d.]+)\)/)[1]);
  }

  /** Where a piece is drawn, in the frame that turns with the top. */
  place(piece) {
    return this.page.locator(`svg.plan [data-piece="${piece}"]`).getAttribute("transform");
  }

  /** Drags the table about its centre by so many degrees, clockwise seen from above. */
  async drag(degrees) {
    // Opening the parts below may have taken it out of sight.
    await this.page.locator("svg.plan").scrollIntoViewIfNeeded();
    const box = await this.page.locator("svg.plan .turns").boundingBox();
    const [x, y] = [box.x + box.width / 2, box.y + box.height / 2];
    const radius = Math.min(box.width, box.height) * 0.3;
    const at = (angle) => [x + radius * Math.cos((angle * Math.PI) / 180), y + radius * Math.sin((angle * Math.PI) / 180)];
    await this.page.mouse.move(...at(-60));
    await this.page.mouse.down();
    for (let step = 1; step <= 12; step++) await this.page.mouse.move(...at(-60 + (degrees * step) / 12));
    await this.page.mouse.up();
  }

  /** Chooses a file as the maker would, with these bytes in it. */
  openFile(name, bytes) {
    return this.openPath({ name, mimeType: "application/json", buffer: Buffer.from(bytes) });
  }

  /** Chooses a file that lies on the disk. */
  async openPath(path) {
    const chooser = this.page.waitForEvent("filechooser");
    await this.page.getByRole("button", { name: "Open a plan" }).click();
    await (await chooser).setFiles(path);
  }

  /** Drops a file on the page. */
  async dropFile(name, text) {
    await this.page.evaluate(
      ([name, text]) => {
        const transfer = new DataTransfer();
        transfer.items.add(new File([text], name, { type: "application/json" }));
        for (const kind of ["dragover", "drop"]) {
          document.body.dispatchEvent(new DragEvent(kind, { dataTransfer: transfer, bubbles: true, cancelable: true }));
        }
      },
      [name, text],
    );
  }

  /** The messages on show. */
  messages() {
    return this.page.locator(".notice p").allTextContents();
  }

  async message(pattern) {
    await this.page.locator(".notice p").filter({ hasText: pattern }).first().waitFor();
  }

  /** Dates what is on the bench, says why, and looks it over, until it can be issued. */
  async lookOver(date, why) {
    const { page } = this;
    await page.locator("#revision-date").fill(date);
    await page.locator("#revision-why").fill(why);
    await page.locator("#revision-why").press("Tab");
    await page.getByRole("button", { name: /^Look (it over|over what changed)/ }).click();
    await page.locator("button.main:enabled").filter({ hasText: /^Issue revision/ }).waitFor({ timeout: 90_000 });
  }

  /** Presses a button and gives the file that comes of it. */
  async download(button) {
    const coming = this.page.waitForEvent("download");
    await this.page.getByRole("button", { name: button, exact: true }).click();
    const file = await coming;
    const chunks = [];
    for await (const chunk of await file.createReadStream()) chunks.push(chunk);
    return { name: file.suggestedFilename(), bytes: Buffer.concat(chunks) };
  }

  /** Waits until the work is kept in the browser. */
  async kept() {
    await this.page.getByText("Everything you type is kept in this browser.").waitFor();
  }

  /** Measurements the app left in the browser's record, in milliseconds. */
  measures(name) {
    return this.page.evaluate(
      (name) => performance.getEntriesByName(name, "measure").map((entry) => entry.duration),
      name,
    );
  }
}
