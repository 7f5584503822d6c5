/**
 * Evidence that the tests test: every expression of a module is broken in turn, and some test of that module must fail.
 *
 *     npm run mutation -- grading [--concurrency 2] [--files grade] [--sample 4]
 *
 * One of the five modules of floor 1, at about a second a mutant. Prints the survivors: each
 * wants a test, or a reason why it may live. The runner is installed on first use.
 *
 * `--sample 4` breaks what stands in one of four pieces of twelve lines, the same ones for the same seed
 * (`TRIPWRIGHT_SEED`, 1 where there is none): a quarter of the time, and a score to within a few percent.
 *
 * A property is asked a tenth as often as in the tests, which kills no mutant that they would let live.
 */
import { spawnSync } from "node:child_process";
import { createHash } from "node:crypto";
import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { parseArgs } from "node:util";
import { toolFolder } from "./heavy.js";

const MODULES = ["curve", "sinusoid", "phasor", "timeline", "grading"];

const { values, positionals } = parseArgs({
  options: {
    concurrency: { type: "string", default: "1" },
    files: { type: "string", default: "" },
    sample: { type: "string", default: "1" },
  },
  allowPositionals: true,
});
const [module = ""] = positionals;
if (!MODULES.includes(module)) throw new Error(`${module || "nothing"} is none of ${MODULES.join(", ")}`);

const seed = process.env["TRIPWRIGHT_SEED"] ?? "1";
/** All of the module, or those whose names begin as is asked for. */
const files = readdirSync(`src/${module}`)
  .filter((name) => name.startsWith(values.files))
  .map((name) => `src/${module}/${name}`);
const PIECE = 12;

/** Of each file the pieces that are drawn, as `file:first-last`. @param {string} file */
function piecesOf(file) {
  const { length } = readFileSync(file, "utf8").split("\n");
  const firsts = Array.from({ length: Math.ceil(length / PIECE) }, (_, n) => 1 + n * PIECE);
  return firsts
    .filter((first) => drawn(`${seed} ${file} ${first}`) % Number(values.sample) === 0)
    .map((first) => `${file}:${first}-${first + PIECE - 1}`);
}

/** A number that hangs on every letter of a text. @param {string} text */
const drawn = (text) => parseInt(createHash("sha256").update(text).digest("hex").slice(0, 8), 16);

const packages = join(toolFolder("stryker"), "node_modules");
const { status } = spawnSync(
  process.execPath,
  [
    join(packages, "@stryker-mutator/core/bin/stryker.js"),
    "run",
    ".config/stryker.json",
    "--mutate",
    (values.sample === "1" ? files : files.flatMap(piecesOf)).join(","),
    "--concurrency",
    values.concurrency,
  ],
  {
    stdio: "inherit",
    env: { ...process.env, TRIPWRIGHT_MUTATE: module, TRIPWRIGHT_SEED: seed, TRIPWRIGHT_SHARE: "0.1" },
  },
);
process.exitCode = status ?? 1;
