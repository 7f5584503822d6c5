/** Accuracy statements, lines, groups, changes and drifts. */
import fc from "fast-check";
import { betweenGroups, changeBetween, driftPerYear, fitLine, statedAccuracy, valueOnLine } from "tripwright/grading";
import { describe, expect, test } from "vitest";
import { problemsOf } from "../support/failure.js";
import { holds } from "../support/holds.js";

describe("what the maker of an instrument states", () => {
  // Methods after JCGM 100:2008 4.3.7, numbers invented to try them.
  test.each([
    [
      "% of reading + % of range",
      { percentOfReading: 0.02, percentOfRange: 0.01 },
      { reading: 120, range: 150 },
      0.039,
      0.022516660498395406,
    ],
    [
      "a negative reading by its size",
      { percentOfReading: 0.1, percentOfRange: 0.05 },
      { reading: -7.5, range: 10 },
      0.0125,
      0.007216878364870322,
    ],
    [
      "whichever is greater: the absolute part",
      { percentOfReading: 5, absolute: 0.02, combine: "greater" },
      { reading: 0.3 },
      0.02,
      0.02 / Math.sqrt(3),
    ],
    [
      "whichever is greater: the percentage",
      { percentOfReading: 1, absolute: 0.05, combine: "greater" },
      { reading: -8 },
      0.08,
      0.08 / Math.sqrt(3),
    ],
    [
      "counts of the last digit",
      { percentOfReading: 0.5, digits: 3 },
      { reading: 10, resolution: 0.01 },
      0.08,
      0.08 / Math.sqrt(3),
    ],
    [
      "three degrees outside the band in which it holds",
      {
        percentOfReading: 0.06,
        percentOfRange: 0.03,
        outside: { percentOfReading: 0.006, percentOfRange: 0.003, by: 3 },
      },
      { reading: 63.512, range: 100 },
      0.08853936,
      0.051118223329877185,
    ],
    ["limits that were expanded with k = 2", { absolute: 0.1, coverageFactor: 2 }, { reading: 1 }, 0.1, 0.05],
  ])("%s", (_what, statement, at, limit, standard) => {
    const stated = statedAccuracy(statement as never, at);
    expect(stated.limit).toBe(limit);
    expect(stated.standard / standard).toBeCloseTo(1, 14);
  });

  test.each([
    [{}, { reading: 1 }, "percentOfReading"],
    [{ percentOfRange: 1 }, { reading: 1 }, "range"],
    [{ digits: 1 }, { reading: 1 }, "resolution"],
    [{ absolute: -1 }, { reading: 1 }, "absolute"],
    [{ absolute: 1, combine: "least" }, { reading: 1 }, "combine"],
    [{ absolute: 1, coverageFactor: 0 }, { reading: 1 }, "coverageFactor"],
    [{ absolute: 1, percent: 1 }, { reading: 1 }, "percent"],
    [{ absolute: 1 }, { reading: Number.NaN }, "reading"],
  ])("%j at %j is refused by name", (statement, at, path) => {
    expect(problemsOf(() => statedAccuracy(statement as never, at))).toMatchObject([{ path }]);
  });
});

