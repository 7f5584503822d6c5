import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { powerMinusOne } from "../../src/curve/power.js";
import { exactly, ulpsOff } from "../base/reference.js";
import { spread } from "../base/spread.js";
import { holds } from "../support/holds.js";

describe("M^alpha − 1", () => {
  const alphas = fc.oneof(fc.constantFrom(0.02, 0.04, 1, 2), fc.double({ min: 0.001, max: 4, noNaN: true }));
  const off = (multiple: number, alpha: number) =>
    ulpsOff(powerMinusOne(multiple, alpha), exactly(multiple).pow(exactly(alpha)).minus(1));

  test("keeps its digits near M = 1, above and below", () => {
    const beyond = fc.tuple(fc.constantFrom(-1, 1), spread(-15, -1));
    holds(
      fc.property(beyond, alphas, ([sign, power], alpha) => {
        // One unit each from logarithm, product and expm1; a unit of one may be two of the next.
        expect(off(1 + sign * 10 ** power, alpha)).toBeLessThanOrEqual(4);
      }),
      250,
    );
  });

  test("is alpha times the smallest step beside 1, to first order", () => {
    holds(
      fc.property(alphas, (alpha) => {
        expect(powerMinusOne(1 + 2 ** -52, alpha) * 2 ** 52).toBeCloseTo(alpha, 12);
        expect(powerMinusOne(1 - 2 ** -53, alpha) * 2 ** 53).toBeCloseTo(-alpha, 12);
      }),
    );
  });

  test("is 0 at 1, −1 at 0, and whole where its powers are", () => {
    holds(
      fc.property(alphas, (alpha) => {
        expect(powerMinusOne(1, alpha)).toBe(0);
        expect(powerMinusOne(0, alpha)).toBe(-1);
      }),
    );
    for (const multiple of [2, 3, 7, 20, 1000]) {
      expect(powerMinusOne(multiple, 1)).toBe(multiple - 1);
      expect(powerMinusOne(multiple, 2)).toBe(multiple * multiple - 1);
    }
  });
});
