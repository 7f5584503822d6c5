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
      consumer: expect.closeTo(0, 12),
      producer: expect.closeTo(0, 12),
      accepted: expect.closeTo(1, 12),
      conforming: 1,
      consumerOfAccepted: expect.closeTo(0, 12),
    });
    expect(Math.min(deep.consumer, deep.producer)).toBeGreaterThanOrEqual(0);
    const beyond = acceptanceRisks({ band, process: { mean: 5, standardDeviation: 0.1 }, standardUncertainty: 0.01 });
    expect(beyond.accepted).toBeGreaterThanOrEqual(0);
    expect(beyond.accepted).toBeLessThan(1e-15);
    expect(beyond.producer).toBe(0);
  });

  // The two integrals by 30-digit quadrature (Python's mpmath), the density and the shares through erfc.
  test.each([
    [1.3, 0.05, 0.05, 8.725593497644525e-4, 0.4733107736021656],
    [1.5, 0.01, 0, 3.259251753695643e-7, 0.257379508183027],
    [1.9, 0.01, 0, 1.693532340403349e-19, 0.4844284218325726],
    [1.9, 0.1, 0, 9.830802207714437e-11, 0.9999999993768397],
    [3, 0.03, 0, 4.269302453288556e-82, 0.9999999635916902],
    [3, 0.03, -0.03, 1.022273503659584e-79, 0.9999999997642751],
    [3, 0.1, 0.1, 3.517964045089005e-50, 1],
  ])("of a process at %s ± 0.1, read to %s with a guard of %s, are right to the last that is accepted", (...row) => {
    const [mean, standardUncertainty, guard, accepted, ofAccepted] = row;
    for (const side of [-1, 1]) {
      const process = { mean: side * mean, standardDeviation: 0.1 };
      const risks = acceptanceRisks({ band, process, standardUncertainty, guard });
      expect(risks.accepted / accepted).toBeCloseTo(1, 11);
      expect(risks.consumerOfAccepted).toBeCloseTo(ofAccepted, 11);
    }
  });

  test("accept as many as readings lie within the limits, which scatter by σ and u together, however few", () => {
    const means = fc.integer({ min: -300, max: 300 }).map((n) => n / 100);
    const widths = fc.constantFrom(0.003, 0.03, 0.1, 0.3, 1);
    holds(
      fc.property(means, widths, fc.integer({ min: -2, max: 3 }), (mean, u, by) => {
        const guard = by * u < 0.9 ? by * u : 0;
        const limits = { nominal: 0, low: -1 + guard, high: 1 - guard };
        const { accepted } = acceptanceRisks({
          band,
          process: { mean, standardDeviation: 0.1 },
          standardUncertainty: u,
          guard,
        });
        const share = conformanceProbability(mean, limits, { standardUncertainty: Math.hypot(0.1, u) });
        expect(accepted / share).toBeCloseTo(1, 10);
      }),
      60,
    );
  });

  test("of items that are known exactly are what lies between the limits, and between those pushed out", () => {
    for (const mean of [1.5, 2, 3, 4, -4]) {
      const process = { mean, standardDeviation: 0.1 };
      const risks = acceptanceRisks({ band, process, standardUncertainty: 0, guard: -0.3 });
      const between = (reach: number) =>
        conformanceProbability(mean, { nominal: 0, low: -reach, high: reach }, { standardUncertainty: 0.1 });
      expect(risks.accepted / between(1.3)).toBeCloseTo(1, 11);
      expect((risks.consumerOfAccepted ?? Number.NaN) + between(1) / between(1.3)).toBeCloseTo(1, 11);
    }
  });

  test("leave out the share of so few that doubles have no digits for them", () => {
    const risks = acceptanceRisks({ band, process: { mean: 8.38, standardDeviation: 0.2 }, standardUncertainty: 0.01 });
    expect(risks.accepted).toBeGreaterThan(0);
    expect(risks.accepted).toBeLessThan(1e-290);
    expect(risks).not.toHaveProperty("consumerOfAccepted");
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
