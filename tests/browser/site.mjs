// Serves the built site and opens it in headless Chromium.
// In: the folder dist/. Out: a server, a browser, and pages that record everything that goes wrong.
// Always true: the server answers on 127.0.0.1 only, and a page's complaints are kept from its first moment.
import { createServer } from "node:http";
import { readFile } from "node:fs/promises";
import { extname, join, normalize, relative } from "node:path";
import { fileURLToPath } from "node:url";
import { chromium } from "playwright-core";

export const ROOT = fileURLToPath(new URL("../../", import.meta.url));
// Another build of the site may be driven instead: a folder in TURNLEAF_DIST.
const DIST = process.env.TURNLEAF_DIST ?? join(ROOT, "dist");

const TYPES = {
  ".html": "text/html; charset=utf-8",
  ".js": "text/javascript",
  ".css": "text/css",
  ".wasm": "application/wasm",
  ".svg": "image/svg+xml",
  ".json": "application/json",
  ".webmanifest": "application/manifest+json",
  ".ttf": "font/ttf",
  ".woff2": "font/woff2",
};

/** A static server of the built site on a free port; `change` may hand out other bytes in a file's place. */
export async function serve(change = (_name, body) => body) {
  const server = createServer(async (request, response) => {
    const path = decodeURIComponent(new URL(request.url, "http://localhost").pathname);
    const file = join(DIST, normalize(path.endsWith("/") ? `${path}index.html` : path));
    try {
      if (!file.startsWith(DIST)) throw new Error("outside the site");
      const body = change(relative(DIST, file), await readFile(file));
      response.writeHead(200, { "content-type": TYPES[extname(file)] ?? "application/octet-stream" });
      response.end(body);
    } catch {
      response.writeHead(404, { "content-type": "text/plain" });
      response.end("not here");
    }
  });
  await new Promise((resolve) => server.listen(0, "127.0.0.1", resolve));
  // A test that fails before it closes its server must not keep the run waiting for ever.
  server.unref();
  return {
    address: `http://127.0.0.1:${server.address().port}/`,
    close: () => new Promise((resolve) => (server.closeAllConnections(), server.close(resolve))),
  };
}

/** Headless Chromium that speaks to nobody but the page's own server. */
export function launch() {
  return chromium.launch({
    executablePath: process.env.CHROMIUM ?? "/usr/bin/chromium",
    args: [
      "--headless",
      "--no-sandbox",
      "--disable-gpu",
      "--disable-quic",
      "--no-first-run",
      "--disable-background-networking",
      "--disable-component-update",
      "--disable-sync",
    ],
  });
}

/** Records console errors, uncaught errors, failed requests and requests to other hosts. */
export function complaintsOf(page, address) {
  const complaints = [];
  page.on("console", (message) => {
    if (["error", "warning"].includes(message.type())) complaints.push(`${message.type()}: ${message.text()}`);
  });
  page.on("pageerror", (error) => complaints.push(`uncaught: ${error.message}`));
  page.on("requestfailed", (request) => {
    const why = request.failure()?.errorText;
    // Leaving a page ends what it was still loading; that is no failure.
    if (why !== "net::ERR_ABORTED") complaints.push(`failed: ${request.url()} ${why}`);
  });
  page.on("request", (request) => {
    const url = request.url();
    if (!url.startsWith(address) && !url.startsWith("blob:") && !url.startsWith("data:")) {
      complaints.push(`elsewhere: ${url}`);
    }
  });
  return complaints;
}
