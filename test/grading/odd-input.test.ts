import {
  combineUncertainty,
  estimatesOf,
  gradeAll,
  guardBand,
  propagate,
  repeatability,
  standardUncertainty,
} from "tripwright/grading";
import { expect, test } from "vitest";
import { problemsOf } from "../support/failure.js";

const huge = Number.MAX_VALUE;
const hole = new Array(1) as never[];
const meter = { name: "meter", standard: 0.1 };

// Found by npm run fuzz: what came out was NaN, Infinity inside an object, or a TypeError.
test.each<readonly [string, () => unknown, string]>([
  ["readings too far apart", () => standardUncertainty({ readings: [0.512, huge, -huge] }), "readings"],
  ["readings too far apart", () => repeatability([0.512, huge, -huge]), "readings"],
  ["readings too far apart", () => repeatability([huge, -huge]), "readings"],
  ["readings whose interval overflows", () => repeatability([0, huge]), "readings"],
  ["readings too far apart", () => estimatesOf({ volts: [1, 2], amperes: [-huge, huge] }), "readings.amperes"],
  ["percent of hardly anything", () => repeatability([0.512, 0.508], { nominal: 2 ** -1022 }), "nominal"],
  ["a hole among readings", () => repeatability([0.5, ...new Array(1)]), "readings[1]"],
  ["verdicts into what is no array", () => gradeAll([], { band: { nominal: 1 } }, "" as never), "out"],
  ["a guard band overflows", () => guardBand({ risk: 0.05, standardUncertainty: huge }), "standardUncertainty"],
  ["a hole among contributions", () => combineUncertainty({ contributions: hole }), "contributions[0]"],
  [
    "a hole among correlations",
    () => combineUncertainty({ contributions: [meter], correlations: hole }),
    "correlations[0]",
  ],
  [
    "a hole among correlations of a model",
    () => propagate(({ a }) => Number(a), { a: { value: 1, standard: 0.1 } }, { correlations: hole }),
    "correlations[0]",
  ],
])("%s: refused with its place", (_what, work, path) => {
  expect(problemsOf(work).map((problem) => problem.path)).toEqual([path]);
});

test("no −0 comes out of readings", () => {
  const { minimum, median } = repeatability([0.5, -0]);
  expect([minimum, median]).toEqual([0, 0.25]);
});
