import fc from "fast-check";
import { coverageFactor, dropoutRatio, fitLine, repeatability } from "tripwright/grading";
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

  test("says how well the mean is known: s/√n, expanded by Student's t of one degree of freedom less", () => {
    holds(
      fc.property(lists, (list) => {
        const { count, standardDeviation: s = Number.NaN, ...mean } = repeatability(list);
        expect(mean.standardUncertainty).toEqual(close(s / Math.sqrt(count)));
        const t = coverageFactor({ degreesOfFreedom: count - 1 });
        expect(mean.expandedUncertainty).toEqual(close((t * s) / Math.sqrt(count)));
      }),
    );
    // JCGM 100:2008 Table G.2, from memory: 12.71, 4.30 and 2.78 for one, two and four degrees of freedom.
    const factor = ({ expandedUncertainty: U = 0, standardUncertainty: u = 0 }) => (U / u).toFixed(2);
    const factors = [
      [1, 2],
      [1, 2, 4],
      [3, 1, 4, 1, 5],
    ].map((list) => factor(repeatability(list)));
    expect(factors).toEqual(["12.71", "4.30", "2.78"]);
  });

  test("has the trend of the least-squares line through the readings in their order", () => {
    holds(
      fc.property(lists, (list) => {
        const line = fitLine(list.map((y, x) => ({ x, y })));
        if (line.kind === "none") throw new Error(line.reason);
        const { trend } = repeatability(list);
        expect(trend?.slope).toEqual(close(line.slope));
        expect(trend?.standardUncertainty).toEqual(close(line.slopeStandard, 7));
      }),
    );
  });

  // A slope of 1 beside a pattern that has neither level nor slope, of so many times e: u(slope) = √(Σ²/(n − 2)/S) · e.
  test.each([
    ["three", [1, -2, 1], 12.706 * Math.sqrt(6 / 1 / 2)],
    ["four", [1, -1, -1, 1], 4.303 * Math.sqrt(4 / 2 / 5)],
    ["five", [2, -1, -2, -1, 2], 3.182 * Math.sqrt(14 / 3 / 10)],
  ])("calls a trend of %s readings significant from t times its uncertainty on", (_, pattern, most) => {
    // Student's t of 95 % for one, two and three degrees of freedom, of every table.
    const significant = (e: number) => repeatability(pattern.map((p, i) => 5 + i + p * e)).trend?.significant;
    expect([significant(0.999 / most), significant(1.001 / most)]).toEqual([true, false]);
  });

  test("calls no trend significant that the last digits of the readings may make, at any size", () => {
    holds(
      fc.property(fc.integer({ min: -300, max: 300 }), (power) => {
        const rising = (count: number, digits: number) =>
          repeatability(Array.from({ length: count }, (_, i) => 2 ** power * (1 + i * digits * Number.EPSILON))).trend;
        // The line is exact; what it may be off by is 2 last digits of a reading over the root of S = 2 and 10.
        expect(rising(3, 1)).toMatchObject({ standardUncertainty: 0, significant: false });
        expect(rising(3, 2)).toMatchObject({ standardUncertainty: 0, significant: true });
        expect(rising(5, 4)).toMatchObject({ standardUncertainty: 0, significant: true });
      }),
    );
  });

  test("keeps the last digits of readings, and small ones beside one that is huge", () => {
    // In last digits 0, 1 and 1: deviations −2/3, 1/3 and 1/3, so s² = (6/9)/2.
    const last = repeatability([0, 1, 1].map((n) => 1 + n * Number.EPSILON));
    expect(last.standardDeviation).toEqual(close(Number.EPSILON / Math.sqrt(3), 30));
    expect(repeatability([0, 1, 1e100, 1, -1e100]).mean).toBe(0.4);
    expect(repeatability([0, 1e100, 1, -1e100, 1]).mean).toBe(0.4);
  });

  test("scatters the same in any unit, also where squares leave the range of a double", () => {
    for (const unit of [1e-200, 1e-10, 1e200]) {
      const { standardDeviation = Number.NaN, trend } = repeatability([1, 3, 2].map((n) => n * unit));
      expect(standardDeviation / unit).toBeCloseTo(1, 12);
      // The line rises by 1/2; what is left of it, −1/2, 1 and −1/2, squares to 3/2 of one degree of freedom, over S = 2.
      expect((trend?.slope ?? Number.NaN) / unit).toBeCloseTo(0.5, 12);
      expect((trend?.standardUncertainty ?? Number.NaN) / unit).toBeCloseTo(Math.sqrt(0.75), 12);
    }
    expect(repeatability([1e-200, 3e-200]).standardDeviation).toBeCloseTo(Math.SQRT2 * 1e-200, 210);
  });

  test("takes typed arrays as lists, however long", () => {
    const list = [0.5, 0.75, 0.25];
    expect(repeatability(Float64Array.from(list), { nominal: 0.5 })).toEqual(repeatability(list, { nominal: 0.5 }));
    const long = new Float64Array(300_000).map((_, i) => i % 2);
    expect(repeatability(long)).toMatchObject({ mean: 0.5, median: 0.5, count: 300_000 });
    const empty = problemsOf(() => repeatability(new Float64Array(0)));
    expect(empty).toMatchObject([{ code: "wrong-length", expected: "1 reading or more", received: "0" }]);
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

  test("keeps the sign of the worst error, of two alike the earlier, and no percent of nothing", () => {
    expect(repeatability([9, 11, 10.5], { nominal: 10 }).errors?.worst).toBe(-1);
    expect(repeatability([11, 9, 10.5], { nominal: 10 }).errors?.worst).toBe(1);
    expect(repeatability([9, 10.5], { nominal: 10 }).errors).toMatchObject({ worst: -1, worstPercent: -10 });
    expect(repeatability([0.55], { nominal: 0.5 }).errors).toEqual({
      mean: 0.05,
      worst: 0.05,
      meanPercent: 10,
      worstPercent: 10,
    });
    // 1.1 and 0.9 lie equally far from 1, which doubles do not say: the earlier counts.
    for (const [first, second] of [
      [1.1, 0.9],
      [0.9, 1.1],
    ] as const)
      expect(repeatability([first, second], { nominal: 1 }).errors?.worstPercent).toBe(first > 1 ? 10 : -10);
    expect(repeatability([9, 10.5], { nominal: 0 }).errors).toEqual({ mean: 9.75, worst: 10.5 });
  });

  test("names what is wrong", () => {
    expect(problemsOf(() => repeatability([]))).toMatchObject([{ code: "wrong-length", path: "readings" }]);
    expect(problemsOf(() => repeatability([1, Number.NaN]))).toMatchObject([{ path: "readings[1]" }]);
    expect(problemsOf(() => repeatability([1], { nominal: Number.NaN }))).toMatchObject([{ path: "nominal" }]);
    expect(problemsOf(() => repeatability([1], { nominal: "1" as never }))).toMatchObject([{ code: "wrong-type" }]);
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
