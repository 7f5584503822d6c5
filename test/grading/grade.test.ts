import { Decimal } from "decimal.js";
import fc from "fast-check";
import { type Band, band, grade } from "tripwright/grading";
import { describe, expect, test } from "vitest";
import { typedDecimals } from "../support/arbitraries.js";
import { problemsOf } from "../support/failure.js";
import { holds } from "../support/holds.js";

const D = Decimal.clone({ defaults: true, precision: 100 });
const nearest = (x: Decimal): number => Number(x.toString()) + 0;

const value = typedDecimals({ digits: 5, places: 3 });
const half = typedDecimals({ digits: 4, places: 3, min: 1 });

describe("grade", () => {
  test("error, percent, share and overshoot are the doubles nearest to the exact ones", () => {
    holds(
      fc.property(value, half, value, (nominal, absolute, reading) => {
        const graded = grade(reading.text, band(nominal.text, { absolute: absolute.text }));
        const error = new D(reading.text).minus(nominal.text);
        const over = error.abs().minus(absolute.text);
        expect(graded).toEqual({
          verdict: over.gt(0) ? "outside" : "within",
          error: nearest(error),
          ...(!new D(nominal.text).isZero() && {
            errorPercent: nearest(error.div(new D(nominal.text).abs()).times(100)),
          }),
          used: nearest(error.abs().div(absolute.text)),
          ...(over.gt(0) && { outsideBy: nearest(over) }),
        });
      }),
      300,
    );
  });

  test("the error in percent is absent where the nominal value is zero", () => {
    expect(grade(0.02, band(0, { absolute: 0.05 }))).toEqual({ verdict: "within", error: 0.02, used: 0.4 });
  });

  test("an error below a negative nominal value is negative, in percent too", () => {
    expect(grade(-84, band(-80, { absolute: 8 }))).toMatchObject({ error: -4, errorPercent: -5, used: 0.5 });
    expect(grade(-76, band(-80, { absolute: 8 }))).toMatchObject({ error: 4, errorPercent: 5, used: 0.5 });
  });

  test("mirroring reading and band mirrors the error and keeps the verdict", () => {
    holds(
      fc.property(value, half, value, (nominal, absolute, reading) => {
        const [there, back] = [1, -1].map((sign) =>
          grade(sign * Number(reading.text), band(sign * Number(nominal.text), { absolute: absolute.text })),
        );
        expect(back).toMatchObject({ verdict: there!.verdict, error: 0 - there!.error, used: there!.used });
      }),
    );
  });

  test("a limit that does not exist cannot be exceeded, and no share of it is used", () => {
    const atMost = band(0.02, { absolute: 0.04, side: "high" });
    expect(grade(-1e6, atMost)).toEqual({ verdict: "within", error: -1_000_000.02, errorPercent: -5_000_000_100 });
    expect(grade(1e6, { nominal: 1 })).toEqual({ verdict: "within", error: 999_999, errorPercent: 99_999_900 });
  });

  test("on a band of no width a reading is on it or outside, and uses no share", () => {
    const point = band(4, { absolute: 0 });
    expect(grade(4, point)).toEqual({ verdict: "within", error: 0, errorPercent: 0 });
    expect(grade(5, point)).toEqual({ verdict: "outside", error: 1, errorPercent: 25, outsideBy: 1 });
  });

  test("further out on the open side of a one-sided band never turns within into outside", () => {
    holds(
      fc.property(value, half, value, value, fc.constantFrom("low", "high"), (nominal, absolute, a, b, side) => {
        const accepted = band(nominal.text, { absolute: absolute.text, side });
        const order = new D(a.text).lt(b.text) === (side === "high");
        const [inner, outer] = order ? [a, b] : [b, a];
        // `inner` lies on the open side of `outer`.
        if (grade(outer.text, accepted).verdict === "within") {
          expect(grade(inner.text, accepted).verdict).toBe("within");
        }
      }),
    );
  });

  test("whatever band was written, a reading is outside just where it lies beyond a limit by something", () => {
    const written = fc.record({ nominal: value, low: value, high: value, reading: value });
    holds(
      fc.property(written, ({ nominal, low, high, reading }) => {
        const [lower, upper] = [Number(low.text), Number(high.text)].sort((a, b) => a - b) as [number, number];
        const accepted: Band = { nominal: Number(nominal.text), low: lower, high: upper };
        const over = D.max(new D(lower).minus(reading.text), new D(reading.text).minus(upper));
        const graded = grade(reading.text, accepted);
        expect(graded.verdict).toBe(over.gt(0) ? "outside" : "within");
        expect(graded.outsideBy).toBe(over.gt(0) ? nearest(over) : undefined);
      }),
    );
  });

  test.each([
    ["limits out of order", 1, { nominal: 1, low: 2, high: 1 }, {}, "out-of-range", "accepted.high"],
    ["a limit that is not finite", 1, { nominal: 1, low: Number.NaN }, {}, "not-finite", "accepted.low"],
    ["an infinite limit", 1, { nominal: 1, high: 1 / 0 }, {}, "not-finite", "accepted.high"],
    ["a nominal value that is not finite", 1, { nominal: Number.NaN }, {}, "not-finite", "accepted.nominal"],
    ["a missing nominal value", 1, { low: 0, high: 2 }, {}, "missing", "accepted.nominal"],
    ["a missing band", 1, undefined, {}, "missing", "accepted"],
    ["a reading that is not finite", Number.NaN, { nominal: 1 }, {}, "not-finite", "measured"],
    ["a reading with a decimal comma", "1,02", { nominal: 1 }, {}, "decimal-comma", "measured"],
    ["an unknown rule", 1, { nominal: 1 }, { rule: "lenient" }, "unknown-name", "rule"],
    ["a rule that only objects have", 1, { nominal: 1 }, { rule: "toString" }, "unknown-name", "rule"],
    ["the guarded rule without uncertainty", 1, { nominal: 1 }, { rule: "guarded" }, "missing", "expandedUncertainty"],
    [
      "the three-way rule without uncertainty",
      1,
      { nominal: 1 },
      { rule: "three-way" },
      "missing",
      "expandedUncertainty",
    ],
    ["a negative uncertainty", 1, { nominal: 1 }, { expandedUncertainty: -0.1 }, "out-of-range", "expandedUncertainty"],
    [
      "an uncertainty that is not finite",
      1,
      { nominal: 1 },
      { expandedUncertainty: 0 / 0 },
      "not-finite",
      "expandedUncertainty",
    ],
    ["a misspelt key", 1, { nominal: 1 }, { uncertainty: 0.1 }, "unknown-key", "uncertainty"],
  ])("%s is refused by name", (_, reading, accepted, options, code, path) => {
    expect(problemsOf(() => grade(reading, accepted as never, options as never))).toMatchObject([{ code, path }]);
  });
});

describe("a nominal value beyond its own limits", () => {
  test("leaves no share to use, but a verdict and a distance", () => {
    const accepted = { nominal: 10, low: 11, high: 12 };
    expect(grade(9, accepted)).toEqual({ verdict: "outside", error: -1, errorPercent: -10, outsideBy: 2 });
    expect(grade(11.5, accepted)).not.toHaveProperty("outsideBy");
  });
});

describe("the error in percent", () => {
  test("is absent where the nominal value is too small for one, or zero", () => {
    expect(grade(1e10, { nominal: 1e-300 })).toEqual({ verdict: "within", error: 1e10 });
    for (const reading of [-1, 0, 1]) expect(grade(reading, { nominal: 0 })).not.toHaveProperty("errorPercent");
  });

  test("is 0, not −0, where it is too small for a double", () => {
    const nines = "9".repeat(190);
    expect(grade(`${nines}.${nines}`, { nominal: 1e190 })).toMatchObject({ error: -1e-190, errorPercent: 0 });
  });

  test("is absent of angles, which count from anywhere", () => {
    expect(grade(91, { nominal: 90, period: 360 })).toEqual({ verdict: "within", error: 1 });
  });
});
