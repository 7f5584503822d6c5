import fc from "fast-check";
import { fitCurve, operateTime, type TimedInjection } from "tripwright/curve";
import { describe, expect, test } from "vitest";
import { ulps } from "../support/distance.js";
import { holds } from "../support/holds.js";
import { asLevels, bestOf, fitsOf, off, onCurve, overNames, sameShape } from "./injections.js";

const share = fc.double({ min: 0, max: 1, noNaN: true });
const names = fc.constantFrom(...overNames);
const multipliers = share.map((x) => 0.05 + 10 * x);
const pickups = share.map((x) => 10 ** (4 * x - 2));
/** Multiples from 1.05 to 20 a factor of 1.1 or more apart, at least so many, the last at least 1.5 times the first. */
const multiplesOf = (minLength: number) =>
  fc
    .array(share, { minLength, maxLength: 9 })
    .map((shares) => {
      let multiple = 0.955;
      return shares.map((x) => (multiple *= 1.1 + 1.2 * x * x));
    })
    .map((multiples) => multiples.filter((multiple) => multiple < 20))
    .filter((multiples) => multiples.length >= minLength)
    .filter((multiples) => (multiples.at(-1) as number) >= 1.5 * (multiples[0] as number));

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
    expect(fit.relativeResidualRms).toBeCloseTo(Math.sqrt((11 ** 2 + 9 ** 2) / 101 ** 2 / 2), 14);
    expect(fit.degreesOfFreedom).toBe(1);
    expect(fit.chiSquared).toBeUndefined();
    // s² = Σ errors² over 1 degree of freedom; u² = s²/Σ (f/t)².
    expect(fit.uncertainties?.multiplier).toBeCloseTo(Math.sqrt((11 ** 2 + 9 ** 2) / 101 ** 2 / (5050 / 9801)), 14);
  });

  test("is that of the least chi-squared where the uncertainties are known", () => {
    // Σ f·t/u² over Σ f²/u² = 231.25/106.25 = 37/17; the residuals 0.4/17 and −3.2/17 make χ² = 272/289.
    const points = [
      { multiple: 2, time: 2.2, standardUncertainty: 0.1 },
      { multiple: 3, time: 0.9, standardUncertainty: 0.2 },
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
        expect(ulps(fit.multiplier, multiplier)).toBeLessThanOrEqual(4);
        expect(fit.relativeResidualRms).toBeLessThan(1e-14);
      }),
    );
  });

  test("multiplier and pickup", () => {
    holds(
      fc.property(names, multipliers, pickups, multiplesOf(3), (curve, multiplier, pickup, multiples) => {
        const points = asLevels(onCurve(curve, multiplier, multiples), pickup);
        const fit = bestOf(points, { curves: [curve], pickup: "free" });
        expect(off(fit.multiplier, multiplier)).toBeLessThan(1e-12);
        expect(off(fit.pickup, pickup)).toBeLessThan(1e-12);
      }),
    );
  });

  test("multiplier and pickup of functions of other forms", () => {
    const excess = { form: "excess", k: 8, power: 1.5 } as const;
    const thermal = { form: "thermal", tau: 600 } as const;
    for (const curve of [excess, thermal]) {
      const points = [1.1, 1.5, 3, 7].map((x) => ({ level: 110 * x, time: 2.5 * operateTime({ curve }, x) }));
      const fit = bestOf(points, { curves: [curve], pickup: "free" });
      expect(off(fit.multiplier, 2.5)).toBeLessThan(1e-12);
      expect(off(fit.pickup, 110)).toBeLessThan(1e-12);
    }
    const under = [0, 0.3, 0.6, 0.9].map((x) => ({
      level: 88 * x,
      time: operateTime({ curve: "undervoltage-inverse", multiplier: 2.5 }, x),
    }));
    const fit = bestOf(under, { curves: ["undervoltage-inverse"], pickup: "free" });
    expect(off(fit.multiplier, 2.5)).toBeLessThan(1e-12);
    expect(off(fit.pickup, 88)).toBeLessThan(1e-12);
  });

  test("the multiplier of a drawn curve, inside it, and the pickup with it", () => {
    const curve = {
      form: "table",
      points: [
        { multiple: 1.5, time: 20 },
        { multiple: 4, time: 3 },
        { multiple: 20, time: 0.4 },
      ],
    } as const;
    const points = [2, 3, 5, 15].map((multiple) => ({ multiple, time: 0.7 * operateTime({ curve }, multiple) }));
    expect(off(bestOf(points, { curves: [curve] }).multiplier, 0.7)).toBeLessThan(1e-15);
    const fit = bestOf(asLevels(points, 4), { curves: [curve], pickup: "free" });
    expect(off(fit.multiplier, 0.7)).toBeLessThan(1e-12);
    expect(off(fit.pickup, 4)).toBeLessThan(1e-12);
  });

  test("the pickup, with points a thousandth above it", () => {
    const points = asLevels(onCurve("iec-inverse", 0.4, [1.001, 1.2, 2, 6]), 5);
    const fit = bestOf(points, { curves: ["iec-inverse"], pickup: "free" });
    expect(off(fit.multiplier, 0.4)).toBeLessThan(1e-10);
    expect(off(fit.pickup, 5)).toBeLessThan(1e-10);
  });
});

