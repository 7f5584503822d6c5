import { fitCurve } from "tripwright/curve";
import { describe, expect, test } from "vitest";
import { problemsOf } from "../support/failure.js";
import { asLevels, bestOf, onCurve, overNames } from "./injections.js";

type Given = Parameters<typeof fitCurve>;

const reasons = (...given: Given) =>
  new Set(fitCurve(...given).map((fit) => (fit.kind === "none" ? fit.reason : "found")));
const free = { pickup: "free" } as const;
const constants = { curves: [], constants: "free" } as const;
const point = { multiple: 3, time: 1 };
const table = {
  form: "table",
  points: [
    { multiple: 2, time: 10 },
    { multiple: 20, time: 1 },
  ],
} as const;

describe("no fit has a reason", () => {
  test("undetermined where what the points leave open fits no double", () => {
    expect(reasons([{ ...point, standardUncertainty: 1e160 }])).toEqual(new Set(["undetermined"]));
    expect(reasons([{ ...point, standardUncertainty: 1e150 }])).toEqual(new Set(["found"]));
  });

  test("too-few-points: one for the multiplier; else one different multiple or level more than values", () => {
    const all = onCurve("iec-inverse", 1, [2, 4, 8, 16, 20]);
    const few = new Set(["too-few-points"]);
    const found = new Set(["found"]);
    const curve = { curves: ["iec-inverse"] } as const;
    expect(reasons([])).toEqual(few);
    expect(reasons(all.slice(0, 1))).toEqual(found);
    const levels = asLevels(all, 4);
    expect(reasons(levels.slice(0, 2), free)).toEqual(few);
    expect(reasons([...levels.slice(0, 2), ...levels.slice(0, 2)], free)).toEqual(few);
    expect(reasons(levels.slice(0, 3), { ...curve, ...free })).toEqual(found);
    expect(reasons(all.slice(0, 2), constants)).toEqual(few);
    expect(reasons(all.slice(0, 3), constants)).toEqual(found);
    expect(reasons(levels.slice(0, 3), { ...constants, ...free })).toEqual(few);
    expect(reasons(levels.slice(0, 4), { ...constants, ...free })).toEqual(found);
  });

  test("too-few-points: with three multiples the constants are found without c, with four also with it", () => {
    const points = onCurve("ieee-very-inverse", 1, [2, 4, 8, 16]);
    const names = (count: number) => Object.keys(bestOf(points.slice(0, count), constants).uncertainties ?? {});
    expect(names(3)).toEqual(["k", "alpha"]);
    expect(names(4)).toEqual(["k", "alpha", "c"]);
  });

  test("not-operating: a point at or below the pickup, or above that of an under function", () => {
    const never = new Set(["not-operating"]);
    for (const multiple of [0, 0.7, 1]) {
      const points = [
        { multiple, time: 1 },
        { multiple: 5, time: 0.5 },
        { multiple: 7, time: 0.4 },
      ];
      expect(reasons(points)).toEqual(never);
      expect(reasons(points, constants)).toEqual(never);
    }
    expect(reasons([{ multiple: 1, time: 1 }], { curves: ["undervoltage-inverse"] })).toEqual(never);
    // A level of 0 is below every pickup.
    const levels = [0, 4, 8].map((level) => ({ level, time: 1 / (1 + level) }));
    expect(reasons(levels, free)).toEqual(never);
    // A time of 0 cannot be scaled.
    expect(reasons([point], { curves: [{ form: "definite", time: 0 }] })).toEqual(never);
  });

  test("not-operating: a point outside a table", () => {
    expect(reasons([point], { curves: [table] })).toEqual(new Set(["found"]));
    for (const multiple of [1.9, 21])
      expect(reasons([point, { multiple, time: 1 }], { curves: [table] })).toEqual(new Set(["not-operating"]));
    const levels = asLevels(onCurve("iec-inverse", 1, [1.1, 5, 50]), 4);
    expect(reasons(levels, { ...free, curves: [table] })).toEqual(new Set(["not-operating"]));
  });

  test("undetermined: times that rise with the multiple, for free constants", () => {
    const rising = [2, 3, 5, 8].map((multiple) => ({ multiple, time: multiple }));
    expect(reasons(rising, constants)).toEqual(new Set(["undetermined"]));
  });

  test("undetermined: times that do not depend on the level put the pickup anywhere", () => {
    const level = [4, 6, 9, 20].map((x) => ({ level: x, time: 0.3 }));
    expect(reasons(level, free)).toEqual(new Set(["undetermined"]));
    const definite = { form: "definite", time: 0.3 } as const;
    expect(reasons(level, { ...free, curves: [definite] })).toEqual(new Set(["undetermined"]));
  });

  test("undetermined: a power law, whose pickup and multiplier are one", () => {
    const level = asLevels(
      [2, 3, 5, 8].map((multiple) => ({ multiple, time: 10 / multiple ** 2 })),
      7,
    );
    expect(reasons(level, { ...free, curves: [{ form: "energy", k: 1 }] })).toEqual(new Set(["undetermined"]));
  });

  test("a candidate without a fit is named, and comes after those that fit", () => {
    const points = onCurve("iec-inverse", 1, [2, 4]);
    const fits = fitCurve(points, { curves: ["undervoltage-inverse", "iec-inverse"], constants: "free" });
    expect(fits.map(({ kind, curve }) => [kind, curve])).toEqual([
      ["found", "iec-inverse"],
      ["none", "undervoltage-inverse"],
      ["none", undefined],
    ]);
    expect(fits[1]).toEqual({ kind: "none", curve: "undervoltage-inverse", reason: "not-operating" });
    expect(fits[2]).toEqual({ kind: "none", reason: "too-few-points" });
    expect(fitCurve(points)).toHaveLength(overNames.length);
  });
});

