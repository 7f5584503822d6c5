import fc from "fast-check";
import { formatMeasured } from "tripwright/grading";
import { describe, expect, test } from "vitest";
import { typedDecimals } from "../support/arbitraries.js";
import { problemsOf } from "../support/failure.js";
import { holds } from "../support/holds.js";

/** Text through the number format of the runtime, which reads it exactly; TypeScript does not know all its options yet. */
function inDigits(text: string, digits: Intl.NumberFormatOptions): string {
  const options = { ...digits, useGrouping: false, roundingMode: "halfEven", signDisplay: "negative" };
  return new Intl.NumberFormat("en", options as Intl.NumberFormatOptions).format(text as never);
}

describe("a measured value as it is written", () => {
  test("ends at the place of its uncertainty, which has two digits", () => {
    // JCGM 100:2008 7.2.2 and 7.2.6: 10.05762 Ω with 27 mΩ is 10.058 Ω; 100.02147 g with U = 0.79 mg.
    expect(formatMeasured(10.05762, { expandedUncertainty: 0.027, unit: "Ω" })).toBe("10.058 Ω ± 0.027 Ω");
    expect(formatMeasured("100.02147", { expandedUncertainty: 0.00079, unit: "g" })).toBe("100.02147 g ± 0.00079 g");
  });

  test("shows zeros that count, also where the uncertainty rounds up to a new place", () => {
    expect(formatMeasured(4, { expandedUncertainty: 0.0996 })).toBe("4.00 ± 0.10");
    expect(formatMeasured(-0.0001, { expandedUncertainty: 0.02 })).toBe("0.000 ± 0.020");
    expect(formatMeasured(123_456, { expandedUncertainty: 2345, digits: 1 })).toBe("123000 ± 2000");
  });

  test("is within half a unit of its last place", () => {
    const values = fc.integer({ min: -1e6, max: 1e6 }).map((n) => n / 1000);
    const widths = fc.integer({ min: 1, max: 1e5 }).map((n) => n / 1000);
    holds(
      fc.property(values, widths, (value, expandedUncertainty) => {
        const [shown = "", width = ""] = formatMeasured(value, { expandedUncertainty }).split(" ± ");
        // Of two digits the last is a hundredth of the number at least, and a tenth at most.
        expect(Math.abs(Number(shown) - value)).toBeLessThanOrEqual(0.0501 * Number(width));
        expect(Math.abs(Number(width) / expandedUncertainty - 1)).toBeLessThanOrEqual(0.0501);
      }),
    );
  });

  test("has the digits that the runtime's own number format gives, half to even", () => {
    const values = typedDecimals({ digits: 9, places: 6 });
    const widths = typedDecimals({ digits: 4, places: 4, min: 1 });
    holds(
      fc.property(values, widths, fc.integer({ min: 1, max: 6 }), (value, width, digits) => {
        const [shown = "", shownWidth = ""] = formatMeasured(value.text, {
          expandedUncertainty: width.text,
          digits,
        }).split(" ± ");
        const text = inDigits(width.text, { minimumSignificantDigits: digits, maximumSignificantDigits: digits });
        const places = text.split(".")[1]?.length ?? 0;
        fc.pre(places > 0 || !text.endsWith("0"));
        expect(shownWidth).toBe(text);
        expect(shown).toBe(inDigits(value.text, { minimumFractionDigits: places, maximumFractionDigits: places }));
      }),
    );
  });

  test("names its unit behind both, and the factor where it is given", () => {
    // JCGM 100:2008 7.2.4, from memory: 100.021 47 g, U = 0.79 mg, k = 2.26.
    const weight = { expandedUncertainty: 0.00079, coverageFactor: 2.26 };
    expect(formatMeasured(100.02147, { ...weight, unit: "g" })).toBe("100.02147 g ± 0.00079 g (k = 2.26)");
    expect(formatMeasured(100.02147, weight)).toBe("100.02147 ± 0.00079 (k = 2.26)");
    expect(formatMeasured(-4, { expandedUncertainty: 20, digits: 1, unit: "V" })).toBe("0 V ± 20 V");
  });

  test("shows a factor at three digits, half to even", () => {
    const factor = (coverageFactor: number) => formatMeasured(4, { expandedUncertainty: 0.1, coverageFactor });
    expect(factor(1.9834952585628791)).toBe("4.00 ± 0.10 (k = 1.98)");
    expect(factor(12.706204736)).toBe("4.00 ± 0.10 (k = 12.7)");
    expect(factor(1.9999)).toBe("4.00 ± 0.10 (k = 2)");
    expect([2.125, 2.135].map(factor)).toEqual(["4.00 ± 0.10 (k = 2.12)", "4.00 ± 0.10 (k = 2.14)"]);
  });

  test("has the degree sign right behind its numbers, and none behind a ratio (ISO 80000-1)", () => {
    expect(formatMeasured(-30.12, { expandedUncertainty: 0.2, unit: "°" })).toBe("-30.12° ± 0.20°");
    for (const unit of ["1", ""])
      expect(formatMeasured(0.95, { expandedUncertainty: 0.002, unit })).toBe("0.9500 ± 0.0020");
    expect(formatMeasured(21.5, { expandedUncertainty: 0.3, unit: "°C" })).toBe("21.50 °C ± 0.30 °C");
  });

  test.each([
    [1, { expandedUncertainty: 0 }, "out-of-range", "expandedUncertainty"],
    [1, { expandedUncertainty: -0.1 }, "out-of-range", "expandedUncertainty"],
    [1, {}, "missing", "expandedUncertainty"],
    [Number.NaN, { expandedUncertainty: 1 }, "not-finite", "value"],
    ["1,5", { expandedUncertainty: 1 }, "decimal-comma", "value"],
    [1, { expandedUncertainty: 1, digits: 0 }, "out-of-range", "digits"],
    [1, { expandedUncertainty: 1, digits: 7 }, "out-of-range", "digits"],
    [1, { expandedUncertainty: 1, digits: 1.5 }, "out-of-range", "digits"],
    [1, { expandedUncertainty: 1, coverageFactor: 0 }, "out-of-range", "coverageFactor"],
    [1, { expandedUncertainty: 1, coverageFactor: "2" }, "wrong-type", "coverageFactor"],
    [1, { expandedUncertainty: 1, unit: 5 }, "wrong-type", "unit"],
    [1, { expandedUncertainty: 1, k: 2 }, "unknown-key", "k"],
    [1, undefined, "missing", ""],
  ])("%j with %j is refused", (value, format, code, path) => {
    expect(problemsOf(() => formatMeasured(value as never, format as never))).toMatchObject([{ code, path }]);
  });
});
