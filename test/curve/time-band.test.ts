/** timeBand: which operate times are accepted, by what relays declare. */
import fc from "fast-check";
import { type CurveSetting, operateTime, type TimeRule, timeBand } from "tripwright/curve";
import { describe, expect, test } from "vitest";
import { exactly, ulpsOff } from "../base/reference.js";
import { between, multiples, overSettings } from "../support/curves.js";
import { ulpOf, ulps } from "../support/distance.js";
import { problemsOf } from "../support/failure.js";
import { holds } from "../support/holds.js";
import { equation, inverse, overMultiples } from "./curves.js";

/** 13.5 · 2/(M − 1): 27 s at M = 2. */
const VERY_INVERSE: CurveSetting = { curve: "iec-very-inverse", multiplier: 2 };
const NEVER = Number.POSITIVE_INFINITY;

/** The factor of a rule at a multiple, seen on a time of 1 s with 100 % declared. */
function factor(form: "assigned-error" | "class-index", multiple: number, other: object = {}): number {
  const band = timeBand({ curve: { form: "definite", time: 1 } }, multiple, { form, percent: 100, ...other });
  return (band.high as number) - 1;
}

interface Case {
  readonly setting: CurveSetting;
  readonly multiple: number;
}
const underSetting = fc.record({
  curve: fc.record({
    form: fc.constant("under" as const),
    k: between(0.1, 10),
    alpha: between(0.1, 3),
    c: between(0, 1),
  }),
  multiplier: between(0.05, 10),
});
const extras = fc.record({ minimumTime: between(0, 2), addedTime: between(0, 1) });
const cases: fc.Arbitrary<Case> = fc.oneof(
  fc.record({ setting: overSettings, multiple: multiples }),
  fc.record({ setting: underSetting, multiple: between(0, 0.99) }),
);
const furnished = fc
  .tuple(cases, extras)
  .map(([{ setting, multiple }, more]) => ({ setting: { ...setting, ...more }, multiple }));

interface Errors {
  readonly percent: number;
  readonly absolute: number;
  readonly pickupPercent: number;
}
const errors: fc.Arbitrary<Errors> = fc.record({
  percent: between(0, 30),
  absolute: between(0, 0.2),
  // Errors so small that they only change the rounding, too.
  pickupPercent: fc.oneof(between(0, 20), between(1e-14, 1e-13)),
});
/** Factors that declare an accuracy at every multiple of either side. */
const rules = (given: Errors): TimeRule[] => [
  { form: "constant", ...given },
  ...(["assigned-error", "class-index"] as const).map((form) => ({
    form,
    ...given,
    factors: [0, 0.5, 1, 4, 100].map((multiple, i) => ({ multiple, factor: 1 + (i % 3) })),
  })),
];

describe("a band of operate times", () => {
  test("contains its nominal time, which is the operate time", () => {
    holds(
      fc.property(furnished, errors, ({ setting, multiple }, given) => {
        for (const rule of rules(given)) {
          const { nominal, low = 0, high = NEVER } = timeBand(setting, multiple, rule);
          expect(nominal).toBe(operateTime(setting, multiple));
          expect(low).toBeGreaterThanOrEqual(0);
          expect(low).toBeLessThanOrEqual(nominal);
          expect(high).toBeGreaterThanOrEqual(nominal);
        }
      }),
      500,
    );
  });

  test("grows with every error", () => {
    holds(
      fc.property(furnished, errors, errors, ({ setting, multiple }, a, b) => {
        const [smaller, larger] = [least(a, b), most(a, b)].map((given) =>
          rules(given).map((rule) => timeBand(setting, multiple, rule)),
        );
        smaller?.forEach(({ low = 0, high = NEVER }, i) => {
          const { low: lower = 0, high: higher = NEVER } = larger?.[i] ?? {};
          // Times at near neighbours may trade places by their rounding.
          expect(lower).toBeLessThanOrEqual(low + 8 * ulpOf(low));
          if (higher < NEVER) expect(higher).toBeGreaterThanOrEqual(high - 8 * ulpOf(high));
        });
      }),
      500,
    );
  });

  test("is a point where nothing is declared to be off", () => {
    holds(
      fc.property(furnished, ({ setting, multiple }) => {
        const nominal = operateTime(setting, multiple);
        for (const rule of rules({ percent: 0, absolute: 0, pickupPercent: 0 }))
          expect(timeBand(setting, multiple, rule)).toEqual({ nominal, low: nominal, high: nominal });
      }),
    );
  });

  test("scales with the multiplier, its absolute part aside", () => {
    holds(
      fc.property(cases, between(0, 30), between(0, 20), ({ setting, multiple }, percent, pickupPercent) => {
        for (const rule of rules({ percent, absolute: 0, pickupPercent })) {
          const plain = timeBand(setting, multiple, rule);
          const scaled = timeBand({ ...setting, multiplier: 4 * (setting.multiplier ?? 1) }, multiple, rule);
          expect([scaled.nominal, scaled.low]).toEqual([4 * plain.nominal, 4 * (plain.low as number)]);
          expect(scaled.high).toBe(plain.high === undefined ? undefined : 4 * plain.high);
        }
      }),
    );
    const rule: TimeRule = { form: "constant", absolute: 0.5 };
    expect(timeBand(VERY_INVERSE, 10, rule)).toEqual({ nominal: 3, low: 2.5, high: 3.5 });
    expect(timeBand({ ...VERY_INVERSE, multiplier: 8 }, 10, rule)).toEqual({ nominal: 12, low: 11.5, high: 12.5 });
  });

  test("takes percent of everything that the setting makes of the time", () => {
    const setting = { ...VERY_INVERSE, ceilingMultiple: 10, minimumTime: 5, addedTime: 1 };
    const rule: TimeRule = { form: "constant", percent: 50 };
    expect(timeBand(setting, 10, rule)).toEqual({ nominal: 6, low: 3, high: 9 });
    expect(timeBand({ ...setting, minimumTime: 0 }, 28, rule)).toEqual({ nominal: 4, low: 2, high: 6 });
  });

  test("has no limit below 0 s", () => {
    expect(timeBand(VERY_INVERSE, 28, { form: "constant", absolute: 4 })).toEqual({ nominal: 1, low: 0, high: 5 });
  });
});

