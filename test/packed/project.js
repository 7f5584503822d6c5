/** The tarball, installed into an empty project as its users would; and steps that are counted. */
import { execFileSync } from "node:child_process";
import { cpSync, mkdirSync, readdirSync, rmSync, writeFileSync } from "node:fs";
import { join, resolve } from "node:path";

const WORK = resolve(".cache/packed");
export const PROJECT = join(WORK, "project");

let failed = 0;
let done = 0;

/** Runs one step; its output is shown only when it fails. @param {string} name @param {() => string | void} work */
export function step(name, work) {
  done++;
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

/** Prints what the steps came to, and sets the exit code. */
export function finish() {
  console.log(failed === 0 ? `all ${done} steps are good` : `${failed} of ${done} steps failed`);
  process.exitCode = failed === 0 ? 0 : 1;
}

/** @param {string} command @param {readonly string[]} args */
export const run = (command, args, cwd = ".") => execFileSync(command, args, { cwd, encoding: "utf8", stdio: "pipe" });

/** Packs the build and makes the empty project beside it; gives the tarball. */
export function pack() {
  rmSync(WORK, { recursive: true, force: true });
  mkdirSync(PROJECT, { recursive: true });
  run("npm", ["pack", "--silent", "--ignore-scripts", "--pack-destination", WORK]);
  cpSync("test/packed/projects", PROJECT, { recursive: true });
  writeFileSync(join(PROJECT, "package.json"), JSON.stringify({ name: "user", private: true, type: "module" }));
  return join(WORK, readdirSync(WORK).find((name) => name.endsWith(".tgz")) ?? "");
}

/** @param {string} tarball */
export const install = (tarball) =>
  void run("npm", ["install", "--silent", "--no-audit", "--no-fund", tarball], PROJECT);
