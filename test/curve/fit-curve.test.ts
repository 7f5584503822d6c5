import fc from "fast-check";
import { operateTime } from "tripwright/curve";
import { describe, expect, test } from "vitest";
import { ulps } from "../support/distance.js";
import { holds } from "../support/holds.js";
import { asLevels, bestOf, fitsOf, off, onCurve, overNames, sameShape } from "./injections.js";

const share = fc.double({ min: 0, max: 1, noNaN: true });
const names = fc.constantFrom(...overNames);
const multipliers = share.map((x) => 0.05 + 10 * x);
const pickups = share.map((x) => 10 ** (4 * x - 2));
/** Different multiples from 1.05 to 20, at least so many, the largest at least 1.5 times the smallest. */
const multiplesOf = (minLength: number) =>
  fc
    .uniqueArray(
      share.map((x) => Math.round(1000 * (1.05 + 18.95 * x * x)) / 1000),
      { minLength, maxLength: 9 },
    )
    .filter((multiples) => Math.max(...multiples) >= 1.5 * Math.min(...multiples));

describe("the best multiplier, by hand", () => {
  // f = 1/(M − 1), so that f(2) = 1 and f(3) = 1/2.
  const curves = ["overvoltage-inverse"] as const;

  test("is that of the least relative errors", () => {
    // f/t = 5/11 and 5/9: Σ f/t = 100/99 over Σ (f/t)² = 5050/9801 is 198/101; the relative errors are 11/101 and −9/101.
    const points = [
      { multiple: 2, time: 2.2 },
      { multiple: 3, time: 0.9 },
    ];
    const fit = bestOf(points, { curves });
    expect(ulps(fit.multiplier, 198 / 101)).toBeLessThanOrEqual(4);
    expect(fit.residuals[0]).toBeCloseTo(2.2 - 198 / 101, 14);
    expect(fit.residuals[1]).toBeCloseTo(0.9 - 99 / 101, 14);
    expect(fit.residualRms).toBeCloseTo(Math.sqrt((11 ** 2 + 9 ** 2) / 101 ** 2 / 2), 14);
    expect(fit.degreesOfFreedom).toBe(1);
    expect(fit.chiSquared).toBeUndefined();
    // s² = Σ errors² over 1 degree of freedom; u² = s²/Σ (f/t)².
    expect(fit.uncertainties?.multiplier).toBeCloseTo(Math.sqrt((11 ** 2 + 9 ** 2) / 101 ** 2 / (5050 / 9801)), 14);
    expect(fit.iterations).toBeUndefined();
  });

  test("is that of the least chi-squared where the uncertainties are known", () => {
    // Σ f·t/u² over Σ f²/u² = 231.25/106.25 = 37/17; the residuals 0.4/17 and −3.2/17 make χ² = 272/289.
    const points = [
      { multiple: 2, time: 2.2, uncertainty: 0.1 },
      { multiple: 3, time: 0.9, uncertainty: 0.2 },
    ];
    const fit = bestOf(points, { curves });
    expect(ulps(fit.multiplier, 37 / 17)).toBeLessThanOrEqual(4);
    expect(fit.chiSquared).toBeCloseTo(16 / 17, 13);
    expect(fit.uncertainties?.multiplier).toBeCloseTo(1 / Math.sqrt(106.25), 14);
  });
});

describe("exact times give back what made them", () => {
  test("the multiplier", () => {
    holds(
      fc.property(names, multipliers, multiplesOf(2), (curve, multiplier, multiples) => {
        const fit = bestOf(onCurve(curve, multiplier, multiples), { curves: [curve] });
        expect(off(fit.multiplier, multiplier)).toBeLessThan(1e-14);
        expect(fit.residualRms).toBeLessThan(1e-14);
      }),
    );
  });

  test("multiplier and pickup", () => {
    holds(
      fc.property(names, multipliers, pickups, multiplesOf(3), (curve, multiplier, pickup, multiples) => {
        const points = asLevels(onCurve(curve, multiplier, multiples), pickup);
        const fit = bestOf(points, { curves: [curve], pickup: "free" });
        expect(off(fit.multiplier, multiplier)).toBeLessThan(1e-11);
        expect(off(fit.pickup, pickup)).toBeLessThan(1e-11);
      }),
    );
  });

  test("multiplier and pickup of functions of other forms", () => {
    const excess = { form: "excess", k: 8, power: 1.5 } as const;
    const thermal = { form: "thermal", tau: 600 } as const;
    for (const curve of [excess, thermal]) {
      const points = [1.1, 1.5, 3, 7].map((x) => ({ level: 110 * x, time: 2.5 * operateTime({ curve }, x) }));
      const fit = bestOf(points, { curves: [curve], pickup: "free" });
      expect(off(fit.multiplier, 2.5)).toBeLessThan(1e-11);
      expect(off(fit.pickup, 110)).toBeLessThan(1e-11);
    }
    const under = [0, 0.3, 0.6, 0.9].map((x) => ({
      level: 88 * x,
      time: operateTime({ curve: "undervoltage-inverse", multiplier: 2.5 }, x),
    }));
    const fit = bestOf(under, { curves: ["undervoltage-inverse"], pickup: "free" });
    expect(off(fit.multiplier, 2.5)).toBeLessThan(1e-11);
    expect(off(fit.pickup, 88)).toBeLessThan(1e-11);
  });

  test("the multiplier of a drawn curve, inside it", () => {
    const curve = {
      form: "table",
      points: [
        { multiple: 1.5, time: 20 },
        { multiple: 4, time: 3 },
        { multiple: 20, time: 0.4 },
      ],
    } as const;
    const points = [2, 5, 15].map((multiple) => ({ multiple, time: 0.7 * operateTime({ curve }, multiple) }));
    expect(off(bestOf(points, { curves: [curve] }).multiplier, 0.7)).toBeLessThan(1e-14);
  });
});

