/** The fleet on worker threads, as it is run: threads know nothing of the test's sources, so they get a build of them. */
import { execFileSync } from "node:child_process";
import { cpSync, mkdirSync, rmSync, writeFileSync } from "node:fs";
import { join, resolve } from "node:path";
import { build } from "tsup";
import { expect, test } from "vitest";

const PLACE = resolve(".cache/threads");

test("a fleet on two threads is planned as by one, and the ratio is said", async () => {
  rmSync(PLACE, { recursive: true, force: true });
  mkdirSync(PLACE, { recursive: true });
  // The package by its own name, as Node resolves it for the examples in the root.
  writeFileSync(
    join(PLACE, "package.json"),
    JSON.stringify({ name: "tripwright", type: "module", exports: { ".": "./dist/index.js" } }),
  );
  cpSync("examples", join(PLACE, "examples"), { recursive: true, filter: (path) => !path.includes("output") });
  await build({ config: false, entry: ["src/index.ts"], format: ["esm"], outDir: join(PLACE, "dist"), silent: true });

  const printed = execFileSync("node", ["examples/fleet-threads.js", "10", "2"], { cwd: PLACE, encoding: "utf8" });
  expect(printed).toMatch("10 relays planned by 1 thread and by 2, with the same results.");
  expect(printed).toMatch(/2 threads were \d+\.\d\d times as fast as one/);
});