describe("times that handbooks print", () => {
  // Classic table of operate times at multiplier 1 (Gers & Holmes; Weedy; many others), from memory.
  test.each([
    ["iec-inverse", { 2: "10.03", 10: "2.97", 20: "2.27" }],
    ["iec-very-inverse", { 2: "13.5", 5: "3.375", 10: "1.5", 20: "0.71" }],
    ["iec-extremely-inverse", { 2: "26.67", 3: "10", 5: "3.33", 10: "0.81" }],
  ] as const)("lead back to %s at multiplier 1, within what their digits leave open", (name, table) => {
    const points = Object.entries(table).map(([multiple, time]) => ({
      multiple: Number(multiple),
      time: Number(time),
      // An even spread over a unit of the second decimal.
      standardUncertainty: 0.01 / Math.sqrt(12),
    }));
    const fit = bestOf(points);
    expect(fit.curve).toBe(name);
    expect(Math.abs(fit.multiplier - 1)).toBeLessThan(2 * (fit.uncertainties?.multiplier as number));
    expect(fit.chiSquared).toBeLessThan(9);
  });
});

describe("no other values fit better", () => {
  const noise = fc.array(
    share.map((x) => 1 + 0.1 * (x - 0.5)),
    { minLength: 9, maxLength: 9 },
  );
  const squares = (points: readonly { level: number; time: number }[], timeOf: (level: number) => number) =>
    points.reduce((sum, { level, time }) => sum + (1 - timeOf(level) / time) ** 2, 0);

  test("than those of a fit: neither the true ones nor any near it", () => {
    const shifts = fc.tuple(share, share).map(([x, y]) => [1 + 0.02 * (x - 0.5), 1 + 0.002 * (y - 0.5)] as const);
    holds(
      fc.property(
        names,
        pickups,
        multiplesOf(4),
        noise,
        shifts,
        (curve, pickup, multiples, factors, [byScale, byPickup]) => {
          const points = asLevels(onCurve(curve, 2, multiples), pickup).map(({ level, time }, i) => ({
            level,
            time: time * (factors[i] as number),
          }));
          const fit = bestOf(points, { curves: [curve], pickup: "free" });
          const least = points.length * fit.relativeResidualRms ** 2 * (1 - 1e-9) - 1e-20;
          const at = (multiplier: number, setting: number) =>
            squares(points, (level) => operateTime({ curve, multiplier }, level / setting));
          expect(at(2, pickup)).toBeGreaterThan(least);
          expect(at(fit.multiplier, fit.pickup as number)).toBeGreaterThan(least);
          expect(at(fit.multiplier * byScale, (fit.pickup as number) * byPickup)).toBeGreaterThan(least);
        },
      ),
    );
  });

  test("also where a curve hardly fits, and two pickups look best from near", () => {
    // On one curve and far from the other: its least squares are at a pickup of 2.993, less so at one of 2.09.
    const points = asLevels(onCurve("iec-inverse", 1, [1.004, 1.03, 1.3, 3, 18]), 3);
    const curve = "ieee-very-inverse";
    const fit = bestOf(points, { curves: [curve], pickup: "free" });
    for (let pickup = 0.5; pickup < 3.01; pickup += 0.001) {
      const shares = points.map(({ level, time }) => operateTime({ curve }, level / pickup) / time);
      const [sum, square] = [shares.reduce((a, x) => a + x, 0), shares.reduce((a, x) => a + x * x, 0)];
      // The least squares at this pickup.
      const least = points.length - sum ** 2 / square;
      expect(points.length * fit.relativeResidualRms ** 2).toBeLessThan(least + 1e-9);
    }
  });
});

describe("whatever is measured, a fit is finite, plain data", () => {
  const wild = fc.oneof(
    share.map((x) => 1 + 10 ** (-16 * x)),
    share.map((x) => 10 ** (600 * x - 300)),
    share.map((x) => 1 + 30 * x),
    fc.constantFrom(0, 1, 5e-324, Number.MAX_VALUE),
  );
  const times = fc.oneof(
    share.map((x) => 10 ** (600 * x - 300)),
    share.map((x) => 0.01 + 10 * x),
    fc.constantFrom(5e-324, Number.MAX_VALUE),
  );
  const table = { form: "table", points: [2, 5, 9].map((x) => ({ multiple: x, time: 10 / x })) } as const;
  const curves = [
    ...overNames,
    "undervoltage-inverse",
    table,
    { form: "definite", time: 0 },
    { form: "energy", k: 1 },
    { form: "excess", k: 1e-300, power: 4 },
    { form: "thermal", tau: 1e300 },
  ] as const;

  const check = (value: unknown): void => {
    if (typeof value === "number") {
      expect(Number.isFinite(value) && !Object.is(value, -0)).toBe(true);
    } else if (typeof value === "object") {
      for (const each of Object.values(value as object)) check(each);
    } else expect(value).toBeTypeOf("string");
  };

  test("with a known pickup and with a free one, and with free constants", () => {
    const point = fc.record({ level: wild, time: times, standardUncertainty: times });
    holds(
      fc.property(fc.array(point, { maxLength: 7 }), fc.boolean(), fc.boolean(), (points, free, known) => {
        const given = points.map(({ level, time, standardUncertainty }) => ({
          ...(free ? { level } : { multiple: level }),
          time,
          ...(known && { standardUncertainty }),
        }));
        const options = { curves, constants: "free", ...(free && ({ pickup: "free" } as const)) } as const;
        const fits = fitCurve(given as readonly TimedInjection[], options);
        expect(fits).toHaveLength(curves.length + 1);
        check(fits);
        expect(JSON.parse(JSON.stringify(fits))).toEqual(fits);
      }),
    );
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
        const sizes = ranked.map((fit) => fit.relativeResidualRms);
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
