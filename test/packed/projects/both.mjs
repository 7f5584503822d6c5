import assert from "node:assert/strict";
import { createRequire } from "node:module";
import { InputError, operateTime } from "tripwright/curve";

const common = createRequire(import.meta.url)("tripwright/timeline");
assert.notEqual(common.InputError, InputError, "two copies of the class are what this is about");
assert.throws(() => common.levels({ from: 0, to: 1, step: 0 }), InputError);
assert.throws(() => operateTime({ curve: "iec-inverse" }, -1), common.InputError);
console.log("both ways");
