/**
 * Packs the library, looks at the tarball as its users' tools do, installs it into an empty project and uses it from
 * ESM, CommonJS, TypeScript, a bundler, Deno and Bun. Needs a build (`npm run package` makes one) and the npm registry,
 * from which Deno and Bun come on first use.
 */
import { writeFileSync } from "node:fs";
import { join, resolve } from "node:path";
import { toolCommand } from "../tools/heavy.js";
import { bundleSteps } from "./bundles.js";
import { checkContents } from "./contents.js";
import { finish, install, PROJECT, pack, run, step } from "./project.js";

const tarball = pack();

step("the tarball holds the library and nothing else", () => checkContents(run("tar", ["-tzf", tarball])));
step("publint, strict", () => void run("npx", ["publint", "--strict", tarball]));
step(
  "are the types wrong",
  () => void run("npx", ["attw", tarball, "--exclude-entrypoints", "sheet.schema.json", "record.schema.json"]),
);
step("byte budgets", () => {
  /** @type {{ name: string, size: number, sizeLimit: number, passed: boolean }[]} */
  const rows = JSON.parse(run("npx", ["size-limit", "--json"]));
  return rows.map(({ name, size, sizeLimit }) => `\n          ${name}: ${size} of ${sizeLimit} bytes`).join("");
});

step("installs into an empty project", () => install(tarball));
step("used from ESM", () => run("node", ["use.mjs"], PROJECT).trim());
step("used from CommonJS", () => run("node", ["use.cjs"], PROJECT).trim());
step("InputError is recognised across entry points", () => run("node", ["errors.mjs"], PROJECT).trim());
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
bundleSteps();
for (const file of ["use.mjs", "use.cjs", "errors.mjs", "both.mjs"]) {
  step(`used from Deno, ${file}`, () => run(toolCommand("deno"), ["run", "--allow-read", file], PROJECT).trim());
  step(`used from Bun, ${file}`, () => run(toolCommand("bun"), [file], PROJECT).trim());
}
finish();
