import fc from "fast-check";
import { type CurveSetting, operateTime } from "tripwright/curve";
import { describe, expect, test } from "vitest";
import { spread } from "../base/spread.js";
import { ulps } from "../support/distance.js";
import { holds } from "../support/holds.js";
import { inverse, multipliers, overMultiples, under } from "./curves.js";

const NEVER = Number.POSITIVE_INFINITY;
const seconds = spread(0, 20);

/** 13.5/(M − 1): 13.5 s at 2, 1.5 s at 10, 0.5 s at 28. */
const VERY_INVERSE: CurveSetting = { curve: "iec-very-inverse" };

describe("each setting alone", () => {
  test("multiplier: scales the time", () => {
    expect(operateTime({ ...VERY_INVERSE, multiplier: 0.2 }, 10)).toBeCloseTo(0.3, 15);
  });

  test("startRatio: the function starts only beyond it, the multiple stays on the setting", () => {
    const setting = { ...VERY_INVERSE, startRatio: 1.5 };
    expect([operateTime(setting, 1.2), operateTime(setting, 1.5)]).toEqual([NEVER, NEVER]);
    expect(operateTime(setting, 1.5 + 2 ** -52)).toBeCloseTo(27, 12);
    expect(operateTime(setting, 10)).toBe(1.5);
  });

  test("startRatio of an under function: it starts only below", () => {
    const setting: CurveSetting = { curve: "undervoltage-inverse", startRatio: 0.5 };
    expect([operateTime(setting, 0.9), operateTime(setting, 0.5)]).toEqual([NEVER, NEVER]);
    expect(operateTime(setting, 0.25)).toBe(1 / 0.75);
  });

  test("ceilingMultiple: above it the curve is flat, up to it nothing changes", () => {
    const setting = { ...VERY_INVERSE, ceilingMultiple: 10 };
    expect([10, 10.5, 28, 1e300].map((multiple) => operateTime(setting, multiple))).toEqual([1.5, 1.5, 1.5, 1.5]);
    expect(operateTime(setting, 2)).toBe(13.5);
  });

  test("minimumTime: a floor on the time", () => {
    const setting = { ...VERY_INVERSE, minimumTime: 1 };
    expect([2, 10, 28].map((multiple) => operateTime(setting, multiple))).toEqual([13.5, 1.5, 1]);
  });

  test("addedTime: comes on top", () => {
    expect(operateTime({ ...VERY_INVERSE, addedTime: 0.25 }, 10)).toBe(1.75);
  });

  test("none of them turns never into a time", () => {
    const all = { multiplier: 0.1, minimumTime: 1, addedTime: 1 };
    expect(operateTime({ ...VERY_INVERSE, ...all, ceilingMultiple: 10 }, 1)).toBe(NEVER);
    expect(operateTime({ curve: "undervoltage-inverse", ...all }, 1)).toBe(NEVER);
  });
});

describe("the settings together", () => {
  test("the floor bears on the scaled time, the added time comes after the floor", () => {
    expect(operateTime({ ...VERY_INVERSE, multiplier: 0.5, minimumTime: 1 }, 10)).toBe(1);
    expect(operateTime({ ...VERY_INVERSE, minimumTime: 2, addedTime: 0.25 }, 10)).toBe(2.25);
    expect(operateTime({ ...VERY_INVERSE, ceilingMultiple: 10, minimumTime: 1, addedTime: 0.5 }, 28)).toBe(2);
  });

  test("are ceiling, then multiplier, then floor, then addition, over the bare equation", () => {
    const rest = fc.record({ multiplier: multipliers, minimumTime: seconds, addedTime: seconds });
    const ratios = [fc.double({ min: 1, max: 2, noNaN: true }), fc.double({ min: 2.1, max: 50, noNaN: true })] as const;
    holds(
      fc.property(inverse, rest, ...ratios, overMultiples, (curve, given, startRatio, ceilingMultiple, multiple) => {
        const time = operateTime({ curve, startRatio, ceilingMultiple, ...given }, multiple);
        if (multiple <= startRatio) expect(time).toBe(NEVER);
        else {
          const bare = operateTime({ curve }, Math.min(multiple, ceilingMultiple));
          const floored = Math.max(given.multiplier * bare, given.minimumTime);
          expect(ulps(time, floored + given.addedTime)).toBe(0);
        }
      }),
      500,
    );
  });
});

describe("a definite time", () => {
  test("is the same at every multiple beyond the start, above or below", () => {
    const curve = { form: "definite", time: 0.4 } as const;
    holds(
      fc.property(fc.double({ min: 0, max: 1e300, noNaN: true }), (multiple) => {
        expect(operateTime({ curve }, multiple)).toBe(multiple > 1 ? 0.4 : NEVER);
        expect(operateTime({ curve: { ...curve, side: "over" } }, multiple)).toBe(multiple > 1 ? 0.4 : NEVER);
        expect(operateTime({ curve: { ...curve, side: "under" } }, multiple)).toBe(multiple < 1 ? 0.4 : NEVER);
      }),
    );
    expect(operateTime({ curve: { ...curve, time: 0 }, addedTime: 0.1 }, 2)).toBe(0.1);
    expect(operateTime({ curve, multiplier: 0.5, startRatio: 1.1 }, 1.2)).toBe(0.2);
  });
});

describe("far outside the physical domain", () => {
  const positive = fc.double({ min: 5e-324, max: Number.MAX_VALUE, noNaN: true });
  const constants = { k: positive, alpha: positive, c: fc.oneof(fc.constant(0), positive) };
  const multiples = fc.oneof(
    fc.double({ min: 0, max: Number.MAX_VALUE, noNaN: true }),
    fc.constantFrom(0, 5e-324, 1 - 2 ** -53, 1, 1 + 2 ** -52, 1e300, Number.MAX_VALUE),
  );

  test("there is a time of 0 or more, or never, but not NaN", () => {
    const curve = fc.oneof(
      fc.record({ form: fc.constantFrom("inverse" as const, "under" as const), ...constants }),
      inverse,
      under,
    );
    holds(
      fc.property(curve, positive, multiples, (curve, multiplier, multiple) => {
        expect(operateTime({ curve, multiplier }, multiple)).toBeGreaterThanOrEqual(0);
      }),
      2000,
    );
  });

  test("an under function takes at least multiplier · (k + c), whatever the exponent", () => {
    const alpha = fc.oneof(positive, fc.double({ min: 1e-20, max: 1e-15, noNaN: true }));
    const record = fc.record({ form: fc.constant("under" as const), k: fc.constant(2), c: fc.constant(1), alpha });
    holds(
      fc.property(record, multiples, (curve, multiple) => {
        expect(operateTime({ curve, multiplier: 4 }, multiple)).toBeGreaterThanOrEqual(12 * (1 - 2 ** -51));
      }),
      1000,
    );
  });
});
