import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { createRequire } from "node:module";
import * as all from "tripwright";
import { operateTime } from "tripwright/curve";
import { definitionOf } from "tripwright/element";
import { band, grade } from "tripwright/grading";
import { polar } from "tripwright/phasor";
import { plan, readSheet, sheetSchema } from "tripwright/plan";
import { judge } from "tripwright/record";
import { summarize } from "tripwright/report";
import { amplitudes } from "tripwright/sinusoid";
import { levels } from "tripwright/timeline";

assert.equal(operateTime({ curve: "iec-very-inverse", multiplier: 0.2 }, 3), 1.35);
assert.equal(grade(1.02, band(1, { percent: 2 })).verdict, "within");
assert.deepEqual(polar(120, 90), { re: 0, im: 120 });
assert.deepEqual(levels({ from: 0, to: 0.3, step: 0.1 }), [0, 0.1, 0.2, 0.3]);
assert.equal(amplitudes({ peak: 10 }, "half-wave").rms, 5);
assert.equal(definitionOf("81U").side, "under");
assert.equal(all.operateTime, operateTime);

const accuracy = { pickup: { percent: 5 }, time: { percent: 5 } };
const sheet = readSheet({
  format: "tripwright/sheet@1",
  substation: "Corriedale Junction",
  feeder: "Tannery Lane",
  relay: "F12",
  frequency: "50 Hz",
  values: "secondary",
  ct: "400/5",
  elements: [{ id: "50P", function: "50", pickup: "40 A", delay: "100 ms", accuracy }],
});
const record = judge(sheet, plan(sheet), [{ check: "50P/time", stage: "as-found", repeat: 1, value: 0.105 }]);
assert.match(summarize(record), /4 checks: 1 within, 0 outside/);

const file = createRequire(import.meta.url).resolve("tripwright/sheet.schema.json");
assert.deepEqual(JSON.parse(readFileSync(file, "utf8")), sheetSchema);
console.log(`${Object.keys(all).length} names`);
