import fc from "fast-check";
import { type InverseCurve, operateTime, standardCurve } from "tripwright/curve";
import { describe, expect, test } from "vitest";
import { between } from "../support/curves.js";
import { holds } from "../support/holds.js";
import { asLevels, bestOf, fitsOf, off, onCurve, overNames } from "./injections.js";

const multiples = [1.5, 2, 3, 5, 8, 12, 20];
const own = { curves: [], constants: "free" } as const;

const constantsOf = (fit: { readonly curve: unknown }) => fit.curve as InverseCurve;

describe("free constants", () => {
  test.each(overNames)("come back from exact times on %s", (name) => {
    const { k, alpha, c } = standardCurve(name) as InverseCurve;
    const fit = bestOf(onCurve(name, 1, multiples), own);
    const fitted = constantsOf(fit);
    expect(fit.multiplier).toBe(1);
    expect(off(fitted.k, k)).toBeLessThan(1e-9);
    expect(off(fitted.alpha, alpha)).toBeLessThan(1e-9);
    expect(Math.abs(fitted.c - c)).toBeLessThan(1e-9);
    expect(fitted.c).toBeGreaterThanOrEqual(0);
  });

  test("come back whatever they are, alone and with the pickup", () => {
    const constants = fc.record({
      form: fc.constant("inverse" as const),
      k: between(0.01, 100),
      alpha: between(0.02, 3),
      c: fc.oneof(fc.constant(0), between(0.01, 1)),
    });
    holds(
      fc.property(constants, fc.boolean(), (curve, free) => {
        const points = multiples.map((multiple) => ({ multiple, time: operateTime({ curve }, multiple) }));
        const fit = free ? bestOf(asLevels(points, 250), { ...own, pickup: "free" }) : bestOf(points, own);
        const fitted = constantsOf(fit);
        const least = Math.min(...points.map(({ time }) => time));
        expect(off(fit.pickup ?? 250, 250)).toBeLessThan(1e-8);
        expect(off(fitted.k, curve.k)).toBeLessThan(1e-8);
        expect(off(fitted.alpha, curve.alpha)).toBeLessThan(1e-8);
        expect(Math.abs(fitted.c - curve.c)).toBeLessThan(1e-8 * least);
        expect(fit.relativeResidualRms).toBeLessThan(1e-12);
      }),
    );
  });

  test("do not stray to exponents below 0, where the equation has a mirror image", () => {
    for (const first of [0.0175, 0.0143, 0.0141]) {
      const near = [0, 1, 2, 3, 4, 5, 6].map((i) => 1 + first * (17 / first) ** (i / 6));
      const fit = bestOf(asLevels(onCurve("iec-inverse", 1, near), 50), { ...own, pickup: "free" });
      expect(off(constantsOf(fit).alpha, 0.02)).toBeLessThan(1e-6);
      expect(off(fit.pickup, 50)).toBeLessThan(1e-8);
    }
  });

  test("take the multiplier in, which they cannot be told from", () => {
    const fitted = constantsOf(bestOf(onCurve("ieee-very-inverse", 3, multiples), own));
    // IEEE C37.112 Table 1: 19.61, 0.491 and the exponent 2.
    expect(off(fitted.k, 3 * 19.61)).toBeLessThan(1e-9);
    expect(off(fitted.alpha, 2)).toBeLessThan(1e-9);
    expect(off(fitted.c, 3 * 0.491)).toBeLessThan(1e-9);
  });

  test("come back together with the pickup", () => {
    const curve = { form: "inverse", k: 12, alpha: 1.3, c: 0.2 } as const;
    const points = multiples.map((x) => ({ level: 250 * x, time: operateTime({ curve }, x) }));
    const fit = bestOf(points, { ...own, pickup: "free" });
    expect(off(fit.pickup, 250)).toBeLessThan(1e-9);
    expect(off(constantsOf(fit).k, 12)).toBeLessThan(1e-9);
    expect(off(constantsOf(fit).alpha, 1.3)).toBeLessThan(1e-9);
    expect(off(constantsOf(fit).c, 0.2)).toBeLessThan(1e-9);
  });

  test("have no negative additive constant: where it would come out so, it is 0 and no longer free", () => {
    // 10/(M − 1) − 0.05: positive times, but below any inverse curve with c ≥ 0.
    const fit = bestOf(
      multiples.map((multiple) => ({ multiple, time: 10 / (multiple - 1) - 0.05 })),
      own,
    );
    expect(constantsOf(fit).c).toBe(0);
    expect(fit.degreesOfFreedom).toBe(multiples.length - 2);
    expect(Object.keys(fit.uncertainties ?? {})).toEqual(["k", "alpha"]);
  });

  test("are found where the additive constant would be negative at every exponent near the best", () => {
    // IEC 60255-151 curve A with errors up to 1 %, rounded to 10 ms.
    const times = [17.13, 9.98, 6.32, 4.27, 3.3, 2.73, 2.25];
    const fit = bestOf(
      multiples.map((multiple, i) => ({ multiple, time: times[i] as number })),
      own,
    );
    const [fitted, u] = [constantsOf(fit), fit.uncertainties];
    expect(fitted.c).toBe(0);
    expect(Math.abs(fitted.k - 0.14)).toBeLessThan(3 * (u?.k as number));
    expect(Math.abs(fitted.alpha - 0.02)).toBeLessThan(3 * (u?.alpha as number));
    expect(fit.relativeResidualRms).toBeLessThan(0.01);
  });

  test("are one more candidate, ranked with the others by what they leave per degree of freedom", () => {
    const points = onCurve("ieee-extremely-inverse", 2, multiples).map(({ multiple, time }, i) => ({
      multiple,
      time: time * (1 + 0.004 * (-1) ** i),
    }));
    const ranked = fitsOf(points, { constants: "free" });
    expect(ranked).toHaveLength(overNames.length + 1);
    const free = ranked.find(({ curve }) => typeof curve === "object");
    const standard = ranked.find(({ curve }) => curve === "ieee-extremely-inverse");
    expect(free?.relativeResidualRms).toBeLessThan(standard?.relativeResidualRms as number);
    const [first, second] = ranked.map(
      ({ relativeResidualRms, degreesOfFreedom }) => relativeResidualRms ** 2 / degreesOfFreedom,
    );
    expect(first).toBeLessThanOrEqual(second as number);
    // The points are on the standard curve but for noise: three constants of their own are not called for.
    expect(standard?.tiedWith).toContainEqual(free?.curve);
  });

  test("are not given where the points leave the exponent open", () => {
    // From M = 5 to 6 every exponent can be made to fit.
    const noise = [1.01, 0.99, 1.01, 0.99, 1.01];
    const points = onCurve("iec-inverse", 1, [5, 5.25, 5.5, 5.75, 6]).map(({ multiple, time }, i) => ({
      multiple,
      time: time * (noise[i] as number),
    }));
    expect(fitsOf(points, own)).toEqual([]);
  });
});