describe("the upper limit against 50-digit decimals", () => {
  test("is within 8 units in the last place where the pickup is right", () => {
    holds(
      fc.property(inverse, overMultiples, between(0, 30), (curve, multiple, percent) => {
        const { high } = timeBand({ curve }, multiple, { form: "constant", percent });
        const exact = equation(curve, multiple).times(exactly(percent).div(100).plus(1));
        expect(ulpsOff(high as number, exact)).toBeLessThanOrEqual(8);
      }),
      500,
    );
  });
});

describe("the percent or absolute error, whichever is greater", () => {
  test.each([
    [10, { percent: 10, absolute: 0.25 }, 0.3], // 10 % of 3 s
    [28, { percent: 10, absolute: 0.25 }, 0.25], // 10 % of 1 s is less
    [28, { percent: 10 }, 0.1],
    [28, { absolute: 0.25 }, 0.25],
  ])("at %s times the setting with %o is %s s", (multiple, declared, half) => {
    const { nominal, low, high } = timeBand(VERY_INVERSE, multiple, { form: "constant", ...declared });
    expect(ulps(low as number, nominal - half)).toBeLessThanOrEqual(2);
    expect(ulps(high as number, nominal + half)).toBeLessThanOrEqual(2);
  });
});

// IEC 60255-151:2009 5.2, Table 1, and IEC 60255-3:1989, both from memory.
describe("the factor on the declared error", () => {
  test.each([
    [2, 2.5],
    [5 - 2 ** -50, 2.5],
    [5, 1.5],
    [10 - 2 ** -49, 1.5],
    [10, 1],
    [20, 1],
    [1000, 1],
  ])("of an assigned error at M = %s is %s: a band owns its lower edge", (multiple, expected) => {
    expect(factor("assigned-error", multiple)).toBe(expected);
  });

  test.each([
    [2, 2.5],
    [3.5, 2],
    [5, 1.5],
    [7.5, 1.25],
    [10, 1],
    [15, 1],
    [20, 1],
    [1000, 1],
  ])("of a class index at M = %s is %s: straight between its points", (multiple, expected) => {
    expect(factor("class-index", multiple)).toBe(expected);
  });

  test("is that of the multiple itself, not of one shifted by the pickup error", () => {
    expect(factor("assigned-error", 5, { pickupPercent: 10 })).toBe(1.5);
  });

  test("is the caller's where given, in any order", () => {
    const factors = [
      { multiple: 4, factor: 1 },
      { multiple: 1.25, factor: 3 },
    ];
    expect(factor("assigned-error", 1.25, { factors })).toBe(3);
    expect(factor("assigned-error", 3.9, { factors })).toBe(3);
    expect(factor("assigned-error", 4, { factors })).toBe(1);
    expect(factor("class-index", 2.625, { factors })).toBe(2);
  });

  test("of an under function goes down from its start", () => {
    const setting: CurveSetting = { curve: { form: "definite", time: 1, side: "under" } };
    const factors = [
      { multiple: 0.9, factor: 3 },
      { multiple: 0.5, factor: 1 },
    ];
    const at = (form: "assigned-error" | "class-index", multiple: number) =>
      timeBand(setting, multiple, { form, percent: 100, factors }).high;
    expect([0.9, 0.6, 0.5, 0].map((multiple) => at("assigned-error", multiple))).toEqual([4, 4, 2, 2]);
    expect([0.9, 0.7, 0.5, 0].map((multiple) => at("class-index", multiple))).toEqual([4, 3, 2, 2]);
    expect(problemsOf(() => at("assigned-error", 0.95))[0]?.path).toBe("multiple");
  });
});

