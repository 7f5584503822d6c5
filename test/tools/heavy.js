/**
 * Tools that only a few scripts need, too heavy for everybody's `npm ci`: Deno, Bun, other versions of Node, the mutation
 * runner. Each is installed on its first use, from the npm registry, at the version that stands here, into `.cache/tools`.
 */
import { execFileSync } from "node:child_process";
import { existsSync, mkdirSync, writeFileSync } from "node:fs";
import { join, resolve } from "node:path";

/** @type {{ readonly [name: string]: { readonly [pkg: string]: string } }} */
const TOOLS = {
  deno: { deno: "2.9.6" },
  bun: { bun: "1.4.4" },
  stryker: { "@stryker-mutator/core": "9.6.1", "@stryker-mutator/vitest-runner": "9.6.1" },
};

/**
 * The folder of a tool's installation; installs it where it is not there yet.
 * @param {string} name One of the tools above.
 */
export function toolFolder(name) {
  return installed(name, TOOLS[name] ?? {});
}

/** The command of a tool. @param {string} name */
export const toolCommand = (name) => join(toolFolder(name), "node_modules", ".bin", name);

/** A version of Node, by its number. @param {string} version Such as "22.23.3". */
export function nodeCommand(version) {
  // The package `node` fetches this one in an install script, which npm may leave off; so it is taken directly.
  const system = process.platform === "win32" ? "win" : process.platform;
  const name = `node-${system}-${process.arch}`;
  return join(installed(`node-${version}`, { [name]: version }), "node_modules", name, "bin", "node");
}

/** @param {string} name @param {{ readonly [pkg: string]: string }} dependencies */
function installed(name, dependencies) {
  const wanted = Object.values(dependencies).join("-");
  const folder = resolve(".cache/tools", name.endsWith(wanted) ? name : `${name}-${wanted}`);
  const done = join(folder, "installed");
  if (existsSync(done)) return folder;
  mkdirSync(folder, { recursive: true });
  writeFileSync(join(folder, "package.json"), JSON.stringify({ private: true, dependencies }));
  // Peers are found further up, in the project itself.
  execFileSync("npm", ["install", "--silent", "--no-audit", "--no-fund", "--legacy-peer-deps"], {
    cwd: folder,
    stdio: "pipe",
  });
  writeFileSync(done, "");
  return folder;
}
