import { Decimal } from "decimal.js";
import fc from "fast-check";
import { band } from "tripwright/grading";
import { describe, expect, test } from "vitest";
import { typedDecimals } from "../support/arbitraries.js";
import { problemsOf } from "../support/failure.js";
import { holds } from "../support/holds.js";

const D = Decimal.clone({ defaults: true, precision: 60 });
const nominals = typedDecimals({ digits: 5, places: 3 });
const percents = typedDecimals({ digits: 2, places: 2, min: 0 });
const fixed = typedDecimals({ digits: 4, places: 3, min: 0 });

describe("a percentage of the reading", () => {
  const combines = fc.constantFrom("greater" as const, "sum" as const);

  test("leaves limits whose own distance is what their tolerance says", () => {
    holds(
      fc.property(nominals, percents, fixed, combines, (nominal, percent, absolute, combine) => {
        const given = { percent: percent.text, absolute: absolute.text, combine, of: "reading" } as const;
        const { low, high } = band(nominal.text, given) as { low: number; high: number };
        for (const limit of [low, high]) {
          const relative = new D(percent.text).div(100).times(new D(limit).abs());
          const allowed = combine === "sum" ? relative.plus(absolute.text) : D.max(relative, absolute.text);
          const distance = new D(limit).minus(nominal.text).abs();
          // The nearest double, read as its shortest decimal: a unit in the last place in all, times 1 + share.
          expect(distance.minus(allowed).abs().toNumber()).toBeLessThanOrEqual(4.5e-16 * Math.abs(limit));
        }
        expect(low <= Number(nominal.text) && Number(nominal.text) <= high).toBe(true);
      }),
    );
  });

  test("of 5 % about 4 A is from 4/1.05 to 4/0.95 A, and mirrored about −4 A", () => {
    expect(band(4, { percent: 5, of: "reading" })).toEqual({ nominal: 4, low: 4 / 1.05, high: 4 / 0.95 });
    expect(band(-4, { percent: 5, of: "reading" })).toEqual({ nominal: -4, low: -4 / 0.95, high: -4 / 1.05 });
  });

  test("has no upper limit from 100 % on, and is refused", () => {
    expect(problemsOf(() => band(4, { percent: 100, of: "reading" }))).toMatchObject([{ path: "percent" }]);
  });
});

describe("a percentage of full scale", () => {
  test("is the same at every nominal value", () => {
    expect(band(4, { percent: 0.5, of: "full-scale", fullScale: 20 })).toEqual({ nominal: 4, low: 3.9, high: 4.1 });
    expect(band(0, { percent: 0.5, of: "full-scale", fullScale: 20 })).toEqual({ nominal: 0, low: -0.1, high: 0.1 });
  });

  test("needs the full scale", () => {
    expect(problemsOf(() => band(4, { percent: 1, of: "full-scale" }))).toMatchObject([
      { code: "missing", path: "fullScale" },
    ]);
    expect(problemsOf(() => band(4, { percent: 1, of: "full-scale", fullScale: 0 }))).toMatchObject([
      { path: "fullScale" },
    ]);
  });
});

describe("a full scale", () => {
  test("of which the percentage is not is refused, not passed over", () => {
    const ask = (tolerance: object) => problemsOf(() => band(4, tolerance));
    const refused = { code: "not-applicable", path: "fullScale" };
    expect(ask({ percent: 5, fullScale: 100 })).toMatchObject([refused]);
    expect(ask({ percent: 5, of: "reading", fullScale: 100 })).toMatchObject([refused]);
    expect(ask({ above: { percent: 5, fullScale: 100 } })).toMatchObject([{ ...refused, path: "above.fullScale" }]);
  });
});

describe("a lopsided tolerance", () => {
  test("has its own reach on each side, and none where nothing is said", () => {
    expect(band(0.5, { below: { percent: 5 }, above: { absolute: 0.04 } })).toEqual({
      nominal: 0.5,
      low: 0.475,
      high: 0.54,
    });
    expect(band(0.5, { above: { absolute: 0.04 } })).toEqual({ nominal: 0.5, high: 0.54 });
  });

  test("with the same on both sides is the plain one", () => {
    holds(
      fc.property(nominals, percents, fixed, (nominal, percent, absolute) => {
        const both = { percent: percent.text, absolute: absolute.text };
        expect(band(nominal.text, { below: both, above: both })).toEqual(band(nominal.text, both));
      }),
    );
  });

  test("says on which side something is wrong", () => {
    const ask = (tolerance: object) => problemsOf(() => band(1, tolerance));
    expect(ask({ below: { percent: -1 } })).toMatchObject([{ code: "out-of-range", path: "below.percent" }]);
    expect(ask({ above: {} })).toMatchObject([{ code: "missing", path: "above" }]);
    expect(ask({ above: { side: "low", percent: 1 } })).toMatchObject([{ code: "unknown-key", path: "above.side" }]);
    expect(ask({ below: undefined, above: undefined })).toMatchObject([{ code: "missing", path: "" }]);
    expect(ask({ percent: 1, of: "range" })).toMatchObject([{ code: "unknown-name", path: "of" }]);
    expect(problemsOf(() => band(1, null as unknown as object))).toMatchObject([{ code: "wrong-type", path: "" }]);
  });
});