describe("a pickup error", () => {
  test("widens through the curve itself, to both sides by what the curve is there", () => {
    holds(
      fc.property(cases, between(0, 20), ({ setting, multiple }, pickupPercent) => {
        const { nominal, low, high } = timeBand(setting, multiple, { form: "constant", percent: 0, pickupPercent });
        const times = [multiple * (1 - pickupPercent / 100), multiple, multiple * (1 + pickupPercent / 100)].map((at) =>
          operateTime(setting, at),
        );
        const slowest = Math.max(...times);
        expect(low).toBe(Math.min(...times));
        expect(high).toBe(slowest === NEVER ? undefined : slowest);
        expect(nominal).toBe(times[1]);
      }),
    );
  });

  test("of 1 % near pickup makes −9.46 to +11.80 % of time on the standard inverse curve", () => {
    // Reference row sens.IEC_A_SI.M1.1: the curve equation at the shifted current, exact by formula.
    const rule: TimeRule = { form: "constant", percent: 0, pickupPercent: 1 };
    const { nominal, low, high } = timeBand({ curve: "iec-inverse" }, 1.1, rule);
    expect((low as number) / nominal - 1).toBeCloseTo(-0.094620643271638, 12);
    expect((high as number) / nominal - 1).toBeCloseTo(0.117991281064757, 12);
  });

  test("comes before the error of the time", () => {
    // 27/(M − 1): 24.5454… s at 2.1, 30 s at 1.9.
    const { low, high } = timeBand(VERY_INVERSE, 2, { form: "constant", percent: 10, pickupPercent: 5 });
    expect(low).toBeCloseTo((27 / 1.1) * 0.9, 12);
    expect(high).toBeCloseTo(33, 12);
    const absolute = timeBand(VERY_INVERSE, 2, { form: "constant", absolute: 4, pickupPercent: 5 });
    expect(absolute.low).toBeCloseTo(27 / 1.1 - 4, 12);
    expect(absolute.high).toBeCloseTo(34, 12);
  });

  test("leaves no upper limit where the relay may not start, and one where it just does", () => {
    const high = (startRatio: number, pickupPercent: number) =>
      timeBand({ ...VERY_INVERSE, startRatio }, 1.5, { form: "constant", percent: 0, pickupPercent }).high;
    expect(high(1.25, 16)).toBeCloseTo(27 / 0.26, 10);
    expect(high(1.25, 20)).toBeUndefined();
    expect(high(1, 50)).toBeUndefined();
    expect(high(1, 150)).toBeUndefined();
    // 1/(1 − M): a multiple of 0.75 is seen from 0.375 to 1.125, one of 0.5 from 0.25 to 0.75.
    const under: CurveSetting = { curve: "undervoltage-inverse" };
    const rule: TimeRule = { form: "constant", percent: 0, pickupPercent: 50 };
    expect(timeBand(under, 0.75, rule)).toEqual({ nominal: 4, low: 1.6 });
    expect(timeBand(under, 0.5, rule)).toEqual({ nominal: 2, low: 1 / 0.75, high: 4 });
  });

  test("does nothing to a definite time beyond its start", () => {
    const setting: CurveSetting = { curve: { form: "definite", time: 0.5 } };
    const rule: TimeRule = { form: "constant", absolute: 0.25, pickupPercent: 10 };
    expect(timeBand(setting, 2, rule)).toEqual({ nominal: 0.5, low: 0.25, high: 0.75 });
    expect(timeBand(setting, 1.1, rule)).toEqual({ nominal: 0.5, low: 0.25 });
  });
});

const each = (a: Errors, b: Errors, pick: (x: number, y: number) => number): Errors => ({
  percent: pick(a.percent, b.percent),
  absolute: pick(a.absolute, b.absolute),
  pickupPercent: pick(a.pickupPercent, b.pickupPercent),
});
const least = (a: Errors, b: Errors): Errors => each(a, b, Math.min);
const most = (a: Errors, b: Errors): Errors => each(a, b, Math.max);
