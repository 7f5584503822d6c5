import fc from "fast-check";
import { coverageFactor, standardUncertainty } from "tripwright/grading";
import { describe, expect, test } from "vitest";
import { problemsOf } from "../support/failure.js";
import { holds } from "../support/holds.js";

const coverages = fc.integer({ min: 1, max: 9999 }).map((n) => n / 10_000);
const freedoms = fc.integer({ min: 10, max: 100_000 }).map((n) => n / 10);

describe("the coverage factor", () => {
  test("of one degree of freedom is that of Cauchy's distribution, of two has a closed form", () => {
    holds(
      fc.property(coverages, (p) => {
        // t₁: tan(πp/2); t₂: p·√(2/(1 − p²)).
        const [cauchy, second] = [Math.tan((Math.PI * p) / 2), p * Math.sqrt(2 / ((1 - p) * (1 + p)))];
        expect(coverageFactor({ coverage: p, degreesOfFreedom: 1 }) / cauchy).toBeCloseTo(1, 11);
        expect(coverageFactor({ coverage: p, degreesOfFreedom: 2 }) / second).toBeCloseTo(1, 11);
      }),
    );
  });

  test("of a tiny coverage is right to 1e-15: the coverage over twice the density at 0", () => {
    for (const coverage of [1e-3, 1e-4, 1e-6, 1e-10, 1e-15]) {
      // The series of Φ⁻¹: √(2π)·(p/2)·(1 + π·p²/12 + …), of t₁ that of the tangent.
      const [normal, cauchy] = [Math.sqrt(Math.PI / 2) * coverage, Math.tan((Math.PI / 2) * coverage)];
      const series = normal * (1 + (Math.PI * coverage ** 2) / 12 + (7 * Math.PI ** 2 * coverage ** 4) / 480);
      const within = coverage >= 1e-3 ? 1e-12 * coverage : 1e-15;
      expect(Math.abs(coverageFactor({ coverage }) - series)).toBeLessThanOrEqual(within);
      expect(Math.abs(coverageFactor({ coverage, degreesOfFreedom: 1 }) - cauchy)).toBeLessThanOrEqual(within);
    }
  });

  test("grows with the coverage, and falls with the degrees of freedom towards the normal one", () => {
    holds(
      fc.property(coverages, freedoms, freedoms, (coverage, a, b) => {
        const [few, many] = a < b ? [a, b] : [b, a];
        fc.pre(many - few > 1e-3 * few && coverage > 0.01);
        const factor = coverageFactor({ coverage, degreesOfFreedom: few });
        expect(factor).toBeGreaterThan(coverageFactor({ coverage, degreesOfFreedom: many }));
        expect(factor).toBeGreaterThan(coverageFactor({ coverage }));
        expect(coverageFactor({ coverage: coverage + 5e-5, degreesOfFreedom: few })).toBeGreaterThan(factor);
      }),
      100,
    );
  });

  test("undoes itself through an expanded uncertainty", () => {
    holds(
      fc.property(coverages, (coverage) => {
        const expanded = coverageFactor({ coverage });
        expect(standardUncertainty({ expanded, coverage })).toBeCloseTo(1, 13);
      }),
    );
  });

  test("is refused outside its domain", () => {
    const ask = (given: object) => problemsOf(() => coverageFactor(given));
    expect(ask({ coverage: 0 })).toMatchObject([{ code: "out-of-range", path: "coverage" }]);
    expect(ask({ coverage: 1 })).toMatchObject([{ code: "out-of-range", path: "coverage" }]);
    expect(ask({ degreesOfFreedom: 0.5 })).toMatchObject([{ path: "degreesOfFreedom" }]);
    expect(ask({ degreesOfFreedom: Number.NaN })).toMatchObject([{ code: "not-finite", path: "degreesOfFreedom" }]);
    const infinite = ask({ degreesOfFreedom: Number.POSITIVE_INFINITY });
    expect(infinite).toMatchObject([{ code: "not-finite", path: "degreesOfFreedom" }]);
    expect(infinite[0]?.expected).toMatch("left out where they are infinitely many");
    expect(ask({ probability: 0.9 })).toMatchObject([{ code: "unknown-key" }]);
    expect(problemsOf(() => coverageFactor(null as unknown as object))).toHaveLength(1);
  });
});
