import fc from "fast-check";
import { type Band, band, conformanceProbability } from "tripwright/grading";
import { describe, expect, test } from "vitest";
import { textOf, typedDecimals, unitsAt } from "../support/arbitraries.js";
import { problemsOf } from "../support/failure.js";
import { holds } from "../support/holds.js";

/** Nominal · percent/100 of what is typed below has at most seven places. */
const PLACES = 7;
const nominals = typedDecimals({ digits: 6, places: 3 });
const percents = typedDecimals({ digits: 3, places: 2, min: 0 });
const absolutes = typedDecimals({ digits: 4, places: 4, min: 0 });
const value = (units: bigint): number => Number(textOf(units, PLACES));
const abs = (units: bigint): bigint => (units < 0n ? -units : units);

describe("band", () => {
  test("is nominal ± the greater, or the sum, of percent and absolute, each limit the nearest double", () => {
    const combines = fc.constantFrom(undefined, "greater", "sum");
    holds(
      fc.property(nominals, percents, absolutes, combines, (nominal, percent, absolute, combine) => {
        const center = unitsAt(PLACES, nominal);
        // A product of a number with p places and a percentage with q places has p + q + 2 places.
        const relative =
          (abs(nominal.units) * percent.units * 10n ** BigInt(PLACES)) /
          10n ** BigInt(nominal.places + percent.places + 2);
        const fixed = unitsAt(PLACES, absolute);
        const half = combine === "sum" ? relative + fixed : relative > fixed ? relative : fixed;
        const tolerance = { percent: percent.text, absolute: absolute.text, ...(combine && { combine }) };
        const expected = { nominal: value(center), low: value(center - half), high: value(center + half) };
        expect(band(nominal.text, tolerance)).toEqual(expected);
        expect(band(Number(nominal.text), { ...tolerance, percent: Number(percent.text) })).toEqual(expected);
      }),
    );
  });

  test("a one-sided band has the limit of the same two-sided one, and no other", () => {
    holds(
      fc.property(nominals, percents, (nominal, percent) => {
        const both = band(nominal.text, { percent: percent.text });
        const { nominal: center, low, high } = both;
        expect(band(nominal.text, { percent: percent.text, side: "low" })).toEqual({ nominal: center, low });
        expect(band(nominal.text, { percent: percent.text, side: "high" })).toEqual({ nominal: center, high });
        expect(band(nominal.text, { percent: percent.text, side: "both" })).toEqual(both);
      }),
    );
  });

  test("a band of a negative nominal value is the mirrored one", () => {
    holds(
      fc.property(nominals, percents, absolutes, (nominal, percent, absolute) => {
        const tolerance = { percent: percent.text, absolute: absolute.text };
        const [there, back] = [1, -1].map((sign) => band(sign * Number(nominal.text), tolerance));
        expect(back).toEqual({ nominal: 0 - there!.nominal, low: 0 - there!.high!, high: 0 - there!.low! });
      }),
    );
  });

  test("a percentage of nothing is nothing, and a tolerance of 0 leaves the nominal value alone", () => {
    expect(band(0, { percent: 5 })).toEqual({ nominal: 0, low: 0, high: 0 });
    expect(band(0, { percent: 5, absolute: 0.1 })).toEqual({ nominal: 0, low: -0.1, high: 0.1 });
    expect(band(4, { absolute: 0 })).toEqual({ nominal: 4, low: 4, high: 4 });
    expect(band(4, { percent: "-0" })).toEqual({ nominal: 4, low: 4, high: 4 });
  });

  test("has the keys of what it has, and no other", () => {
    expect(Object.keys(band(4, { percent: 5 }))).toEqual(["nominal", "low", "high"]);
    expect(Object.keys(band(4, { percent: 5, side: "low" }))).toEqual(["nominal", "low"]);
    expect(Object.keys(band(4, { percent: 5, side: "high" }))).toEqual(["nominal", "high"]);
    expect(band(4, { absolute: 1, period: 360 })).toEqual({ nominal: 4, low: 3, high: 5, period: 360 });
  });

  test.each([
    ["a limit beyond doubles", 1.7e308, { percent: 50 }, "out-of-range", "nominal"],
    ["a period of anything but a turn", 4, { percent: 5, period: 180 }, "out-of-range", "period"],
    ["no tolerance", 4, {}, "missing", ""],
    ["a missing tolerance", 4, undefined, "missing", ""],
    ["a negative percentage", 4, { percent: -5 }, "out-of-range", "percent"],
    ["a negative absolute tolerance", 4, { absolute: "-0.1" }, "out-of-range", "absolute"],
    ["a tolerance that is not finite", 4, { absolute: Number.NaN }, "not-finite", "absolute"],
    ["a decimal comma", 4, { percent: "2,5" }, "decimal-comma", "percent"],
    ["an unknown combination", 4, { percent: 5, combine: "least" }, "unknown-name", "combine"],
    ["an unknown side", 4, { percent: 5, side: "top" }, "unknown-name", "side"],
    ["a misspelt key", 4, { percents: 5 }, "unknown-key", "percents"],
    ["a nominal value that is not finite", Number.NaN, { percent: 5 }, "not-finite", "nominal"],
    ["a side of 0, which says no limit", 0.5, { below: 0, above: { absolute: 0.04 } }, "wrong-type", "below"],
    ["a side of nothing", 0.5, { below: null, above: { absolute: 0.04 } }, "wrong-type", "below"],
    ["an upper side of nothing", 0.5, { above: "" }, "wrong-type", "above"],
    ["a missing nominal value", undefined, { percent: 5 }, "missing", "nominal"],
  ])("%s is refused by name", (_, nominal, tolerance, code, path) => {
    expect(problemsOf(() => band(nominal as never, tolerance as never))).toMatchObject([{ code, path }]);
  });
});

describe("a band that is written by hand", () => {
  const grade = (given: unknown) =>
    problemsOf(() => conformanceProbability(0, given as Band, { standardUncertainty: 1 }));

  test.each([
    [undefined, "missing", "band"],
    ["4 ± 1", "wrong-type", "band"],
    [{ low: -1, high: 1 }, "missing", "band.nominal"],
    [{ nominal: 0, low: Number.NEGATIVE_INFINITY }, "not-finite", "band.low"],
    [{ nominal: 0, high: "1" }, "wrong-type", "band.high"],
    [{ nominal: 0, low: 1, high: 1 - Number.EPSILON / 2 }, "out-of-range", "band.high"],
    [{ nominal: 0, low: -1, high: 1, period: 2 * Math.PI }, "out-of-range", "band.period"],
    // No limit at all would let everything pass.
    [{ nominal: 4, lo: 3.8, hi: 4.2 }, "unknown-key", "band.lo"],
  ])("as %j is refused: %s at %s", (given, code, path) => {
    expect(grade(given)).toMatchObject([{ code, path }]);
  });

  test("may be a single value", () => {
    expect(conformanceProbability(1, { nominal: 1, low: 1, high: 1 }, { standardUncertainty: 0 })).toBe(1);
  });
});
