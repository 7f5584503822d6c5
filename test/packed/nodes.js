/**
 * The library under every version of Node that it promises: the tarball used from ESM and CommonJS, and those tests of the
 * suite in which an engine could matter (published values, executed examples, structure of what is exported). With `--all`
 * the whole suite. Needs a build (`npm run nodes` makes one) and the npm registry, from which the versions of Node come on
 * first use: the packages that the package `node` would fetch for this computer.
 */
import { readFileSync, rmSync } from "node:fs";
import { resolve } from "node:path";
import { nodeCommand } from "../tools/heavy.js";
import { finish, install, PROJECT, pack, run, step } from "./project.js";

const VERSIONS = ["20.20.2", "22.23.3", "24.21.0"];
const VITEST = resolve("node_modules/vitest/vitest.mjs");
/** As test/vitest.config.ts says. */
const REPORT = ".cache/tests.json";
const tests = process.argv.includes("--all") ? [] : ["test/published", "test/docs", "test/house"];

install(pack());
for (const version of VERSIONS) {
  step(`Node ${version} is there`, () => run(nodeCommand(version), ["--version"]).trim());
  for (const file of ["use.mjs", "use.cjs", "errors.mjs", "both.mjs"])
    step(`Node ${version}, ${file}`, () => run(nodeCommand(version), [file], PROJECT).trim());
  step(`Node ${version}, ${tests.join(", ") || "all tests"}`, () => {
    rmSync(REPORT, { force: true });
    run(nodeCommand(version), [VITEST, "run", "--config", "test/vitest.config.ts", ...tests]);
    /** @type {{ numPassedTests: number, numFailedTests: number }} */
    const { numPassedTests, numFailedTests } = JSON.parse(readFileSync(REPORT, "utf8"));
    if (numFailedTests > 0 || numPassedTests === 0) throw new Error(`${numFailedTests} tests failed`);
    return `${numPassedTests} tests`;
  });
}
finish();
