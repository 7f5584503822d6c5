/**
 * The steps of a release, for a maintainer at a clean, tagged commit. Without `--publish` it only says what it would do;
 * with it, it publishes from a runner of a public build service, which is where npm can attest provenance. No script and
 * no test runs it.
 */
import { execFileSync } from "node:child_process";
import { readFileSync } from "node:fs";

/** @param {string} command @param {readonly string[]} args */
const said = (command, args) => execFileSync(command, args, { encoding: "utf8" }).trim();

/** @type {{ version: string, repository?: unknown }} */
const { version, repository } = JSON.parse(readFileSync("package.json", "utf8"));
const changes = readFileSync("CHANGELOG.md", "utf8");
const entry = changes.split("\n").find((line) => line.startsWith(`## ${version}`));

/** @type {readonly (readonly [string, boolean])[]} */
const conditions = [
  ["nothing is uncommitted", said("git", ["status", "--porcelain"]) === ""],
  [`the commit is tagged v${version}`, said("git", ["tag", "--points-at", "HEAD"]).split("\n").includes(`v${version}`)],
  [`CHANGELOG.md has a dated entry for ${version}`, /\d{4}-\d{2}-\d{2}/.test(entry ?? "")],
  // npm holds the provenance against it and refuses to publish otherwise; the links of README lead into it.
  ["package.json names the public repository in `repository`, which provenance needs", repository !== undefined],
];
for (const [what, holds] of conditions) console.log(`${holds ? "ok     " : "NOT YET"} ${what}`);
const ready = conditions.every(([, holds]) => holds);

const command = ["npm", "publish", "--provenance", "--access", "public"];
if (ready && process.argv.includes("--publish")) {
  execFileSync("npm", ["run", "build"], { stdio: "inherit" });
  execFileSync(command[0] ?? "", command.slice(1), { stdio: "inherit" });
} else {
  console.log(`${ready ? "would run" : "not ready for"}: npm run build && ${command.join(" ")}`);
}
process.exitCode = ready ? 0 : 1;
