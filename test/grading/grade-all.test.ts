import fc from "fast-check";
import { type Band, band, type GradeOptions, grade, gradeAll, verdicts } from "tripwright/grading";
import { describe, expect, test } from "vitest";
import { typedDecimals } from "../support/arbitraries.js";
import { problemsOf } from "../support/failure.js";
import { holds } from "../support/holds.js";

const nominals = typedDecimals({ digits: 5, places: 3 });
const halves = typedDecimals({ digits: 4, places: 3, min: 1 });
const guards = typedDecimals({ digits: 3, places: 3, min: 0 });
const rules = fc.constantFrom<NonNullable<GradeOptions["rule"]>[]>("simple", "guarded", "three-way");

const sides = fc.constantFrom("both", "low", "high");

const named = (codes: Uint8Array): string[] => Array.from(codes, (code) => verdicts[code] as string);
const oneByOne = (readings: readonly number[], accepted: Band, options: GradeOptions): string[] =>
  readings.map((reading) => grade(reading, accepted, options).verdict);

/** The doubles beside a number, where rounding decides. */
function neighbours(x: number): readonly number[] {
  const step = Math.max(Math.abs(x) * Number.EPSILON, Number.MIN_VALUE);
  return [x - 2 * step, x - step, x, x + step, x + 2 * step];
}

describe("gradeAll", () => {
  test("gives each reading the verdict of grade, on the limits and at the doubles beside them too", () => {
    holds(
      fc.property(nominals, halves, guards, rules, sides, (nominal, half, guard, rule, side) => {
        const accepted = band(nominal.text, { absolute: half.text, side });
        const options = { rule, expandedUncertainty: guard.text };
        const limits = [accepted.low, accepted.high].filter((limit) => limit !== undefined);
        const exact = [-1, 0, 1].flatMap((by) => limits.map((limit) => limit + by * Number(guard.text)));
        const readings = [...limits, ...exact, accepted.nominal].flatMap(neighbours);
        expect(named(gradeAll(readings, { band: accepted, ...options }))).toEqual(
          oneByOne(readings, accepted, options),
        );
      }),
      500,
    );
  });

  test("judges cycles at 60 Hz and guards of thirds as grade does", () => {
    holds(
      fc.property(fc.integer({ min: 1, max: 300 }), fc.integer({ min: 1, max: 20 }), rules, (cycles, guard, rule) => {
        const accepted = band(cycles / 60, { absolute: 1 / 60 });
        const guarded = { expandedUncertainty: 1, coverageFactor: guard, guard: "iso-14253-1" } as const;
        const options = { rule, ...(rule !== "simple" && guarded) };
        const readings = [cycles - 1, cycles, cycles + 1].flatMap((at) => neighbours(at / 60));
        expect(named(gradeAll(readings, { band: accepted, ...options }))).toEqual(
          oneByOne(readings, accepted, options),
        );
      }),
    );
  });

  test("judges as grade does where a guard of many digits puts a limit between two doubles", () => {
    holds(
      fc.property(
        nominals,
        halves,
        fc.double({ min: 1e-4, max: 0.1, noNaN: true }),
        rules,
        (nominal, half, guard, rule) => {
          const accepted = band(nominal.text, { absolute: half.text });
          const options = { rule, expandedUncertainty: guard };
          const limits = [accepted.low, accepted.high] as [number, number];
          const readings = [-guard, guard].flatMap((by) => limits.map((limit) => limit + by)).flatMap(neighbours);
          expect(named(gradeAll(readings, { band: accepted, ...options }))).toEqual(
            oneByOne(readings, accepted, options),
          );
        },
      ),
      500,
    );
  });

  test("counts angles the short way round", () => {
    const accepted = band(179, { absolute: 2, period: 360 });
    const readings = [177, 179, 180, -180, -179, -178.9, 176.9, 539, 541.1];
    expect(named(gradeAll(readings, { band: accepted }))).toEqual(oneByOne(readings, accepted, {}));
    expect(named(gradeAll([-179, -178.9], { band: accepted }))).toEqual(["within", "outside"]);
  });

  test("takes a limit that does not exist for one that cannot be exceeded", () => {
    expect(named(gradeAll([-1e300, 1, 1.1], { band: { nominal: 1, high: 1 } }))).toEqual([
      "within",
      "within",
      "outside",
    ]);
    expect(named(gradeAll([-1e300, 1e300], { band: { nominal: 1 } }))).toEqual(["within", "within"]);
  });

  test("fills what it is given, and refuses another length", () => {
    const out = new Uint8Array(2);
    expect(gradeAll([1, 2], { band: band(1, { percent: 1 }) }, out)).toBe(out);
    expect(Array.from(out)).toEqual([0, 1]);
    expect(problemsOf(() => gradeAll([1, 2, 3], { band: { nominal: 1 } }, out))).toMatchObject([
      { code: "wrong-length", path: "out" },
    ]);
  });

  test("finds what is outside, and the first that is not finite, at any place of a list of any length", () => {
    const accepted = band(1, { percent: 1 });
    for (let length = 1; length <= 9; length++) {
      for (let place = 0; place < length; place++) {
        const readings = new Float64Array(length).fill(1);
        for (const beyond of [0.98, 1.02]) {
          readings[place] = beyond;
          const codes = Array.from({ length }, (_, i) => (i === place ? 1 : 0));
          expect(Array.from(gradeAll(readings, { band: accepted }))).toEqual(codes);
        }
        for (const endless of [Number.NaN, Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY]) {
          readings.fill(endless, place);
          expect(problemsOf(() => gradeAll(readings, { band: accepted }))).toMatchObject([
            { code: "not-finite", path: `measured[${place}]` },
          ]);
        }
      }
    }
  });

  test("names the reading that is not finite, what is no list, and a rule without its uncertainty", () => {
    const accepted = band(1, { percent: 1 });
    const ask = (readings: unknown, more: object = {}) =>
      problemsOf(() => gradeAll(readings as number[], { band: accepted, ...more }));
    expect(ask([1, 2, Number.NaN, Number.NaN])).toMatchObject([{ code: "not-finite", path: "measured[2]" }]);
    expect(ask([1, Number.POSITIVE_INFINITY])).toMatchObject([{ code: "not-finite", path: "measured[1]" }]);
    expect(ask([1, "2"])).toMatchObject([{ code: "wrong-type", path: "measured[1]" }]);
    expect(ask(null)).toMatchObject([{ code: "wrong-type", path: "measured" }]);
    expect(ask([1], { rule: "guarded" })).toMatchObject([{ code: "missing", path: "expandedUncertainty" }]);
    expect(ask([1], { rules: "guarded" })).toMatchObject([{ code: "unknown-key", path: "rules" }]);
    expect(ask([1], { band: { nominal: 1, period: 180 } })).toMatchObject([{ path: "band.period" }]);
    expect(ask([1], { band: { nominal: 1, low: 2, high: 0 } })).toMatchObject([{ path: "band.high" }]);
  });
});
