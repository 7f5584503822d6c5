import fc from "fast-check";
import { curveNames, type InverseCurve, operateTime, standardCurve, type UnderCurve } from "tripwright/curve";
import { describe, expect, test } from "vitest";
import { exactly, ulpsOff } from "../base/reference.js";
import { spread } from "../base/spread.js";
import { ulpOf, ulps } from "../support/distance.js";
import { holds } from "../support/holds.js";
import { equation, inverse, multipliers, overMultiples, under, underMultiples } from "./curves.js";

const NEVER = Number.POSITIVE_INFINITY;
/** What the doc comment states, in units in the last place. */
const ACCURACY = 4;

function off(curve: InverseCurve | UnderCurve, multiple: number, multiplier = 1): number {
  return ulpsOff(operateTime({ curve, multiplier }, multiple), equation(curve, multiple).times(exactly(multiplier)));
}

describe("the operate time against 50-digit decimals", () => {
  test("is within 4 units in the last place on every standard curve", () => {
    for (const name of curveNames) {
      const curve = standardCurve(name);
      holds(
        fc.property(curve.form === "under" ? underMultiples : overMultiples, multipliers, (multiple, multiplier) => {
          expect(off(curve, multiple, multiplier)).toBeLessThanOrEqual(ACCURACY);
          expect(operateTime({ curve: name, multiplier }, multiple)).toBe(operateTime({ curve, multiplier }, multiple));
        }),
        60,
      );
    }
  });

  test("is within 4 units in the last place with any constants", () => {
    holds(
      fc.property(inverse, overMultiples, multipliers, (curve, multiple, multiplier) => {
        expect(off(curve, multiple, multiplier)).toBeLessThanOrEqual(ACCURACY);
      }),
      250,
    );
    holds(
      fc.property(under, underMultiples, multipliers, (curve, multiple, multiplier) => {
        expect(off(curve, multiple, multiplier)).toBeLessThanOrEqual(ACCURACY);
      }),
      250,
    );
  });

  test("is within 4 units in the last place at a large power of a large multiple", () => {
    const curve = { form: "inverse", k: 1, alpha: 3, c: 0 } as const;
    expect(off(curve, 61.60124062151202)).toBeLessThanOrEqual(ACCURACY);
    expect(off({ ...curve, alpha: 9.546885244021926 }, 78.86540380320017)).toBeLessThanOrEqual(ACCURACY);
    // Found by search: the exponential of the logarithm, rather than the power, would be off by more here too.
    expect(off({ ...curve, alpha: 0.8191708566445349 }, 74.32154752742511)).toBeLessThanOrEqual(ACCURACY);
    expect(off({ ...curve, alpha: 0.503079005306054 }, 79.88489327307758)).toBeLessThanOrEqual(ACCURACY);
  });

  test("is within 4 units in the last place at a small power of a small multiple", () => {
    const curve = { form: "under", k: 1, alpha: 0.02, c: 0 } as const;
    expect(off(curve, 0.45392219990052274)).toBeLessThanOrEqual(ACCURACY);
    expect(off({ ...curve, alpha: 0.00017 }, 0.49280424889833085)).toBeLessThanOrEqual(ACCURACY);
  });
});

describe("the operate time of an over function", () => {
  test("falls as the multiple rises", () => {
    holds(
      fc.property(inverse, overMultiples, overMultiples, (curve, a, b) => {
        const [low, high] = [Math.min(a, b), Math.max(a, b)];
        const [slow, fast] = [operateTime({ curve }, low), operateTime({ curve }, high)];
        // Between near neighbours two roundings may trade places, each of them within the stated accuracy.
        expect(fast).toBeLessThanOrEqual(slow + 2 * ACCURACY * ulpOf(slow));
        // Where the additive constant is nearly all of the time, a double cannot show the fall.
        if (high > low * 1.001 && slow - curve.c > 1e-6 * slow) expect(fast).toBeLessThan(slow);
      }),
      500,
    );
  });

  test("is never at or below the setting, and finite right above it", () => {
    holds(
      fc.property(inverse, spread(0, 1), (curve, multiple) => {
        expect(operateTime({ curve }, multiple)).toBe(NEVER);
        expect(operateTime({ curve }, 1 + Number.EPSILON)).toBeLessThan(NEVER);
      }),
    );
    for (const name of curveNames.filter((name) => name !== "undervoltage-inverse"))
      for (const multiple of [0, 0.5, 1]) expect(operateTime({ curve: name }, multiple)).toBe(NEVER);
  });
});

describe("the operate time of an under function", () => {
  test("rises as the multiple rises", () => {
    holds(
      fc.property(under, underMultiples, underMultiples, (curve, a, b) => {
        const [low, high] = [Math.min(a, b), Math.max(a, b)];
        const [fast, slow] = [operateTime({ curve }, low), operateTime({ curve }, high)];
        expect(fast).toBeLessThanOrEqual(slow + 2 * ACCURACY * ulpOf(slow));
      }),
      500,
    );
  });

  test("is never at or above the setting, and at 0 it is multiplier · (k + c)", () => {
    holds(
      fc.property(under, fc.double({ min: 1, max: 100, noNaN: true }), multipliers, (curve, multiple, multiplier) => {
        expect(operateTime({ curve }, multiple)).toBe(NEVER);
        expect(ulps(operateTime({ curve, multiplier }, 0), multiplier * (curve.k + curve.c))).toBeLessThanOrEqual(1);
      }),
    );
  });
});

test("the operate time is proportional to the multiplier, the additive constant included", () => {
  holds(
    fc.property(inverse, overMultiples, multipliers, multipliers, (curve, multiple, first, factor) => {
      const once = operateTime({ curve, multiplier: first }, multiple);
      expect(ulps(operateTime({ curve, multiplier: first * factor }, multiple), once * factor)).toBeLessThanOrEqual(3);
    }),
  );
  // As the multiple grows without limit the first term vanishes: what is left is the additive constant, scaled too.
  expect(operateTime({ curve: { form: "inverse", k: 1, alpha: 2, c: 0.5 }, multiplier: 4 }, 1e200)).toBe(2);
});
