const assert = require("node:assert/strict");
const all = require("tripwright");
const { operateTime, InputError } = require("tripwright/curve");
const { levels } = require("tripwright/timeline");

assert.equal(operateTime({ curve: "iec-very-inverse", multiplier: 0.2 }, 3), 1.35);
assert.deepEqual(levels({ from: 0, to: 0.3, step: 0.1 }), [0, 0.1, 0.2, 0.3]);
// One class across the subpaths, and not only by its brand.
assert.throws(
  () => levels({ from: 0, to: 1, step: 0 }),
  (error) => Object.getPrototypeOf(error) === InputError.prototype,
);
console.log(`${Object.keys(all).length} names`);
