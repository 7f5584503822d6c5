/** What the tarball holds, by the names that people rely on. */
import { readFileSync } from "node:fs";

const TOP = ["CHANGELOG.md", "LICENSE", "README.md", "package.json"];
/** Pieces that the bundler shares between entry points; their names end with a hash of their contents. */
const SHARED = /^dist\/[\w-]+-[\w-]{8}\.(js|cjs|d\.ts|d\.cts)(\.map)?$/;

/** The files that every version must hold, and no other beside shared pieces. */
export function expectedContents() {
  /** @type {{ exports: { [path: string]: unknown } }} */
  const { exports } = JSON.parse(readFileSync("package.json", "utf8"));
  const schemas = ["dist/sheet.schema.json", "dist/record.schema.json"];
  const entries = Object.keys(exports).filter((path) => !path.endsWith(".json"));
  const built = entries.flatMap((path) =>
    ["js", "js.map", "cjs", "cjs.map", "d.ts", "d.cts"].map((ending) => `dist${path.slice(1)}/index.${ending}`),
  );
  return [...TOP, ...schemas, ...built];
}

/** @param {string} listing Of `tar -tzf`. */
export function checkContents(listing) {
  const files = listing
    .trim()
    .split("\n")
    .map((path) => path.replace(/^package\//, ""));
  const expected = expectedContents();
  const missing = expected.filter((path) => !files.includes(path));
  const stray = files.filter((path) => !expected.includes(path) && !SHARED.test(path));
  if (missing.length > 0) throw new Error(`missing: ${missing.join(", ")}`);
  if (stray.length > 0) throw new Error(`not expected: ${stray.join(", ")}`);
  return `${files.length} files`;
}
