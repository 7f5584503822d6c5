/**
 * Packs the library, looks at the tarball as its users' tools do, installs it into an empty project and uses it from
 * ESM, CommonJS and TypeScript. Needs a build (`npm run package` makes one) and the npm registry.
 */
import { execFileSync } from "node:child_process";
import { cpSync, mkdirSync, readdirSync, rmSync, writeFileSync } from "node:fs";
import { join, resolve } from "node:path";

const WORK = resolve(".cache/packed");
const PROJECT = join(WORK, "project");

let failed = 0;
/** Runs one step; its output is shown only when it fails. @param {string} name @param {() => string | void} work */
function step(name, work) {
  try {
    const note = work();
    console.log(`ok      ${name}${note ? `: ${note}` : ""}`);
  } catch (error) {
    failed++;
    const {
      stdout = "",
      stderr = "",
      message = "",
    } = /** @type {{ stdout?: string, stderr?: string, message?: string }} */ (error);
    console.log(`FAILED  ${name}\n${stdout}${stderr}${stdout || stderr ? "" : message}`);
  }
}

/** @param {string} command @param {string[]} args */
const run = (command, args, cwd = ".") => execFileSync(command, args, { cwd, encoding: "utf8", stdio: "pipe" });

rmSync(WORK, { recursive: true, force: true });
mkdirSync(PROJECT, { recursive: true });

run("npm", ["pack", "--silent", "--pack-destination", WORK]);
const tarball = join(WORK, readdirSync(WORK).find((name) => name.endsWith(".tgz")) ?? "");

step("the tarball holds the library and nothing else", () => {
  const files = run("tar", ["-tzf", tarball])
    .trim()
    .split("\n")
    .map((path) => path.replace(/^package\//, ""));
  const stray = files.filter((path) => !/^(dist\/|package\.json$|README\.md$|LICENSE$|CHANGELOG\.md$)/.test(path));
  if (stray.length > 0) throw new Error(`not expected: ${stray.join(", ")}`);
  for (const needed of [
    "README.md",
    "LICENSE",
    "CHANGELOG.md",
    "dist/index.js",
    "dist/index.cjs",
    "dist/sheet.schema.json",
    "dist/record.schema.json",
  ]) {
    if (!files.includes(needed)) throw new Error(`missing: ${needed}`);
  }
  return `${files.length} files`;
});
step("publint, strict", () => void run("npx", ["publint", "--strict", tarball]));
step(
  "are the types wrong",
  () => void run("npx", ["attw", tarball, "--exclude-entrypoints", "sheet.schema.json", "record.schema.json"]),
);
step("byte budgets", () => run("npx", ["size-limit", "--json"]) && sizes());

function sizes() {
  /** @type {{ name: string, size: number, sizeLimit: number }[]} */
  const rows = JSON.parse(run("npx", ["size-limit", "--json"]));
  return rows.map(({ name, size, sizeLimit }) => `\n          ${name}: ${size} of ${sizeLimit} bytes`).join("");
}

cpSync("test/packed/projects", PROJECT, { recursive: true });
writeFileSync(join(PROJECT, "package.json"), JSON.stringify({ name: "user", private: true, type: "module" }));
step(
  "installs into an empty project",
  () => void run("npm", ["install", "--silent", "--no-audit", "--no-fund", tarball], PROJECT),
);
step("used from ESM", () => run("node", ["use.mjs"], PROJECT).trim());
step("used from CommonJS", () => run("node", ["use.cjs"], PROJECT).trim());
step("InputError is recognised across ESM and CommonJS", () => run("node", ["both.mjs"], PROJECT).trim());
for (const [name, options, include] of /** @type {const} */ ([
  ["TypeScript, nodenext, ESM and CommonJS", { module: "nodenext" }, ["use.mts", "use.cts"]],
  ["TypeScript, bundler", { module: "esnext", moduleResolution: "bundler" }, ["use.mts"]],
])) {
  step(name, () => {
    const compilerOptions = { ...options, target: "es2022", strict: true, noEmit: true, types: [] };
    writeFileSync(join(PROJECT, "tsconfig.json"), JSON.stringify({ compilerOptions, include }));
    run("node", [resolve("node_modules/typescript/bin/tsc"), "-p", PROJECT]);
  });
}

console.log(failed === 0 ? "the package is good" : `${failed} steps failed`);
process.exitCode = failed === 0 ? 0 : 1;