describe("the fit does not depend", () => {
  const times = [9.6, 4.1, 1.7, 0.95, 0.6];
  const levels = [6, 8.2, 13, 22, 41];
  const points = levels.map((level, i) => ({ level, time: times[i] as number }));
  const options = { pickup: "free", constants: "free" } as const;
  const plain = fitsOf(points, options);
  /** Within what the search leaves open, seen against the standard uncertainty. */
  const close = (value: number | undefined, expected: number | undefined, uncertainty: number | undefined) =>
    expect(Math.abs((value as number) - (expected as number))).toBeLessThan(1e-7 * (uncertainty as number));

  test("on the order of the points", () => {
    holds(
      fc.property(fc.shuffledSubarray(points, { minLength: points.length }), (shuffled) => {
        const fits = fitsOf(shuffled, options);
        expect(fits.map(({ curve }) => typeof curve)).toEqual(plain.map(({ curve }) => typeof curve));
        fits.forEach((fit, i) => {
          const { pickup, multiplier, uncertainties } = plain[i] as (typeof plain)[0];
          close(fit.pickup, pickup, uncertainties?.pickup);
          if (uncertainties?.multiplier) close(fit.multiplier, multiplier, uncertainties.multiplier);
        });
      }),
      30,
    );
  });

  test("on the unit of the levels, which the pickup follows, or of the times, which the multiplier follows", () => {
    holds(
      fc.property(pickups, pickups, (levelUnit, timeUnit) => {
        const scaled = points.map(({ level, time }) => ({ level: level * levelUnit, time: time * timeUnit }));
        fitsOf(scaled, options).forEach((fit, i) => {
          const { pickup = 0, multiplier, uncertainties } = plain[i] as (typeof plain)[0];
          close(fit.pickup, levelUnit * pickup, levelUnit * (uncertainties?.pickup ?? 0));
          close(fit.uncertainties?.pickup, levelUnit * (uncertainties?.pickup ?? 0), levelUnit * pickup);
          if (uncertainties?.multiplier)
            close(fit.multiplier, timeUnit * multiplier, timeUnit * uncertainties.multiplier);
        });
      }),
      30,
    );
  });
});

describe("the ranking", () => {
  test("puts the true curve first where three well separated multiples have small noise", () => {
    const noise = fc.array(
      share.map((x) => 1 + 1e-3 * (2 * x - 1)),
      { minLength: 3, maxLength: 3 },
    );
    holds(
      fc.property(names, multipliers, share, noise, (curve, multiplier, first, factors) => {
        const lowest = 1.5 + first;
        const points = onCurve(curve, multiplier, [lowest, 2.5 * lowest, 7 * lowest]).map(({ multiple, time }, i) => ({
          multiple,
          time: time * (factors[i] as number),
        }));
        const shape = sameShape.includes(curve) ? sameShape : [curve];
        const ranked = fitsOf(points);
        expect(ranked.slice(0, shape.length).map((fit) => fit.curve)).toEqual(shape);
        expect(ranked).toHaveLength(overNames.length);
        // In order, up to what rounding leaves of exact times.
        const sizes = ranked.map((fit) => fit.residualRms);
        for (const [i, size] of sizes.entries()) expect(size).toBeGreaterThan((sizes[i - 1] ?? 0) * (1 - 1e-9) - 1e-13);
      }),
    );
  });

  test("gives settings: residuals are what operateTime leaves of the times", () => {
    const times = [5.1, 2.2, 1.0, 0.7];
    const points = [2, 3, 6, 12].map((multiple, i) => ({ multiple, time: times[i] as number }));
    for (const { curve, multiplier, residuals } of fitsOf(points, { constants: "free" })) {
      points.forEach(({ multiple, time }, i) => {
        expect(residuals[i]).toBeCloseTo(time - operateTime({ curve, multiplier }, multiple), 12);
      });
    }
  });
});
