// Writes the list of built files, and a version made of their contents, into the service worker, and the version into the page.
// In: the folder Trunk has just filled (TRUNK_STAGING_DIR). Out: sw.js and index.html there, completed.
// Always true: the same files give the same version, and any changed byte gives another.
import { createHash } from "node:crypto";
import { readdirSync, readFileSync, statSync, writeFileSync } from "node:fs";
import { join, relative, sep } from "node:path";

const folder = process.env.TRUNK_STAGING_DIR;
if (!folder) throw new Error("TRUNK_STAGING_DIR is not set; this script is run by Trunk");

const walk = (dir) =>
  readdirSync(dir)
    .sort()
    .flatMap((name) => {
      const path = join(dir, name);
      return statSync(path).isDirectory() ? walk(path) : [path];
    });

const worker = join(folder, "sw.js");
const paths = walk(folder).filter((path) => path !== worker);
const hash = createHash("sha256");
for (const path of paths) hash.update(relative(folder, path)).update("\0").update(readFileSync(path));
const source = readFileSync(worker, "utf8");
hash.update(source);

const files = paths.map((path) => relative(folder, path).split(sep).join("/")).filter((file) => file !== "index.html");
const list = JSON.stringify(["./", ...files]);
const version = hash.digest("hex").slice(0, 16);
const done = source.replace('"@version@"', JSON.stringify(version)).replace('["@files@"]', list);
if (done.includes("@files@") || done.includes("@version@")) throw new Error("sw.js has no place for the file list");
writeFileSync(worker, done);

const page = join(folder, "index.html");
const before = readFileSync(page, "utf8");
const named = before.replace('content="@build@"', `content="${version}"`);
if (named === before) throw new Error("index.html has no place for the version");
writeFileSync(page, named);
