/** The batch kernel against its oracle, the plain function. */
import { Decimal } from "decimal.js";
import fc from "fast-check";
import { operateTime, operateTimes } from "tripwright/curve";
import { describe, expect, test } from "vitest";
import { between, overSettings } from "../support/curves.js";
import { ulps } from "../support/distance.js";
import { problemsOf } from "../support/failure.js";
import { holds } from "../support/holds.js";

/** Enough multiples for the table of powers, dense near the setting. */
const many = Float64Array.from({ length: 6_000 }, (_, i) => 1 + 10 ** (-12 + (14 * i) / 6_000));

describe("operate times of many multiples", () => {
  test("are those of one, for every form, also where nothing operates", () => {
    const list = fc.array(fc.oneof(between(0, 2), between(0, 200)), { maxLength: 50 });
    const setting = fc.record({
      base: overSettings,
      minimumTime: between(0, 1),
      addedTime: between(0, 1),
      ceilingMultiple: between(3, 30),
    });
    holds(
      fc.property(setting, list, ({ base, ...added }, multiples) => {
        const full = { ...base, ...added };
        const times = operateTimes(full, multiples);
        multiples.forEach((multiple, i) => {
          expect(ulps(times[i] as number, operateTime(full, multiple))).toBeLessThanOrEqual(8);
        });
      }),
    );
  });

  test.each([
    ["iec-inverse", 0.14, 0.02],
    ["short-time-inverse", 0.05, 0.04],
    ["iec-very-inverse", 13.5, 1],
    ["iec-extremely-inverse", 80, 2],
  ] as const)("of %s are within 4 units in the last place of 50-digit decimals", (curve, k, alpha) => {
    const D = Decimal.clone({ precision: 50, defaults: true });
    const times = operateTimes({ curve }, many);
    for (let i = 0; i < many.length; i += 7) {
      // The double itself with all its digits, not its shortest decimal.
      const multiple = new D((many[i] as number).toPrecision(60));
      const exact = new D(k).div(multiple.pow(alpha).minus(1));
      expect(ulps(times[i] as number, exact.toNumber())).toBeLessThanOrEqual(4);
    }
  });

  test("with an exponent of one's own agree with one at a time, beyond the table too", () => {
    const curve = { form: "inverse", k: 1, alpha: 1.3, c: 0.1 } as const;
    const wide = Float64Array.from({ length: 3_000 }, (_, i) => 1.001 * 1.01 ** i);
    operateTimes({ curve }, wide).forEach((time, i) => {
      expect(ulps(time, operateTime({ curve }, wide[i] as number))).toBeLessThanOrEqual(8);
    });
  });

  test("fill the array they are given, which may be that of the multiples", () => {
    const both = Float64Array.of(0.5, 3, 10);
    expect(operateTimes({ curve: "iec-very-inverse", multiplier: 0.2 }, both, both)).toBe(both);
    expect(Array.from(both)).toEqual([Number.POSITIVE_INFINITY, 1.35, expect.closeTo(0.3, 15)]);
  });

  test("refuse a bad multiple by its place, an output of another length, and a bad setting", () => {
    for (const bad of [Number.NaN, -1, Number.POSITIVE_INFINITY]) {
      for (const curve of [
        "iec-inverse",
        "iec-very-inverse",
        "iec-extremely-inverse",
        "undervoltage-inverse",
      ] as const) {
        expect(problemsOf(() => operateTimes({ curve }, [1, 2, bad]))).toMatchObject([{ path: "multiples[2]" }]);
      }
      const long = many.slice().fill(bad, 5_000, 5_001);
      expect(problemsOf(() => operateTimes({ curve: "iec-inverse" }, long))).toMatchObject([
        { path: "multiples[5000]" },
      ]);
    }
    expect(problemsOf(() => operateTimes({ curve: "iec-inverse" }, [1], new Float64Array(2)))).toMatchObject([
      { path: "out" },
    ]);
    expect(problemsOf(() => operateTimes({ curve: "iec-inverse", multiplier: 0 }, []))).toMatchObject([
      { path: "multiplier" },
    ]);
  });

  test("refuse what is no list of numbers rather than convert it", () => {
    for (const bad of [null, undefined, 5, {}, "999"]) {
      expect(problemsOf(() => operateTimes({ curve: "iec-inverse" }, bad as never))).toMatchObject([
        { path: "multiples" },
      ]);
    }
    for (const bad of [null, true, "3", [], undefined]) {
      expect(problemsOf(() => operateTimes({ curve: "iec-inverse" }, [2, bad] as never))).toMatchObject([
        { path: "multiples[1]" },
      ]);
    }
  });
});
