// Prints raw and Brotli sizes of the files in a folder, largest first, with totals.
// In: the folder. Out: a table on standard output.
import { readdirSync, readFileSync, statSync } from "node:fs";
import { join, relative } from "node:path";
import { brotliCompressSync, constants } from "node:zlib";

const folder = process.argv[2] ?? "dist";
const walk = (dir) =>
  readdirSync(dir).flatMap((name) => {
    const path = join(dir, name);
    return statSync(path).isDirectory() ? walk(path) : [path];
  });

const rows = walk(folder).map((path) => {
  const bytes = readFileSync(path);
  const packed = brotliCompressSync(bytes, { params: { [constants.BROTLI_PARAM_QUALITY]: 11 } });
  return { name: relative(folder, path), raw: bytes.length, brotli: packed.length };
});
rows.sort((a, b) => b.raw - a.raw);
const kb = (n) => `${(n / 1000).toFixed(1)} kB`.padStart(12);
for (const row of rows) console.log(kb(row.raw), kb(row.brotli), "", row.name);
const total = (key) => rows.reduce((sum, row) => sum + row[key], 0);
console.log(kb(total("raw")), kb(total("brotli")), "", "all (raw, brotli)");
