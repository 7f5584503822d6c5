import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { createRequire } from "node:module";
import { InputError } from "tripwright";

const require = createRequire(import.meta.url);
const { exports } = JSON.parse(readFileSync(require.resolve("tripwright/package.json"), "utf8"));
const entries = Object.keys(exports).filter((path) => !path.endsWith(".json"));
const wrong = [(module) => module.InputError, (module) => module.default?.InputError];

let modules = 0;
for (const entry of entries) {
  const name = `tripwright${entry.slice(1)}`;
  for (const module of [await import(name), require(name)]) {
    const Own = wrong.map((of) => of(module)).find((found) => found !== undefined);
    assert.ok(
      new Own([{ code: "missing", path: "x", expected: "a number", received: "nothing" }]) instanceof InputError,
      name,
    );
    assert.ok(new InputError([]) instanceof Own, name);
    assert.ok(!(new RangeError("not ours") instanceof Own), name);
    modules++;
  }
}
console.log(`${modules} modules of ${entries.length} entry points`);
