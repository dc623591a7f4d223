// Three ways of working the app: with the mouse, with the keyboard alone, with a finger.
// In: an open desk. Out: the same deeds done each way.
// Always true: the keyboard's way gives the focus to nothing, it walks there by Tab and Shift+Tab as anyone would; the
// finger's way taps. Letters are typed in every way, as on a phone's own keyboard; a file is handed to the browser's dialog.
import assert from "node:assert/strict";

/** Whatever a Tab key may stop at, in the order of the page; a group of radio buttons is one stop. */
const AHEAD = (target) => {
  const stops = [...document.querySelectorAll("a[href], area[href], button, input, select, textarea, summary, [tabindex]")];
  const lone = (at) => at.type !== "radio" || at === target || at === document.activeElement || at.checked;
  const open = stops.filter((at) => at.tabIndex >= 0 && !at.disabled && lone(at) && at.checkVisibility({ visibilityProperty: true }));
  const [here, there] = [open.indexOf(document.activeElement), open.indexOf(target)];
  return { there, stops: there - here, at: document.activeElement === target };
};

/** Chooses all that stands in the box that has the focus, and types over it. */
async function over(page, text) {
  await page.keyboard.press("Control+A");
  await page.keyboard.type(text);
}

/** A date box takes its figures month first in the browser's language of these tests. */
const figures = (date) => `${date.slice(5, 7)}${date.slice(8, 10)}${date.slice(0, 4)}`;

class Hand {
  constructor(desk) {
    this.desk = desk;
    this.page = desk.page;
  }

  /** Presses what a button stands for and gives the file that comes of it. */
  async download(target) {
    const coming = this.page.waitForEvent("download");
    await this.press(target);
    const file = await coming;
    const chunks = [];
    for await (const chunk of await file.createReadStream()) chunks.push(chunk);
    return { name: file.suggestedFilename(), bytes: Buffer.concat(chunks) };
  }

  /** Answers the file dialog that a press opens. */
  async hand(target, file) {
    const chooser = this.page.waitForEvent("filechooser");
    await this.press(target);
    await (await chooser).setFiles({ name: file.name, mimeType: "application/octet-stream", buffer: file.bytes });
  }
}

export class Mouse extends Hand {
  static called = "by mouse";
  press = (target) => target.click();
  tick = (target) => target.click();
  async write(target, text) {
    await target.click();
    await over(this.page, text);
    // Elsewhere, as one does to leave a box.
    await this.page.locator("h2:visible").first().click();
  }
  async date(target, date) {
    const box = await target.boundingBox();
    await target.click({ position: { x: 14, y: box.height / 2 } });
    await this.page.keyboard.type(figures(date));
    await this.page.locator("h2:visible").first().click();
  }
  choose = (target, label) => target.selectOption({ label });
}

export class Finger extends Hand {
  static called = "at phone size, by touch";
  press = (target) => target.tap();
  tick = (target) => target.tap();
  async write(target, text) {
    await target.tap();
    await over(this.page, text);
    await this.page.locator("h2:visible").first().tap();
  }
  async date(target, date) {
    await target.tap({ position: { x: 14, y: 14 } });
    await this.page.keyboard.type(figures(date));
    await this.page.locator("h2:visible").first().tap();
  }
  // The list itself is the browser's own, outside the page.
  choose = (target, label) => target.selectOption({ label });
}

export class Keys extends Hand {
  static called = "by keyboard alone";

  /** Walks to a place by Tab or Shift+Tab, whichever way it lies. */
  async walk(target) {
    const place = await target.elementHandle();
    for (let looks = 0; looks < 40; looks++) {
      const { there, stops, at } = await place.evaluate(AHEAD);
      if (at) return;
      assert.ok(there >= 0, `${target} can be reached by the Tab key`);
      // Counted ahead and then looked again, as the page may have stops that are not seen from here.
      for (let i = Math.abs(stops); i > 0; i--) await this.page.keyboard.press(stops > 0 ? "Tab" : "Shift+Tab");
    }
    assert.fail(`${target} was not reached by the Tab key`);
  }
  async press(target) {
    await this.walk(target);
    await this.page.keyboard.press("Enter");
  }
  async tick(target) {
    await this.walk(target);
    await this.page.keyboard.press("Space");
  }
  async write(target, text) {
    await this.walk(target);
    await over(this.page, text);
    await this.page.keyboard.press("Tab");
  }
  /** A date box has several stops of its own; figures go into the first, whichever way one came. */
  async date(target, date) {
    await this.walk(target);
    while (await target.evaluate((box) => box === document.activeElement)) await this.page.keyboard.press("Shift+Tab");
    await this.page.keyboard.press("Tab");
    await this.page.keyboard.type(figures(date));
    await this.page.keyboard.press("Tab");
  }
  /** By the first letters of what is chosen, as lists let one. */
  async choose(target, label) {
    await this.walk(target);
    await this.page.keyboard.type(label);
    assert.equal(await target.evaluate((list) => list.selectedOptions[0].label), label);
    await this.page.keyboard.press("Tab");
  }
}
