/** Guard bands for a wanted risk; how they go with the other probabilities stands in conformity.test.ts. */
import fc from "fast-check";
import { conformanceProbability, guardBand, type WantedRisk } from "tripwright/grading";
import { describe, expect, test } from "vitest";
import { problemsOf } from "../support/failure.js";
import { holds } from "../support/holds.js";

const risks = fc.integer({ min: 1, max: 999 }).map((n) => n / 1000);
const uncertainties = fc.integer({ min: 1, max: 100 }).map((n) => n / 100);
const freedoms = fc.option(
  fc.integer({ min: 2, max: 60 }).map((n) => n / 2),
  { nil: undefined },
);
const knowns = fc.tuple(uncertainties, freedoms).map(([standardUncertainty, degreesOfFreedom]) => ({
  standardUncertainty,
  ...(degreesOfFreedom !== undefined && { degreesOfFreedom }),
}));

function widthOf(wanted: WantedRisk): number {
  const answer = guardBand(wanted);
  if (answer.kind === "none") throw new Error(answer.reason);
  return answer.width;
}

describe("the guard band at one limit", () => {
  // From memory: the quantiles of the normal distribution that every table has, and JCGM 100:2008 Table G.2 (90 and 95 %).
  test.each([
    [0.05, undefined, "1.644854"],
    [0.025, undefined, "1.959964"],
    [0.01, undefined, "2.326348"],
    [0.05, 1, "6.31"],
    [0.05, 4, "2.13"],
    [0.05, 10, "1.81"],
    [0.025, 4, "2.78"],
    [0.025, 50, "2.01"],
  ])("for a risk of %d and %j degrees of freedom is that of the tables", (risk, degreesOfFreedom, printed) => {
    const known = { standardUncertainty: 0.25, ...(degreesOfFreedom !== undefined && { degreesOfFreedom }) };
    const half = 0.5 * 10 ** -(printed.length - printed.indexOf(".") - 1);
    expect(Math.abs(widthOf({ risk, ...known }) / 0.25 - Number(printed))).toBeLessThanOrEqual(half);
  });

  test("leaves just the wanted risk, also with degrees of freedom, and whichever limit it is", () => {
    holds(
      fc.property(risks, knowns, (risk, known) => {
        const width = widthOf({ risk, ...known });
        const [atHigh, atLow] = [
          conformanceProbability(7 - width, { nominal: 5, high: 7 }, known),
          conformanceProbability(3 + width, { nominal: 5, low: 3 }, known),
        ];
        expect([1 - atHigh, 1 - atLow]).toEqual([expect.closeTo(risk, 10), expect.closeTo(risk, 10)]);
        expect(widthOf({ risk, ...known, band: { nominal: 5, high: 7 } })).toBe(width);
        expect(widthOf({ risk, ...known, band: { nominal: 5, low: 3 } })).toBe(width);
        expect(widthOf({ risk, ...known, band: { nominal: 5 } })).toBe(width);
      }),
    );
  });

  test("is none at even odds, pushed out as far as drawn in for the opposite risk, and wider for a smaller one", () => {
    holds(
      fc.property(risks, knowns, (risk, known) => {
        const width = widthOf({ risk, ...known });
        expect(width).toBeCloseTo(-widthOf({ risk: 1 - risk, ...known }), 10);
        expect(widthOf({ risk: 0.5, ...known })).toBe(0);
        expect(widthOf({ risk: 0.9 * risk, ...known })).toBeGreaterThan(width);
      }),
    );
  });
});

