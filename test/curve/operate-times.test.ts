/** The batch kernel against its oracle, the plain function. */
import { Decimal } from "decimal.js";
import fc from "fast-check";
import { operateTime, operateTimes } from "tripwright/curve";
import { describe, expect, test } from "vitest";
import { between, overSettings } from "../support/curves.js";
import { ulps } from "../support/distance.js";
import { problemsOf } from "../support/failure.js";
import { holds } from "../support/holds.js";

/** Enough multiples for the table of powers and for more than one block, dense near the setting. */
const COUNT = 20_001;
const many = Float64Array.from({ length: COUNT }, (_, i) => 1 + 10 ** (-12 + (14 * i) / COUNT));

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
    for (let i = 0; i < many.length; i += 41) {
      // The double itself with all its digits, not its shortest decimal.
      const multiple = new D((many[i] as number).toPrecision(60));
      const exact = new D(k).div(multiple.pow(alpha).minus(1));
      expect(ulps(times[i] as number, exact.toNumber())).toBeLessThanOrEqual(4);
    }
  });

  test("with an exponent of one's own agree with one at a time, beyond the table too", () => {
    const curve = { form: "inverse", k: 1, alpha: 1.3, c: 0.1 } as const;
    const wide = Float64Array.from({ length: COUNT }, (_, i) => 1.001 * 1.001 ** i);
    operateTimes({ curve }, wide).forEach((time, i) => {
      if (i % 40 === 0) expect(ulps(time, operateTime({ curve }, wide[i] as number))).toBeLessThanOrEqual(8);
    });
  });

  test.each([
    ["above a start of its own", { startRatio: 1.1 }],
    ["held at the ceiling", { ceilingMultiple: 20 }],
    ["with a floor", { minimumTime: 0.7 }],
    ["with what comes last", { addedTime: 0.04 }],
    ["with all of it", { startRatio: 1.3, ceilingMultiple: 5, minimumTime: 0.7, addedTime: 0.04 }],
  ])("%s are those of one, long lists with multiples that are not started among them", (_what, added) => {
    const mixed = Float64Array.from({ length: COUNT }, (_, i) => 40 * ((i * 0.6180339887498949) % 1));
    mixed.set([0, 1, 1.1, 1.3, 5, 20, 300]);
    for (const alpha of [0.02, 1, 2, 2.5]) {
      const full = { curve: { form: "inverse", k: 0.9, alpha, c: 0.1 }, multiplier: 0.3, ...added } as const;
      for (const list of [mixed, mixed.slice(0, 9), mixed.map((multiple) => 1 + multiple / 40)]) {
        operateTimes(full, list).forEach((time, i) => {
          if (i > 50 && i % 53 > 0) return;
          expect(ulps(time, operateTime(full, list[i] as number))).toBeLessThanOrEqual(8);
        });
      }
    }
  });

  test("of laws too steep for the table are still those of one", () => {
    const curve = { form: "inverse", k: 1, alpha: 30.5, c: 0 } as const;
    operateTimes({ curve }, many).forEach((time, i) => {
      if (i % 200 === 0) expect(ulps(time, operateTime({ curve }, many[i] as number))).toBeLessThanOrEqual(8);
    });
  });

  test("of immense multiples are the constant time, and no NaN", () => {
    const immense = many.slice().fill(1e300, 9_000);
    for (const alpha of [0.5, 1, 2, 3]) {
      const curve = { form: "inverse", k: 1, alpha, c: 0.25 } as const;
      expect(operateTimes({ curve }, immense).at(-1)).toBe(0.25);
    }
  });

  test.each([1e-300, 1e-60, 1e60, 1e292])(
    "of a constant of %s are those of one, beside each other and immense",
    (k) => {
      for (const alpha of [1, 2]) {
        const curve = { form: "inverse", k, alpha, c: 0 } as const;
        const list = [1 + 2 ** -52, 1 + 2 ** -51, 3, 1e100, 7, 1e140, 1e145, 2, 1e30, 1.5, 1e70, 1e90, 40];
        for (const few of [list, list.slice(4, 8), list.slice(8)]) {
          operateTimes({ curve }, few).forEach((time, i) => {
            expect(ulps(time, operateTime({ curve }, few[i] as number))).toBeLessThanOrEqual(8);
          });
        }
      }
    },
  );

  test("see what is not started, or does not fit their loop, at any place of a list of any length", () => {
    for (const alpha of [1, 2]) {
      const curve = { form: "inverse", k: 2, alpha, c: 0.5 } as const;
      for (let length = 1; length <= 9; length++) {
        for (let place = 0; place < length; place++) {
          for (const odd of [0, 0.5, 1, 1 + 2 ** -52, 1e200]) {
            const list = new Float64Array(length).fill(3).fill(odd, place, place + 1);
            operateTimes({ curve }, list).forEach((time, i) => {
              expect(ulps(time, operateTime({ curve }, list[i] as number))).toBeLessThanOrEqual(8);
            });
          }
        }
      }
    }
  });

  test("fill the array they are given, which may be that of the multiples", () => {
    const both = Float64Array.of(0.5, 3, 10);
    expect(operateTimes({ curve: "iec-very-inverse", multiplier: 0.2 }, both, both)).toBe(both);
    expect(Array.from(both)).toEqual([Number.POSITIVE_INFINITY, 1.35, expect.closeTo(0.3, 15)]);
    for (const curve of ["iec-inverse", "iec-very-inverse"] as const) {
      const copy = many.slice();
      operateTimes({ curve }, copy, copy);
      expect(copy).toEqual(operateTimes({ curve }, many));
    }
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
      for (const curve of ["iec-inverse", "iec-very-inverse", "iec-extremely-inverse"] as const) {
        const long = many.slice().fill(bad, 15_000, 15_002);
        for (const setting of [{ curve }, { curve, ceilingMultiple: 20 }]) {
          expect(problemsOf(() => operateTimes(setting, long))).toMatchObject([{ path: "multiples[15000]" }]);
        }
        expect(problemsOf(() => operateTimes({ curve }, long, long))).toMatchObject([{ path: "multiples[15000]" }]);
      }
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
