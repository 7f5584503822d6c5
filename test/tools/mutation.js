/**
 * Evidence that the tests test: every expression of a module is broken in turn, and some test of that module must fail.
 *
 *     npm run mutation -- grading [--concurrency 2] [--files "src/grading/gra*.ts"]
 *
 * One of the five modules of floor 1, at about a second a mutant. Prints the survivors: each
 * wants a test, or a reason why it may live. The runner is installed on first use.
 */
import { spawnSync } from "node:child_process";
import { join } from "node:path";
import { parseArgs } from "node:util";
import { toolFolder } from "./heavy.js";

const MODULES = ["curve", "sinusoid", "phasor", "timeline", "grading"];

const { values, positionals } = parseArgs({
  options: { concurrency: { type: "string", default: "1" }, files: { type: "string" } },
  allowPositionals: true,
});
const [module = ""] = positionals;
if (!MODULES.includes(module)) throw new Error(`${module || "nothing"} is none of ${MODULES.join(", ")}`);

const packages = join(toolFolder("stryker"), "node_modules");
const { status } = spawnSync(
  process.execPath,
  [
    join(packages, "@stryker-mutator/core/bin/stryker.js"),
    "run",
    ".config/stryker.json",
    "--mutate",
    values.files ?? `src/${module}/**/*.ts`,
    "--concurrency",
    values.concurrency,
  ],
  {
    stdio: "inherit",
    env: { ...process.env, TRIPWRIGHT_MUTATE: module, TRIPWRIGHT_SEED: process.env["TRIPWRIGHT_SEED"] ?? "1" },
  },
);
process.exitCode = status ?? 1;
