import assert from "node:assert/strict";
import { createRequire } from "node:module";
import { InputError, operateTime } from "tripwright/curve";

const common = createRequire(import.meta.url)("tripwright/timeline");
/** What the work throws; `assert.throws` looks past `Symbol.hasInstance` in some runtimes. */
const thrownBy = (work) => {
  try {
    return work();
  } catch (error) {
    return error;
  }
};
const fromCommon = thrownBy(() => common.levels({ from: 0, to: 1, step: 0 }));
const fromModule = thrownBy(() => operateTime({ curve: "iec-inverse" }, -1));

assert.notEqual(common.InputError, InputError, "two copies of the class are what this is about");
assert.ok(fromCommon instanceof InputError && fromCommon instanceof common.InputError);
assert.ok(fromModule instanceof common.InputError && fromModule instanceof InputError);
console.log("both ways");
