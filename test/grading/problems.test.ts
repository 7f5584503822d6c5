/** What is told of input that is no good: where it stands, which kind of problem it is, and what was expected. */
import {
  band,
  changeBetween,
  combineUncertainty,
  driftPerYear,
  gradeAll,
  propagate,
  standardUncertainty,
  statedAccuracy,
  valueOnLine,
} from "tripwright/grading";
import { expect, test } from "vitest";
import { problemsOf } from "../support/failure.js";

const [meter, clock] = [
  { name: "meter", standard: 0.1 },
  { name: "clock", standard: 0.1 },
];
const between = ["meter", "clock"] as const;
const stages = { before: { value: 4.31 }, after: { value: 4.02 } };
const line = { slope: 1, slopeStandard: 0, middle: { x: 0, y: 0 }, residual: 0, degreesOfFreedom: 1 } as never;
const huge = Number.MAX_VALUE;

test.each<readonly [work: () => unknown, path: string, code: string, expected: string]>([
  [
    () => changeBetween({ ...stages, correlation: 1.1 } as never),
    "correlation",
    "out-of-range",
    "a correlation from -1 to 1",
  ],
  [
    () => changeBetween({ ...stages, rule: "simple" } as never),
    "rule",
    "not-applicable",
    "no rule where there is no band",
  ],
  [
    () => combineUncertainty({ contributions: [meter, meter] }),
    "contributions[1].name",
    "duplicate",
    "a name of its own",
  ],
  [
    () => combineUncertainty({ contributions: [meter, clock], correlations: [{ between, coefficient: -1.1 }] }),
    "correlations[0].coefficient",
    "out-of-range",
    "a correlation from -1 to 1",
  ],
  [
    () =>
      combineUncertainty({
        contributions: [meter, clock],
        correlations: [
          { between, coefficient: 0.1 },
          { between: ["clock", "meter"], coefficient: 0.1 },
        ],
      }),
    "correlations[1].between",
    "duplicate",
    "a pair not named yet",
  ],
  [
    // Each pair of three against each other: 3 − 3 · 2 · 0.9 is below zero.
    () => {
      const contributions = ["a", "b", "c"].map((name) => ({ name, standard: 1 }));
      const correlations = [
        ["a", "b"],
        ["b", "c"],
        ["a", "c"],
      ].map((pair) => ({ between: pair as [string, string], coefficient: -0.9 }));
      return combineUncertainty({ contributions, correlations });
    },
    "correlations",
    "out-of-range",
    "correlations that can be at the same time",
  ],
  [
    () => combineUncertainty({ contributions: [meter], coverage: 0.95, coverageFactor: 2 } as never),
    "coverage",
    "conflict",
    "nothing beside coverageFactor",
  ],
  [() => band(4, { percent: 100, of: "reading" }), "percent", "out-of-range", "a tolerance below 100 % of the reading"],
  [() => band(4, undefined as never), "", "missing", "a tolerance such as { percent: 5, absolute: 0.04 }"],
  [() => gradeAll([4], { band: { nominal: 4, low: 3 } }, [0] as never), "out", "wrong-type", "a Uint8Array"],
  [() => standardUncertainty({} as never), "", "missing", "one of standard, expanded, halfWidth, resolution, readings"],
  [
    () => statedAccuracy({}, { reading: 4 }),
    "percentOfReading",
    "missing",
    "one of percentOfReading, percentOfRange, digits, absolute or more",
  ],
  [
    () => propagate(({ i }) => i, { i: { value: Number.NaN, standard: 0.1 } } as never),
    "inputs.i.value",
    "not-finite",
    "a value, a finite number",
  ],
  [
    () => valueOnLine({ ...(line as object), slope: huge } as never, 2),
    "x",
    "not-finite",
    "a place where the line fits a double, a finite number",
  ],
])("%# is told with its place: %s", (work, path, code, expected) => {
  expect(problemsOf(work)).toMatchObject([{ path, code, expected }]);
});

test("a line of readings that is beyond the doubles on its last day", () => {
  const values = [0.9 * huge, huge, huge, huge];
  const readings = values.map((value, i) => ({ takenAt: `202${i}-01-01`, value }));
  // Mean 0.975, slope 0.03 a year: 1.02 of the largest double after the last of three years.
  expect(problemsOf(() => driftPerYear(readings))).toMatchObject([
    { path: "readings", code: "not-finite", expected: "a line that fits a double, a finite number" },
  ]);
});