describe("input that is wrong is refused with its place", () => {
  const wrong = (...given: unknown[]) =>
    problemsOf(() => fitCurve(...(given as unknown as Given))).map(({ code, path }) => [code, path]);

  test("points", () => {
    expect(wrong([point, point, { multiple: 3, time: 0 }])).toEqual([["out-of-range", "points[2].time"]]);
    expect(wrong([point, { multiple: 3, time: -1 }])).toEqual([["out-of-range", "points[1].time"]]);
    expect(wrong([point, { multiple: 3, time: Number.NaN }])).toEqual([["not-finite", "points[1].time"]]);
    expect(wrong([point, { multiple: 3 }])).toEqual([["missing", "points[1].time"]]);
    expect(wrong([{ multiple: -1, time: 1 }])).toEqual([["out-of-range", "points[0].multiple"]]);
    expect(wrong([{ level: 3, time: 1 }])).toEqual([["missing", "points[0].multiple"]]);
    expect(wrong([point], free)).toEqual([["missing", "points[0].level"]]);
    expect(wrong([{ level: Number.POSITIVE_INFINITY, time: 1 }], free)).toEqual([["not-finite", "points[0].level"]]);
    expect(wrong([point, null])).toEqual([["wrong-type", "points[1]"]]);
    expect(wrong(new Array(2))).toEqual([["missing", "points[0]"]]);
    for (const points of ["points", null, 3, {}]) expect(wrong(points)).toEqual([["wrong-type", "points"]]);
    expect(wrong(undefined)).toEqual([["missing", "points"]]);
  });

  test("uncertainties: all above 0, and of all points or none", () => {
    const sure = { ...point, standardUncertainty: 0.01 };
    expect(wrong([sure, { ...point, standardUncertainty: 0 }])).toEqual([
      ["out-of-range", "points[1].standardUncertainty"],
    ]);
    expect(wrong([point, sure])).toEqual([["missing", "points[0].standardUncertainty"]]);
    expect(wrong([sure, point])).toEqual([["missing", "points[1].standardUncertainty"]]);
  });

  test("options and candidates", () => {
    expect(wrong([point], { pickup: 4 })).toEqual([["unknown-name", "pickup"]]);
    expect(wrong([point], { constants: "open" })).toEqual([["unknown-name", "constants"]]);
    expect(wrong([point], { curve: "iec-inverse" })).toEqual([["unknown-key", "curve"]]);
    expect(wrong([point], { curves: ["iec-inverse", "iec-invers"] })).toEqual([["unknown-name", "curves[1]"]]);
    const bad = { form: "inverse", k: 0, alpha: 1, c: 0 };
    expect(wrong([point], { curves: ["iec-inverse", bad] })).toEqual([["out-of-range", "curves[1].k"]]);
    expect(wrong([], { curves: [bad] })).toEqual([["out-of-range", "curves[0].k"]]);
    const falling = { form: "table", points: [{ multiple: 2, time: 0 }, table.points[1]] };
    expect(wrong([point], { curves: [falling] })).toEqual([["out-of-range", "curves[0].points[0].time"]]);
    for (const curve of [null, 3, undefined, {}])
      expect(wrong([point], { curves: [curve] })[0]?.[1]).toMatch(/^curves\[0\](\.form)?$/);
    for (const curves of ["iec-inverse", null, 3, {}])
      expect(wrong([point], { curves })).toEqual([["wrong-type", "curves"]]);
    for (const options of [null, 3, "free", []]) expect(wrong([point], options)[0]?.[1]).toBe("");
  });

  test("nothing that was given is changed", () => {
    const points = Object.freeze([Object.freeze({ ...point, note: "as found" })]);
    const options = Object.freeze({ curves: Object.freeze(["iec-inverse"] as const) });
    expect(() => fitCurve(points, options)).not.toThrow();
  });
});