describe("a least-squares line", () => {
  // JCGM 100:2008 H.3, table H.6 and H.3.3, H.3.4: calibration of a thermometer, t0 = 20 °C; from memory (sure).
  const temperatures = [21.521, 22.012, 22.512, 23.003, 23.507, 23.999, 24.513, 25.002, 25.503, 26.01, 26.511];
  const corrections = [-0.171, -0.169, -0.166, -0.159, -0.164, -0.165, -0.156, -0.157, -0.159, -0.161, -0.16];
  const gum = fitLine(temperatures.map((t, i) => ({ x: t - 20, y: corrections[i]! })));

  test("of the GUM's thermometer has the printed digits", () => {
    if (gum.kind === "none") throw new Error(gum.reason);
    expect(gum.intercept.toFixed(4)).toBe("-0.1712");
    expect(gum.interceptStandard.toFixed(4)).toBe("0.0029");
    expect(gum.slope.toFixed(5)).toBe("0.00218");
    expect(gum.slopeStandard.toFixed(5)).toBe("0.00067");
    expect(gum.correlation.toFixed(3)).toBe("-0.930");
    expect(gum.residual.toFixed(4)).toBe("0.0035");
    const at30 = valueOnLine(gum, 10);
    expect(at30.value.toFixed(4)).toBe("-0.1494");
    expect(at30.standard.toFixed(4)).toBe("0.0041");
  });

  const number = fc.double({ min: -100, max: 100, noNaN: true });
  const points = fc.uniqueArray(fc.record({ x: fc.integer({ min: -50, max: 50 }), y: number }), {
    minLength: 3,
    maxLength: 12,
    selector: ({ x }) => x,
  });

  test("through points on a line is that line", () => {
    holds(
      fc.property(points, number, number, (list, intercept, slope) => {
        const line = fitLine(list.map(({ x }) => ({ x, y: intercept + slope * x })));
        if (line.kind === "none") throw new Error(line.reason);
        expect(line.slope).toBeCloseTo(slope, 9);
        expect(line.intercept).toBeCloseTo(intercept, 8);
        expect(line.residual).toBeLessThan(1e-9);
      }),
    );
  });

  test("goes through the middle of the points, where it is known best", () => {
    holds(
      fc.property(points, (list) => {
        const line = fitLine(list);
        if (line.kind === "none") throw new Error(line.reason);
        const middle = list.reduce((sum, { x }) => sum + x, 0) / list.length;
        const { value, standard } = valueOnLine(line, middle);
        expect(value).toBeCloseTo(list.reduce((sum, { y }) => sum + y, 0) / list.length, 9);
        expect(standard).toBeCloseTo(line.residual / Math.sqrt(list.length), 6);
        expect(valueOnLine(line, middle + 1).standard).toBeGreaterThanOrEqual(standard * (1 - 1e-9));
      }),
    );
  });

  test("through points above one another is none", () => {
    expect(
      fitLine([
        { x: 1, y: 1 },
        { x: 1, y: 2 },
        { x: 1, y: 3 },
      ]),
    ).toEqual({ kind: "none", reason: "all-at-one-x" });
  });

  test.each([
    [undefined, "points"],
    [[{ x: 1, y: 1 }], "points"],
    [
      [
        { x: 1, y: 1 },
        { x: 2, y: Number.NaN },
        { x: 3, y: 1 },
      ],
      "points[1].y",
    ],
  ])("%j is refused by name", (given, path) => {
    expect(problemsOf(() => fitLine(given as never))).toMatchObject([{ path }]);
  });
});

describe("groups", () => {
  // JCGM 100:2008 H.5, table H.9: a Zener standard on ten days, five readings each; daily means and deviations seen, printed
  // results from memory (sure). Readings with these means and deviations stand for those that are not printed.
  const means = [172, 116, 13, 144, 106, 31, 60, 125, 163, 41];
  const deviations = [60, 77, 111, 101, 67, 93, 80, 73, 88, 86];
  const shape = [-Math.SQRT2, -Math.SQRT1_2, 0, Math.SQRT1_2, Math.SQRT2].map((x) => x * Math.sqrt(4 / 5));
  const days = means.map((mean, i) => shape.map((x) => mean + deviations[i]! * x));

  test("of the GUM's ten days come apart as printed", () => {
    const { mean, within, ratio, standard, between } = betweenGroups(days);
    expect(mean.toFixed(0)).toBe("97");
    expect(within.toFixed(0)).toBe("85");
    expect((standard * Math.sqrt(10)).toFixed(0)).toBe("57");
    expect(standard.toFixed(0)).toBe("18");
    // The GUM takes 128² / 85²: 2.25 from the rounded values, 2.26 from those that are not.
    expect(ratio).toBeCloseTo(2.2615192699707953, 9);
    expect(between).toBeCloseTo(42.638610567314586, 9);
  });

  test("without any scatter within there is no ratio", () => {
    expect(
      betweenGroups([
        [1, 1],
        [2, 2],
      ]),
    ).not.toHaveProperty("ratio");
  });

  test("a shift of all readings moves the mean alone; a factor scales all scatter", () => {
    const reading = fc.integer({ min: -1000, max: 1000 });
    const groups = fc.array(fc.tuple(reading, reading, reading), { minLength: 2, maxLength: 6 });
    holds(
      fc.property(groups, fc.integer({ min: -500, max: 500 }), (list, shift) => {
        fc.pre(
          list.some(([a, b, c]) => a !== b || b !== c) &&
            new Set(list.map((one) => one.reduce((x, y) => x + y))).size > 1,
        );
        const [plain, moved, scaled] = [
          list,
          list.map((one) => one.map((x) => x + shift)),
          list.map((one) => one.map((x) => 4 * x)),
        ].map(betweenGroups);
        expect(moved!.mean).toBeCloseTo(plain!.mean + shift, 9);
        expect(moved!.within).toBeCloseTo(plain!.within, 9);
        expect(scaled!.within).toBeCloseTo(4 * plain!.within, 9);
        expect(scaled!.between).toBeCloseTo(4 * plain!.between, 9);
        expect(scaled!.ratio! / plain!.ratio!).toBeCloseTo(1, 9);
      }),
    );
  });

  test.each([
    [[[1, 2]], "groups"],
    [[[1, 2], [1]], "groups[1]"],
    [
      [
        [1, 2],
        [1, Number.NaN],
      ],
      "groups[1][1]",
    ],
  ])("%j is refused by name", (given, path) => {
    expect(problemsOf(() => betweenGroups(given as never))).toMatchObject([{ path }]);
  });
});

