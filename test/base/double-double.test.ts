import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { add, type Double2, divide, fraction, multiply, sum } from "../../src/base/double-double.js";
import { holds } from "../support/holds.js";
import { exactly, type Reference } from "./reference.js";
import { spread } from "./spread.js";
import { both } from "./tones.js";

/** Of either sign, over forty powers of two. */
const doubles = fc
  .tuple(spread(1, 2), fc.integer({ min: -20, max: 20 }), fc.boolean())
  .map(([x, exponent, negative]) => (negative ? -x : x) * 2 ** exponent);
const pairs: fc.Arbitrary<Double2> = fc.tuple(doubles, spread(-1, 1)).map(([x, tail]) => sum(x, x * tail * 2 ** -54));

const isClose = (actual: Double2, reference: Reference, scale: Reference) =>
  expect(both(actual).minus(reference).abs().toNumber()).toBeLessThanOrEqual(
    scale
      .abs()
      .times(2 ** -100)
      .toNumber(),
  );

describe("sums of two doubles", () => {
  test("hold the sum of two doubles exactly, and in order", () => {
    holds(
      fc.property(doubles, doubles, (a, b) => {
        const [high, low] = sum(a, b);
        expect(high).toBe(a + b);
        expect(
          exactly(high)
            .plus(exactly(low))
            .equals(exactly(a).plus(exactly(b))),
        ).toBe(true);
      }),
    );
  });

  test("add, multiply and divide to 30 digits", () => {
    holds(
      fc.property(pairs, pairs, (a, b) => {
        isClose(add(a, b), both(a).plus(both(b)), both(a).abs().plus(both(b).abs()));
        isClose(multiply(a, b), both(a).times(both(b)), both(a).times(both(b)));
        isClose(divide(a, b), both(a).div(both(b)), both(a).div(both(b)));
      }),
    );
  });

  test("tell what is left beside a whole number", () => {
    expect(fraction([3.25, 2 ** -52])).toBe(0.25 + 2 ** -52);
    holds(
      fc.property(fc.integer({ min: -(2 ** 50), max: 2 ** 50 }), spread(-0.5, 0.5), (whole, part) => {
        const left = fraction(sum(whole, part));
        expect(Math.abs(left)).toBeLessThanOrEqual(0.5 + 2 ** -3);
        const off = exactly(left).minus(exactly(part));
        expect(off.minus(off.round()).abs().toNumber()).toBeLessThanOrEqual(2 ** -53);
      }),
    );
  });
});
