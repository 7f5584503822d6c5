/** Ratios of this library to plain alternatives, in one run. Needs a build (`npm run bench` makes one). */
import { execFileSync } from "node:child_process";
import { Decimal } from "decimal.js";
import { operateTime } from "tripwright/curve";
import { band, grade } from "tripwright/grading";
import { compare } from "./compare.js";

const COUNT = 100_000;
const multiples = Float64Array.from({ length: COUNT }, (_, i) => 1.01 + (i * 30) / COUNT);

/** @param {(multiple: number) => number} time */
function sumOver(time) {
  let sum = 0;
  for (const multiple of multiples) sum += time(multiple);
  return sum;
}

/** @type {import("tripwright/curve").CurveSetting} */
const setting = { curve: "iec-inverse", multiplier: 0.2 };
compare("operateTime, iec-inverse, one call a multiple", [
  {
    name: "operateTime, checked, within 4 units in the last place",
    run: () => sumOver((m) => operateTime(setting, m)),
  },
  {
    name: "0.2 · 0.14/(m ** 0.02 − 1), unchecked, loses digits near pickup",
    run: () => sumOver((m) => (0.2 * 0.14) / (m ** 0.02 - 1)),
  },
]);

const accepted = band(1, { percent: 2 });
// One reading in a hundred lies exactly on the limit.
const readings = Array.from({ length: 2_000 }, (_, i) =>
  i % 100 === 0 ? 1.02 : Math.round(980_000 + i * 19) / 1_000_000,
);
const nominal = new Decimal(1);
compare("verdicts, 1 % of them on the limit", [
  { name: "grade", run: () => readings.filter((reading) => grade(reading, accepted).verdict === "within").length },
  {
    name: "decimal.js throughout",
    run: () =>
      readings.filter((reading) => new Decimal(reading).minus(nominal).div(nominal).times(100).abs().lte(2)).length,
  },
]);

/** @param {string} code */
const cold = (code) => () => {
  execFileSync(process.execPath, ["--input-type=module", "-e", code]);
  return 1;
};
compare("a cold process that imports", [
  { name: "tripwright/curve", run: cold('import "tripwright/curve"') },
  { name: "nothing at all", run: cold("") },
  { name: "all of tripwright", run: cold('import "tripwright"') },
]);
