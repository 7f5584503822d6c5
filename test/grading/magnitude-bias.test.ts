/** Magnitudes of noisy phasors; a value near zero stands in test/published/grading/magnitude-bias.json. */
import { Decimal } from "decimal.js";
import fc from "fast-check";
import { magnitudeBias } from "tripwright/grading";
import { describe, expect, test } from "vitest";
import { problemsOf } from "../support/failure.js";
import { holds } from "../support/holds.js";

const D = Decimal.clone({ defaults: true, precision: 60 });
const PI = D.acos(-1);

/**
 * The mean in units of the standard uncertainty, √(π/2)·₁F₁(−½; 1; −z) with z = size²/2, which by Kummer is
 * √(π/2)·e^(−z)·Σ (3/2)ₖ·zᵏ/k!²: terms above 0 only.
 */
function meanBySeries(size: Decimal): Decimal {
  const z = size.pow(2).div(2);
  let [sum, term] = [new D(1), new D(1)];
  for (let k = 1; term.gt(sum.times("1e-45")); k++) {
    term = term.times(new D(k).plus("0.5")).times(z).div(k).div(k);
    sum = sum.plus(term);
  }
  return PI.div(2).sqrt().times(sum).times(z.neg().exp());
}

const apart = (ours: number, exact: Decimal): number => new D(ours).div(exact).minus(1).abs().toNumber();

describe("the magnitude of a noisy phasor", () => {
  test("has the mean and the deviation of Rice's distribution in 60 digits, near zero and far from it", () => {
    const sizes = fc.integer({ min: 0, max: 320 }).map((n) => n / 16);
    // Both sides of 12, where the far series takes over from the integral.
    holds(
      fc.property(fc.oneof(sizes, fc.constantFrom(11.99, 12, 12.01, 2 ** -30, 1e-9)), (size) => {
        const exact = meanBySeries(new D(size));
        const { mean, bias, standard } = magnitudeBias({ magnitude: size, standard: 1 });
        expect(apart(mean, exact)).toBeLessThan(1e-15);
        expect(apart(bias, exact.minus(size))).toBeLessThan(2e-13);
        // The mean of the square is that of both parts: size² + 2.
        expect(apart(standard, new D(size).pow(2).plus(2).minus(exact.pow(2)).sqrt())).toBeLessThan(1e-13);
      }),
      100,
    );
  });

  test("of nothing is that of Rayleigh: √(π/2) and √(2 − π/2) of the uncertainty", () => {
    const { mean, bias, standard } = magnitudeBias({ magnitude: 0, standard: 1 });
    expect([mean, bias]).toEqual([expect.closeTo(Math.sqrt(Math.PI / 2), 14), mean]);
    expect(standard).toBeCloseTo(Math.sqrt(2 - Math.PI / 2), 13);
  });

  test("far from zero is too large by half the variance over the magnitude, and as uncertain as each part", () => {
    holds(
      fc.property(fc.integer({ min: 4, max: 200 }), (power) => {
        const size = 10 ** power;
        const { mean, bias, standard } = magnitudeBias({ magnitude: size, standard: 1 });
        // The next term is a quarter of the last over the square of the size.
        expect(Math.abs(2 * bias * size - 1)).toBeLessThan(0.3 / size ** 2 + 1e-15);
        expect(mean).toBe(size + bias);
        expect(Math.abs(standard - 1)).toBeLessThan(0.3 / size ** 2 + 1e-15);
      }),
    );
  });

  test("scales with its phasor, is never too small, and the less so the farther from zero", () => {
    const magnitudes = fc.integer({ min: 0, max: 4000 }).map((n) => n / 100);
    holds(
      fc.property(magnitudes, fc.integer({ min: -60, max: 60 }), (magnitude, power) => {
        const by = 2 ** power;
        const plain = magnitudeBias({ magnitude, standard: 1 });
        const { mean, bias, standard } = magnitudeBias({ magnitude: magnitude * by, standard: by });
        expect([mean / by, bias / by, standard / by]).toEqual([plain.mean, plain.bias, plain.standard]);
        expect(plain.bias).toBeGreaterThan(magnitudeBias({ magnitude: magnitude + 0.01, standard: 1 }).bias);
        expect(plain.bias).toBeGreaterThan(0);
      }),
    );
  });

  test.each([
    [{ magnitude: -1, standard: 1 }, "out-of-range", "magnitude"],
    [{ magnitude: Number.NaN, standard: 1 }, "not-finite", "magnitude"],
    [{ standard: 1 }, "missing", "magnitude"],
    [{ magnitude: 1, standard: 0 }, "out-of-range", "standard"],
    [{ magnitude: 1 }, "missing", "standard"],
    [{ magnitude: 1e300, standard: 1e-300 }, "not-finite", "standard"],
    [{ magnitude: Number.MAX_VALUE, standard: Number.MAX_VALUE }, "not-finite", "magnitude"],
    [{ magnitude: 1, standard: 1, angle: 0 }, "unknown-key", "angle"],
    [null, "wrong-type", ""],
  ])("of %j is refused", (given, code, path) => {
    expect(problemsOf(() => magnitudeBias(given as never))).toMatchObject([{ code, path }]);
  });
});
