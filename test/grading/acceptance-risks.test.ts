/** The risks of acceptance one-sided, far off and at the edges; the common cases stand in conformity.test.ts. */
import fc from "fast-check";
import { acceptanceRisks, conformanceProbability } from "tripwright/grading";
import { describe, expect, test } from "vitest";
import { problemsOf } from "../support/failure.js";
import { holds } from "../support/holds.js";

const process = { mean: 0, standardDeviation: 1 };
const band = { nominal: 0, low: -1, high: 1 };

describe("the risks of acceptance", () => {
  test("of a limit in the middle of the process are angles: 1/4 ∓ atan(σ/u)/2π beyond it", () => {
    holds(
      fc.property(fc.integer({ min: 1, max: 500 }), fc.boolean(), (hundredths, isUpper) => {
        const u = hundredths / 100;
        const limit = isUpper ? { nominal: 0, high: 0 } : { nominal: 0, low: 0 };
        const risks = acceptanceRisks({ band: limit, process, standardUncertainty: u });
        // Of two normal values with correlation r: P(both below 0) = 1/4 + asin(r)/2π (Sheppard, 1899, from memory).
        const both = 0.25 + Math.asin(1 / Math.hypot(1, u)) / (2 * Math.PI);
        expect(risks.consumer).toBeCloseTo(0.5 - both, 12);
        expect(risks.producer).toBeCloseTo(0.5 - both, 12);
        expect(risks.accepted).toBeCloseTo(0.5, 12);
        expect(risks.conforming).toBeCloseTo(0.5, 14);
        expect(risks.consumerOfAccepted).toBeCloseTo(1 - 2 * both, 11);
      }),
      50,
    );
  });

  test("are the same mirrored, shifted and in any unit", () => {
    const means = fc.integer({ min: -30, max: 30 }).map((n) => n / 10);
    const guards = fc.integer({ min: -5, max: 8 }).map((n) => n / 10);
    holds(
      fc.property(means, guards, fc.integer({ min: 1, max: 20 }), (mean, guard, tenths) => {
        const u = tenths / 10;
        const limits = { nominal: 0, low: -1, high: 2 };
        const of = (scale: number, shift: number) => {
          const [low, high] = [limits.low * scale + shift, limits.high * scale + shift].sort((a, b) => a - b);
          return acceptanceRisks({
            band: { nominal: shift, low: low as number, high: high as number },
            process: { mean: mean * scale + shift, standardDeviation: Math.abs(scale) },
            standardUncertainty: u * Math.abs(scale),
            guard: guard * Math.abs(scale),
          });
        };
        const [plain, ...others] = [of(1, 0), of(-1, 0), of(1, 64), of(1024, 0)];
        for (const other of others)
          for (const name of ["consumer", "producer", "accepted", "conforming"] as const)
            expect(other[name]).toBeCloseTo(plain?.[name] as number, 11);
      }),
      20,
    );
  });

  test("of those that are accepted are the share of the bad ones, and none where nobody is accepted", () => {
    const risks = acceptanceRisks({ band, process, standardUncertainty: 0.3, guard: -0.5 });
    expect(risks.consumerOfAccepted).toBe(risks.consumer / risks.accepted);
    expect(risks.consumer).toBeGreaterThan(0);
    const crossed = acceptanceRisks({ band, process, standardUncertainty: 0.3, guard: 1 + Number.EPSILON });
    expect(crossed).toStrictEqual({
      consumer: 0,
      producer: crossed.conforming,
      accepted: 0,
      conforming: crossed.conforming,
    });
    expect(crossed.conforming).toBeCloseTo(conformanceProbability(0, band, { standardUncertainty: 1 }), 14);
    const point = acceptanceRisks({ band, process, standardUncertainty: 0.3, guard: 1 });
    expect(point.accepted).toBe(0);
  });

  test("are none, not less, where the process lies deep within the band or far beyond it", () => {
    const deep = acceptanceRisks({ band, process: { mean: 0, standardDeviation: 0.05 }, standardUncertainty: 0.01 });
    expect(deep).toEqual({
      consumer: 0,
      producer: expect.closeTo(0, 12),
      accepted: expect.closeTo(1, 12),
      conforming: 1,
      consumerOfAccepted: 0,
    });
    const beyond = acceptanceRisks({ band, process: { mean: 5, standardDeviation: 0.1 }, standardUncertainty: 0.01 });
    expect(beyond.accepted).toBeGreaterThanOrEqual(0);
    expect(beyond.accepted).toBeLessThan(1e-15);
    expect(beyond.producer).toBe(0);
  });

  test.each([
    [{ band: { nominal: 0, low: 1, high: -1 } }, "out-of-range", "band.high"],
    [{ band: undefined }, "missing", "band"],
    [{ process: { mean: Number.NaN, standardDeviation: 1 } }, "not-finite", "process.mean"],
    [{ process: { mean: 0 } }, "missing", "process.standardDeviation"],
    [{ process: { mean: 0, standardDeviation: 1, n: 4 } }, "unknown-key", "process.n"],
    [{ standardUncertainty: -0.1 }, "out-of-range", "standardUncertainty"],
    [{ guard: "0.1" }, "wrong-type", "guard"],
    [{ band: { ...band, period: 360 as const } }, "not-applicable", "band.period"],
  ])("with %j are refused: %s at %s", (more, code, path) => {
    const ask = () => acceptanceRisks({ band, process, standardUncertainty: 0.1, ...more } as never);
    expect(problemsOf(ask)).toMatchObject([{ code, path }]);
  });
});