describe("the guard band of two limits", () => {
  // Neither about 0 nor with the nominal value in the middle.
  const [low, high] = [3, 5];
  const band = { nominal: 4.4, low, high };

  test("leaves the wanted risk, and exists just where the middle of the band has no greater one", () => {
    holds(
      fc.property(risks, knowns, (risk, known) => {
        const riskAt = (measured: number): number => 1 - conformanceProbability(measured, band, known);
        const answer = guardBand({ risk, ...known, band });
        const least = riskAt((low + high) / 2);
        fc.pre(Math.abs(least - risk) > 1e-9);
        expect(answer.kind).toBe(least > risk ? "none" : "found");
        if (answer.kind === "none") return;
        expect(riskAt(high - answer.width)).toBeCloseTo(risk, 9);
        expect(riskAt(low + answer.width)).toBeCloseTo(risk, 9);
        expect(answer.width).toBeLessThanOrEqual((high - low) / 2);
      }),
    );
  });

  test("is half the band where the middle has just the wanted risk", () => {
    const known = { standardUncertainty: 0.5 };
    const risk = 1 - conformanceProbability(0, { nominal: 0, low: -1, high: 1 }, known);
    // Twice what lies beyond two standard deviations: 4.55 %.
    expect(risk).toBeCloseTo(0.0455, 4);
    // About the middle the risk is flat: a rounding of 1e-16 moves the place by 1e-8.
    expect(widthOf({ risk, ...known, band: { nominal: 0, low: -1, high: 1 } })).toBeCloseTo(1, 6);
  });

  test("keeps its digits for the smallest risks", () => {
    const far = { nominal: 0, low: -1, high: 1 };
    for (const risk of [1e-3, 1e-9, 1e-12, 1e-15, 1e-100]) {
      const wanted = { risk, standardUncertainty: 0.01 };
      expect(widthOf({ ...wanted, band: far }) / widthOf(wanted)).toBeCloseTo(1, 11);
    }
    // Of Cauchy's distribution, which one degree of freedom is, each tail is the angle under which it is seen.
    const tail = (away: number, u: number) => Math.atan(u / away) / Math.PI;
    for (const risk of [1e-3, 1e-6, 1e-9]) {
      const known = { standardUncertainty: 0.1 * risk, degreesOfFreedom: 1 };
      const width = widthOf({ risk, ...known, band: far });
      const { standardUncertainty: u } = known;
      expect((tail(width, u) + tail(2 - width, u)) / risk).toBeCloseTo(1, 10);
      expect(width / widthOf({ risk, ...known })).toBeGreaterThan(1.01);
    }
  });

  test("is that of one limit where the other is far away", () => {
    holds(
      fc.property(fc.integer({ min: 1, max: 500 }), uncertainties, (thousandths, u) => {
        const wanted = { risk: thousandths / 1000, standardUncertainty: u / 20 };
        expect(widthOf({ ...wanted, band })).toBeCloseTo(widthOf(wanted), 12);
      }),
    );
  });
});

test.each([
  [{ risk: 0, standardUncertainty: 1 }, "out-of-range", "risk"],
  [{ risk: 1, standardUncertainty: 1 }, "out-of-range", "risk"],
  [{ standardUncertainty: 1 }, "missing", "risk"],
  [{ risk: 0.1, standardUncertainty: 0 }, "out-of-range", "standardUncertainty"],
  [{ risk: 0.1, standardUncertainty: Number.NaN }, "not-finite", "standardUncertainty"],
  [{ risk: 0.1, standardUncertainty: 1, degreesOfFreedom: 0.99 }, "out-of-range", "degreesOfFreedom"],
  [{ risk: 0.1, standardUncertainty: 1, degreesOfFreedom: 1 / 0 }, "not-finite", "degreesOfFreedom"],
  [{ risk: 0.1, standardUncertainty: 1, degreesOfFreedom: "4" }, "wrong-type", "degreesOfFreedom"],
  [{ risk: 0.1, standardUncertainty: 1, band: { nominal: 1, low: 2, high: 1 } }, "out-of-range", "band.high"],
  [{ risk: 0.1, standardUncertainty: 1, band: {} }, "missing", "band.nominal"],
  [{ risk: 0.1, standardUncertainty: 1, guard: 1 }, "unknown-key", "guard"],
  [null, "wrong-type", ""],
])("a guard band of %j is refused", (wanted, code, path) => {
  expect(problemsOf(() => guardBand(wanted as never))).toMatchObject([{ code, path }]);
});