describe("what changed", () => {
  test("is significant where it is larger than its own expanded uncertainty: 2 · √(0.03² + 0.04²) = 0.1", () => {
    const between = (value: number) =>
      changeBetween({ before: { value: 0, standard: 0.03 }, after: { value, standard: 0.04 } });
    expect(between(0.11)).toMatchObject({ significant: true });
    expect(between(0.09)).toMatchObject({ significant: false });
    expect(between(-0.11)).toMatchObject({ change: -0.11, significant: true });
    expect(changeBetween({ before: { value: 1 }, after: { value: 2 } })).toEqual({ change: 1 });
  });

  test("each stage is graded, exactly at the limit", () => {
    const { before, after } = changeBetween({
      before: { value: 1.03 },
      after: { value: 1.02 },
      band: { nominal: 1, low: 0.98, high: 1.02 },
    });
    expect([before?.verdict, after?.verdict]).toEqual(["outside", "within"]);
  });

  test("a drift per year is the slope over 365.2425 days; a third reading says how sure it is", () => {
    const day = (n: number) => new Date(Date.UTC(2020, 0, 1) + n * 86_400_000).toISOString();
    holds(
      fc.property(fc.double({ min: -1, max: 1, noNaN: true }), fc.integer({ min: 30, max: 3000 }), (perYear, days) => {
        const readings = [0, days, 2 * days].map((n) => ({ takenAt: day(n), value: 5 + (perYear * n) / 365.2425 }));
        const [two, three] = [driftPerYear(readings.slice(0, 2)), driftPerYear(readings)];
        if (two.kind === "none" || three.kind === "none") throw new Error("no drift");
        expect(two.perYear).toBeCloseTo(perYear, 9);
        expect(three.perYear).toBeCloseTo(perYear, 9);
        expect(three.standard).toBeLessThan(1e-9);
        expect(two).not.toHaveProperty("standard");
      }),
    );
    expect(
      driftPerYear([
        { takenAt: "2026-01-01", value: 1 },
        { takenAt: "2026-01-01", value: 2 },
      ]),
    ).toEqual({ kind: "none", reason: "all-on-one-day" });
  });

  test.each([
    [() => changeBetween({ before: { value: Number.NaN }, after: { value: 1 } }), "before.value"],
    [() => changeBetween({ before: { value: 1, standard: -1 }, after: { value: 1 } }), "before.standard"],
    [() => driftPerYear([{ takenAt: "2026-01-01", value: 1 }]), "readings"],
    [
      () =>
        driftPerYear([
          { takenAt: "soon", value: 1 },
          { takenAt: "2026-01-01", value: 1 },
        ]),
      "readings[0].takenAt",
    ],
  ])("%s is refused by name", (run, path) => {
    expect(problemsOf(run)).toMatchObject([{ path }]);
  });
});
