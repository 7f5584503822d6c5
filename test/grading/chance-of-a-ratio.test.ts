/** How often a ratio of variances comes of groups that do not differ, against the finite sum that it has for odd groups. */
import { Decimal } from "decimal.js";
import fc from "fast-check";
import { betweenGroups } from "tripwright/grading";
import { describe, expect, test } from "vitest";
import { holds } from "../support/holds.js";

const D = Decimal.clone({ defaults: true, precision: 50, minE: -9e6 });

/**
 * Of an even number of degrees of freedom between the groups (Abramowitz and Stegun 26.6.4, as the sum of the incomplete
 * beta function):
 *
 *     P = xᵃ · Σ a·(a + 1)…(a + k − 1)/k! · (1 − x)ᵏ of k below b,   a = lower/2, b = upper/2, x = lower/(lower + upper·F)
 */
function exactly(ratio: number, upper: number, lower: number): Decimal {
  const x = new D(lower).div(new D(ratio).times(upper).plus(lower));
  let [term, sum] = [new D(1), new D(0)];
  for (let k = 0; k < upper / 2; k++) {
    sum = sum.plus(term);
    term = term
      .times(lower / 2 + k)
      .div(k + 1)
      .times(new D(1).minus(x));
  }
  return sum.times(x.pow(lower / 2));
}

/** So many groups of so many readings of ±1, whose means rise by steps. */
const groupsOf = (count: number, half: number, step: number): readonly number[][] =>
  Array.from({ length: count }, (_, i) =>
    Array.from({ length: 2 * half }, (_, j) => (j % 2 === 0 ? 1 : -1) + i * step),
  );

/** The chance of a ratio as betweenGroups has it. */
function compared(groups: readonly number[][]): { readonly ours: number; readonly exact: Decimal } {
  const { ratio = Number.NaN, chance = Number.NaN, degreesBetween, degreesWithin } = betweenGroups(groups);
  return { ours: chance, exact: exactly(ratio, degreesBetween, degreesWithin) };
}

describe("the chance of a ratio", () => {
  test("between an odd number of groups is the finite sum in 50 digits: 1e-13 of itself from 1e-6 on", () => {
    const counts = fc.integer({ min: 1, max: 12 }).map((n) => 2 * n + 1);
    holds(
      fc.property(counts, fc.integer({ min: 1, max: 20 }), fc.integer({ min: 0, max: 500 }), (count, half, steps) => {
        const { ours, exact } = compared(groupsOf(count, half, steps / 1000));
        // The ratio is rounded, and the chance falls by that times the degrees of freedom.
        const bound = exact.gt(1e-6) ? 1e-13 : 1e-12;
        expect(exact.lt(1e-250) || new D(ours).div(exact).minus(1).abs().lt(bound)).toBe(true);
      }),
    );
  });

  test("between a hundred and one groups of a thousand is one as well", () => {
    for (const step of [0, 1e-4, 1e-3, 1.2e-3, 2e-3]) {
      const { ours, exact } = compared(groupsOf(101, 500, step));
      expect(new D(ours).div(exact).minus(1).abs().toNumber()).toBeLessThan(1e-12);
    }
  });

  test("is 1 where the groups lie together far closer than their readings", () => {
    expect(betweenGroups(groupsOf(40, 1, 1e-10)).chance).toBe(1);
    expect(betweenGroups(groupsOf(41, 1, 1e-10)).chance).toBe(1);
    expect(betweenGroups(groupsOf(2, 1, 1e-10)).chance).toBeCloseTo(1, 9);
  });
});
