// Measures the frames of the turning views over one play of five seconds. Not a test: it prints numbers.
// In: the built site in dist/. Out: lines for DEVELOPERS.md. Run: node tests/browser/frames.mjs
import { Desk } from "./desk.mjs";
import { launch, serve } from "./site.mjs";

const [site, browser] = [await serve(), await launch()];
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
    times.sort((a, b) => a - b);
    const at = (share) => times[Math.floor(share * (times.length - 1))].toFixed(1);
    console.log(
      `${view}, ${width} × ${height}: ${times.length} frames, median ${at(0.5)} ms, 95th percentile ${at(0.95)} ms, longest ${at(1)} ms`,
    );
    const paints = (await desk.measures("paint")).sort((a, b) => a - b);
    if (paints.length) {
      const paint = (share) => paints[Math.floor(share * (paints.length - 1))].toFixed(1);
      console.log(`  working out and painting: median ${paint(0.5)} ms, 95th percentile ${paint(0.95)} ms of ${paints.length}`);
    }
    await desk.context.close();
  }
}
await browser.close();
await site.close();
