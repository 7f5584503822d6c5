/** How well a standard deviation is itself known; Table E.1 of the GUM stands in test/published/grading. */
import { Decimal } from "decimal.js";
import fc from "fast-check";
import { degreesOfFreedomFrom, deviationUncertainty } from "tripwright/grading";
import { describe, expect, test } from "vitest";
import { exactly as allDigits } from "../base/reference.js";
import { ulps } from "../support/distance.js";
import { problemsOf } from "../support/failure.js";
import { holds } from "../support/holds.js";

const D = Decimal.clone({ defaults: true, precision: 40 });
const PI = D.acos(-1);

/** √(1/c₄² − 1) from the gamma functions of whole and half numbers, written as products. */
function exactly(count: number): number {
  const half = Math.floor(count / 2);
  let product = new D(1);
  // Γ(m)/Γ(m − ½) = (1/√π) · Π k/(k − ½) of k below m, and Γ(m + ½)/Γ(m) = √π/2 · Π (k + ½)/k.
  for (let k = 1; k < half; k++)
    product = count % 2 === 0 ? product.times(k).div(k - 0.5) : product.times(k + 0.5).div(k);
  const gammas = count % 2 === 0 ? product.div(PI.sqrt()) : product.times(PI.sqrt()).div(2);
  const c4 = gammas.times(new D(2).div(count - 1).sqrt());
  return new D(1).div(c4.times(c4)).minus(1).sqrt().toNumber();
}

describe("the uncertainty of a standard deviation", () => {
  test.each([2, 3, 4, 5, 10, 37, 98, 99, 100, 101, 102, 200, 1001, 20_000, 50_001])(
    "of %d readings is that of the gamma functions in 40 digits",
    (count) => {
      expect(Math.abs(deviationUncertainty(count) / exactly(count) - 1)).toBeLessThan(1e-14);
    },
  );

  test("falls as readings are added, to about 1/√(2(n − 1))", () => {
    holds(
      fc.property(fc.integer({ min: 2, max: 1e6 }), (count) => {
        expect(deviationUncertainty(count + 1)).toBeLessThan(deviationUncertainty(count));
        const over = deviationUncertainty(count) * Math.sqrt(2 * (count - 1));
        expect(over).toBeGreaterThan(1);
        expect(over).toBeLessThan(1 + 0.15 / (count - 1));
      }),
    );
    expect(deviationUncertainty(Number.MAX_SAFE_INTEGER)).toBeCloseTo(1 / Math.sqrt(2 ** 54), 20);
  });

  test.each([
    [undefined, "missing"],
    [null, "out-of-range"],
    [1, "out-of-range"],
    [0, "out-of-range"],
    [-5, "out-of-range"],
    [2.5, "out-of-range"],
    ["5", "out-of-range"],
    [Number.NaN, "out-of-range"],
    [Number.POSITIVE_INFINITY, "out-of-range"],
  ])("of %j readings is refused: %s", (count, code) => {
    expect(problemsOf(() => deviationUncertainty(count as never))).toMatchObject([{ code, path: "count" }]);
  });
});

describe("the degrees of freedom of an estimate", () => {
  test("are half the square of its inverse, in 40 digits", () => {
    expect([0.1, 0.25, 0.5, 1].map(degreesOfFreedomFrom)).toEqual([50, 8, 2, 0.5]);
    holds(
      fc.property(fc.double({ min: 1e-150, max: 1e150, noNaN: true }), (ratio) => {
        expect(
          ulps(degreesOfFreedomFrom(ratio), new D(1).div(allDigits(ratio).pow(2).times(2)).toNumber()),
        ).toBeLessThanOrEqual(2);
      }),
    );
  });

  test("that a standard deviation is worth are those of its readings, one or a little more fewer", () => {
    holds(
      fc.property(fc.integer({ min: 2, max: 1e5 }), (count) => {
        const worth = degreesOfFreedomFrom(deviationUncertainty(count));
        expect(worth).toBeLessThan(count - 1);
        expect(worth).toBeGreaterThan(count - 1.26);
      }),
    );
  });

  test("end where they are beyond doubles", () => {
    expect(degreesOfFreedomFrom(1e-154) / 5e307).toBeCloseTo(1, 14);
    expect(problemsOf(() => degreesOfFreedomFrom(5e-155))).toMatchObject([{ code: "out-of-range", path: "ratio" }]);
  });

  test.each([
    [undefined, "missing"],
    ["0.25", "wrong-type"],
    [0, "out-of-range"],
    [-0.25, "out-of-range"],
    [Number.NaN, "not-finite"],
  ])("of %j are refused: %s", (ratio, code) => {
    expect(problemsOf(() => degreesOfFreedomFrom(ratio as never))).toMatchObject([{ code, path: "ratio" }]);
  });
});
