import { Decimal } from "decimal.js";
import fc from "fast-check";
import { combineUncertainty, type Evaluation, repeatability, standardUncertainty } from "tripwright/grading";
import { describe, expect, test } from "vitest";
import { exactly } from "../base/reference.js";
import { ulps } from "../support/distance.js";
import { problemsOf } from "../support/failure.js";
import { holds } from "../support/holds.js";

const D = Decimal.clone({ defaults: true, precision: 40 });
const sizes = fc
  .tuple(fc.integer({ min: 1, max: 9999 }), fc.integer({ min: -9, max: 6 }))
  .map(([digits, power]) => Number(`${digits}e${power}`));
const shares = fc.integer({ min: 0, max: 100 }).map((n) => n / 100);

describe("a standard uncertainty", () => {
  test("from limits is the deviation of what lies between them, in 40 digits", () => {
    holds(
      fc.property(sizes, shares, (halfWidth, flat) => {
        // JCGM 100:2008 4.3.7 and 4.3.9: a²/3, a²/6, a²·(1 + β²)/6; that of a sine is half the square of its amplitude.
        const beside = (variance: Decimal.Value, given: Evaluation) =>
          ulps(standardUncertainty(given), new D(variance).sqrt().times(halfWidth).toNumber());
        expect(beside(new D(1).div(3), { halfWidth, distribution: "rectangular" })).toBeLessThanOrEqual(4);
        expect(beside(new D(1).div(6), { halfWidth, distribution: "triangular" })).toBeLessThanOrEqual(4);
        expect(beside(new D(1).div(2), { halfWidth, distribution: "arcsine" })).toBeLessThanOrEqual(4);
        const trapezoid = new D(flat).pow(2).plus(1).div(6);
        expect(beside(trapezoid, { halfWidth, distribution: { flat } })).toBeLessThanOrEqual(4);
        // The last digit stands for half of it either way.
        expect(beside(new D(1).div(3), { resolution: 2 * halfWidth })).toBeLessThanOrEqual(4);
      }),
    );
  });

  test("of a trapezoid lies between those of the triangle and the rectangle, which are its ends", () => {
    const of = (distribution: "rectangular" | "triangular" | { flat: number }) =>
      standardUncertainty({ halfWidth: 3, distribution });
    expect(of({ flat: 0 })).toBeCloseTo(of("triangular"), 14);
    expect(of({ flat: 1 })).toBeCloseTo(of("rectangular"), 14);
  });

  test("is taken as it stands, or through the coverage factor of a certificate", () => {
    holds(
      fc.property(sizes, sizes, (standard, factor) => {
        expect(standardUncertainty({ standard })).toBe(standard);
        // Of the two doubles as they are, the quotient is the nearest double; as they were typed both are off already.
        const exact = exactly(standard).div(exactly(factor)).toNumber();
        expect(standardUncertainty({ expanded: standard, coverageFactor: factor })).toBe(exact);
      }),
    );
  });

  test("through a coverage uses Student's t where the certificate names degrees of freedom, else the normal one", () => {
    const coverages = fc.integer({ min: 1, max: 999 }).map((n) => n / 1000);
    holds(
      fc.property(sizes, coverages, (expanded, coverage) => {
        // Two degrees of freedom have a closed form.
        const t = coverage * Math.sqrt(2 / ((1 - coverage) * (1 + coverage)));
        const contribution = { name: "certificate", expanded, coverage, degreesOfFreedom: 2 };
        const { standard } = combineUncertainty({ contributions: [contribution] });
        expect((standard * t) / expanded).toBeCloseTo(1, 11);
      }),
    );
    // 1.959964 for 95 %, of every table.
    expect(standardUncertainty({ expanded: 1.959964, coverage: 0.95 })).toBeCloseTo(1, 7);
  });

  test("of readings is that of their mean", () => {
    holds(
      fc.property(fc.array(fc.integer({ min: -999, max: 999 }), { minLength: 2, maxLength: 9 }), (readings) => {
        const mean = D.sum(...readings).div(readings.length);
        const squares = D.sum(...readings.map((x) => mean.minus(x).pow(2)));
        const exact = squares
          .div(readings.length - 1)
          .div(readings.length)
          .sqrt();
        expect(standardUncertainty({ readings })).toBeCloseTo(exact.toNumber(), 11);
        expect(standardUncertainty({ readings })).toBe(repeatability(readings).standardUncertainty);
      }),
    );
  });

  test("of readings in a typed array is that of a list", () => {
    const readings = [0.5, 0.75, 0.25];
    expect(standardUncertainty({ readings: Float64Array.from(readings) })).toBe(standardUncertainty({ readings }));
    const short = problemsOf(() => standardUncertainty({ readings: Float32Array.of(1) }));
    expect(short).toMatchObject([{ code: "wrong-length", path: "readings", expected: "2 readings or more" }]);
  });

  test.each<Evaluation>([
    { standard: -0 },
    { expanded: -0, coverageFactor: 2 },
    { expanded: -0, coverage: 0.95 },
    { halfWidth: -0, distribution: "rectangular" },
    { resolution: -0 },
    { readings: [-0, -0] },
  ])("of nothing, %j, is 0 and not −0", (given) => {
    expect(standardUncertainty(given)).toBe(0);
  });

  test.each([
    ["where nothing is known", {}, "missing", ""],
    ["where nothing comes", undefined, "missing", ""],
    ["of a bare number", 0.1, "wrong-type", ""],
    ["known in two ways", { standard: 1, resolution: 1 }, "conflict", "resolution"],
    ["with a factor and a coverage", { expanded: 1, coverageFactor: 2, coverage: 0.9 }, "conflict", "coverageFactor"],
    ["with neither", { expanded: 1 }, "missing", "coverageFactor"],
    ["with a factor of 0", { expanded: 1, coverageFactor: 0 }, "out-of-range", "coverageFactor"],
    ["with a coverage of all", { expanded: 1, coverage: 1 }, "out-of-range", "coverage"],
    ["that is negative", { standard: -1 }, "out-of-range", "standard"],
    ["expanded from a negative one", { expanded: -1, coverageFactor: 2 }, "out-of-range", "expanded"],
    ["with an unknown distribution", { halfWidth: 1, distribution: "normal" }, "unknown-name", "distribution"],
    ["with limits but no distribution", { halfWidth: 1 }, "unknown-name", "distribution"],
    ["with a distribution that is null", { halfWidth: 1, distribution: null }, "wrong-type", "distribution"],
    ["with negative limits", { halfWidth: -1, distribution: "rectangular" }, "out-of-range", "halfWidth"],
    [
      "with a top longer than its base",
      { halfWidth: 1, distribution: { flat: 1.01 } },
      "out-of-range",
      "distribution.flat",
    ],
    ["with a negative top", { halfWidth: 1, distribution: { flat: -0.01 } }, "out-of-range", "distribution.flat"],
    ["of one reading", { readings: [1] }, "wrong-length", "readings"],
    ["of readings that are no list", { readings: "1, 2" }, "wrong-type", "readings"],
    ["of a reading that is none", { readings: [1, Number.NaN] }, "not-finite", "readings[1]"],
    [
      "with a factor that nothing was expanded by",
      { standard: 1, coverageFactor: 2 },
      "not-applicable",
      "coverageFactor",
    ],
    [
      "with a factor beside limits",
      { halfWidth: 1, distribution: "rectangular", coverageFactor: 2 },
      "not-applicable",
      "coverageFactor",
    ],
    ["with a coverage beside a resolution", { resolution: 1, coverage: 0.95 }, "not-applicable", "coverage"],
    [
      "with a distribution of what was expanded",
      { expanded: 1, coverageFactor: 2, distribution: "rectangular" },
      "not-applicable",
      "distribution",
    ],
    ["with a negative resolution", { resolution: -1 }, "out-of-range", "resolution"],
    ["with a misspelt key", { expanded: 1, coverage: 0.95, degreesoffreedom: 4 }, "unknown-key", "degreesoffreedom"],
    [
      "with degrees of freedom, which only a budget takes",
      { expanded: 1, coverage: 0.95, degreesOfFreedom: 4 },
      "unknown-key",
      "degreesOfFreedom",
    ],
  ])("%s is refused", (_, given, code, path) => {
    expect(problemsOf(() => standardUncertainty(given as never))).toMatchObject([{ code, path }]);
  });
});
