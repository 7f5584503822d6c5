import fc from "fast-check";
import { dropoutRatio, formatMeasured, repeatability } from "tripwright/grading";
import { describe, expect, test } from "vitest";
import { problemsOf } from "../support/failure.js";
import { holds } from "../support/holds.js";

const lists = fc.array(fc.integer({ min: -10_000, max: 10_000 }), { minLength: 3, maxLength: 12 });
const close = (x: number | undefined, digits = 9) => expect.closeTo(x ?? Number.NaN, digits);

describe("repeatability", () => {
  test("of identical readings has no spread, no deviation and no trend, exactly", () => {
    holds(
      fc.property(fc.double({ min: -1e6, max: 1e6, noNaN: true }), fc.integer({ min: 3, max: 10 }), (value, count) => {
        const same = repeatability(Array.from({ length: count }, () => value));
        expect(same).toMatchObject({ mean: value + 0, spread: 0, standardDeviation: 0, expandedUncertainty: 0 });
        expect(same.trend).toEqual({ slope: 0, standardUncertainty: 0, significant: false });
      }),
    );
  });

  test("moves with an offset and grows with a scale, deviation and slope only with the scale", () => {
    holds(
      fc.property(lists, fc.constantFrom(0.5, 4), fc.integer({ min: -100, max: 100 }), (list, by, offset) => {
        const plain = repeatability(list);
        const moved = repeatability(list.map((x) => by * x + offset));
        expect(moved.mean).toEqual(close(by * plain.mean + offset));
        expect(moved.median).toBe(by * plain.median + offset);
        expect(moved.standardDeviation).toEqual(close(by * (plain.standardDeviation ?? Number.NaN)));
        expect(moved.trend?.slope).toEqual(close(by * (plain.trend?.slope ?? Number.NaN)));
      }),
    );
  });

  test("turns the trend round with the order of the readings, and leaves all else", () => {
    holds(
      fc.property(lists, (list) => {
        const [there, back] = [repeatability(list), repeatability([...list].reverse())];
        expect(back.trend?.slope).toEqual(close(-(there.trend?.slope ?? Number.NaN)));
        expect(back.standardDeviation).toEqual(close(there.standardDeviation));
        expect([back.minimum, back.median, back.maximum]).toEqual([there.minimum, there.median, there.maximum]);
      }),
    );
  });

  test("sees a drift through noise, and none where there is only noise", () => {
    const noise = [0.3, -0.2, 0.1, -0.3, 0.2, 0, -0.1, 0.2, -0.2, 0];
    expect(repeatability(noise).trend?.significant).toBe(false);
    const { trend } = repeatability(noise.map((x, i) => 5 + 0.2 * i + x));
    expect(trend?.significant).toBe(true);
    expect(Math.abs((trend?.slope ?? 0) - 0.2)).toBeLessThan(3 * (trend?.standardUncertainty ?? 0));
  });

  test("of one reading has its errors, and nothing that needs more", () => {
    // Numbers invented.
    expect(repeatability([0.104], { nominal: 0.1 })).toEqual({
      count: 1,
      mean: 0.104,
      minimum: 0.104,
      maximum: 0.104,
      spread: 0,
      median: 0.104,
      errors: { mean: close(0.004), worst: close(0.004), meanPercent: close(4), worstPercent: close(4) },
    });
  });

  test("keeps the sign of the worst error, and no percent of nothing", () => {
    expect(repeatability([9, 10.5], { nominal: 10 }).errors).toMatchObject({ worst: -1, worstPercent: -10 });
    expect(repeatability([9, 10.5], { nominal: 0 }).errors).toEqual({ mean: 9.75, worst: 10.5 });
  });

  test("names what is wrong", () => {
    expect(problemsOf(() => repeatability([]))).toMatchObject([{ code: "wrong-length", path: "readings" }]);
    expect(problemsOf(() => repeatability([1, Number.NaN]))).toMatchObject([{ path: "readings[1]" }]);
    expect(problemsOf(() => repeatability([1], { nominal: Number.NaN }))).toMatchObject([{ path: "nominal" }]);
    expect(problemsOf(() => repeatability(null as unknown as number[]))).toMatchObject([{ path: "readings" }]);
  });
});

describe("the dropout ratio", () => {
  test("is exact in decimals, and refused for a pickup of 0", () => {
    expect(dropoutRatio({ pickup: 0.3, dropout: 0.1 })).toEqual({ ratio: 1 / 3, difference: -0.2 });
    expect(problemsOf(() => dropoutRatio({ pickup: 0, dropout: 1 }))).toMatchObject([{ path: "pickup" }]);
    expect(problemsOf(() => dropoutRatio({ pickup: 1, dropout: Number.NaN }))).toMatchObject([{ path: "dropout" }]);
  });
});

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

  test("is refused without an uncertainty above 0", () => {
    expect(problemsOf(() => formatMeasured(1, { expandedUncertainty: 0 }))).toMatchObject([
      { path: "expandedUncertainty" },
    ]);
    expect(problemsOf(() => formatMeasured(Number.NaN, { expandedUncertainty: 1 }))).toMatchObject([{ path: "value" }]);
    expect(problemsOf(() => formatMeasured(1, { expandedUncertainty: 1, digits: 0 }))).toMatchObject([
      { path: "digits" },
    ]);
  });
});
