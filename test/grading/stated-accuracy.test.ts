/** Accuracies as the makers of instruments state them; the rows of test/published/grading hold the usual forms. */
import { Decimal } from "decimal.js";
import fc from "fast-check";
import { statedAccuracy } from "tripwright/grading";
import { describe, expect, test } from "vitest";
import { typedDecimals } from "../support/arbitraries.js";
import { ulps } from "../support/distance.js";
import { problemsOf } from "../support/failure.js";
import { holds } from "../support/holds.js";

const D = Decimal.clone({ defaults: true, precision: 60 });
const readings = typedDecimals({ digits: 5, places: 3 });
const parts = typedDecimals({ digits: 3, places: 3, min: 0 });
const scales = typedDecimals({ digits: 4, places: 3, min: 1 });
const statements = fc.record({ share: parts, full: parts, digits: parts, fixed: parts, by: parts });
const places = fc.record({ reading: readings, range: scales, resolution: scales });

describe("a stated accuracy", () => {
  test("comes to the nearest double of the decimal sum, and of the greatest part", () => {
    holds(
      fc.property(statements, places, ({ share, full, digits, fixed, by }, { reading, range, resolution }) => {
        const statement = {
          percentOfReading: share.text,
          percentOfRange: full.text,
          digits: digits.text,
          absolute: fixed.text,
        };
        const at = { reading: reading.text, range: range.text, resolution: resolution.text };
        const widths = [
          new D(share.text).div(100).times(new D(reading.text).abs()),
          new D(full.text).div(100).times(range.text),
          new D(digits.text).times(resolution.text),
          new D(fixed.text),
        ];
        const all = Decimal.sum(...widths);
        expect(statedAccuracy(statement, at).limit).toBe(all.toNumber());
        expect(statedAccuracy({ ...statement, combine: "greater" }, at).limit).toBe(Decimal.max(...widths).toNumber());
        const warm = statedAccuracy({ ...statement, outside: { ...statement, by: by.text } }, at);
        expect(warm.limit).toBe(all.times(new D(by.text).plus(1)).toNumber());
        expect(ulps(warm.standard, warm.limit / Math.sqrt(3))).toBe(0);
      }),
    );
  });

  test("is that of the size of a reading, whatever its sign", () => {
    holds(
      fc.property(readings, parts, parts, ({ text }, share, full) => {
        const statement = { percentOfReading: share.text, percentOfRange: full.text };
        const mirrored = text.startsWith("-") ? text.slice(1) : `-${text}`;
        expect(statedAccuracy(statement, { reading: mirrored, range: 10 })).toEqual(
          statedAccuracy(statement, { reading: text, range: 10 }),
        );
      }),
    );
  });

  test("with a coverage factor is divided by it, and a reading of 0 has no share", () => {
    // JCGM 100:2008 4.3.3: U = 0.1 with k = 2 is u = 0.05.
    expect(statedAccuracy({ absolute: 0.1, coverageFactor: 2 }, { reading: 1 })).toEqual({
      limit: 0.1,
      standard: 0.05,
    });
    expect(statedAccuracy({ percentOfReading: 1 }, { reading: 0 })).toEqual({ limit: 0, standard: 0 });
  });

  test.each([
    [undefined, { reading: 1 }, ""],
    [null, { reading: 1 }, ""],
    [{}, { reading: 1 }, "percentOfReading"],
    [{ absolute: 1 }, undefined, ""],
    [{ absolute: 1 }, null, ""],
    [{ percentOfRange: 1 }, { reading: 1 }, "range"],
    [{ percentOfRange: 1 }, { reading: 1, range: 0 }, "range"],
    [{ percentOfRange: 1 }, { reading: 1, range: -10 }, "range"],
    [{ digits: 1 }, { reading: 1 }, "resolution"],
    [{ digits: 1 }, { reading: 1, resolution: -0.1 }, "resolution"],
    [{ absolute: -1 }, { reading: 1 }, "absolute"],
    [{ absolute: null }, { reading: 1 }, "absolute"],
    [{ percentOfReading: "0,5" }, { reading: 1 }, "percentOfReading"],
    [{ absolute: 1, combine: "least" }, { reading: 1 }, "combine"],
    [{ absolute: 1, coverageFactor: 0 }, { reading: 1 }, "coverageFactor"],
    [{ absolute: 1, coverageFactor: "2" }, { reading: 1 }, "coverageFactor"],
    [{ absolute: 1, percent: 1 }, { reading: 1 }, "percent"],
    [{ absolute: 1 }, { reading: Number.NaN }, "reading"],
    [{ absolute: 1 }, { reading: 1, span: 1 }, "span"],
    [{ absolute: 1, outside: null }, { reading: 1 }, "outside"],
    [{ absolute: 1, outside: { by: 3 } }, { reading: 1 }, "outside.percentOfReading"],
    [{ absolute: 1, outside: { absolute: 1 } }, { reading: 1 }, "outside.by"],
    [{ absolute: 1, outside: { absolute: 1, by: -3 } }, { reading: 1 }, "outside.by"],
    [{ absolute: 1, outside: { absolute: -1, by: 3 } }, { reading: 1 }, "outside.absolute"],
    [{ absolute: 1, outside: { degrees: 1, by: 3 } }, { reading: 1 }, "outside.degrees"],
    [{ percentOfReading: 1e308 }, { reading: 1e308 }, "reading"],
  ])("%j at %j is refused at %s", (statement, at, path) => {
    expect(problemsOf(() => statedAccuracy(statement as never, at as never))).toMatchObject([{ path }]);
  });
});
