// One server and one browser for the tests of a file.
import { after, before } from "node:test";
import { launch, serve } from "./site.mjs";

/** Starts both before the file's tests and stops them after; the tests read them from what is given back. */
export function running() {
  const it = {};
  before(async () => {
    it.site = await serve();
    it.browser = await launch();
  });
  after(async () => {
    await it.browser?.close();
    await it.site?.close();
  });
  return it;
}
