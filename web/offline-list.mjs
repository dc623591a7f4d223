// Names the programs of the heavy half after their contents, and writes the list of built files, and a version made of
// them, into the service worker, and names and version into the page.
// In: the folder Trunk has just filled (TRUNK_STAGING_DIR). Out: sw.js and index.html there, completed.
// Always true: the same files give the same names and version, and any changed byte gives others.
import { createHash } from "node:crypto";
import { readdirSync, readFileSync, renameSync, statSync, writeFileSync } from "node:fs";
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

const page = join(folder, "index.html");
let shown = readFileSync(page, "utf8");

/** Puts a text into the page for a word that stands there once. */
const fill = (word, text) => {
  const filled = shown.replace(word, text);
  if (filled === shown) throw new Error(`index.html has no place for ${word}`);
  shown = filled;
};

// Trunk marks only the page's own files with their contents. A page of an older version must never get a newer program.
for (const program of ["checks", "book"]) {
  const files = { js: `turnleaf-${program}.js`, wasm: `turnleaf-${program}_bg.wasm` };
  const mark = createHash("sha256");
  for (const file of Object.values(files)) mark.update(readFileSync(join(folder, file)));
  const stem = `turnleaf-${program}-${mark.digest("hex").slice(0, 16)}`;
  for (const [kind, file] of Object.entries(files)) {
    const name = kind === "js" ? `${stem}.js` : `${stem}_bg.wasm`;
    renameSync(join(folder, file), join(folder, name));
    fill(`@${program}-${kind}@`, name);
  }
}
writeFileSync(page, shown);

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

fill("@build@", version);
writeFileSync(page, shown);
