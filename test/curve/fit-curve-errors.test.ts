import { describe, expect, test } from "vitest";
import { fitCurve } from "../../src/curve/fit-curve.js";
import { problemsOf } from "../support/failure.js";
import { asLevels, onCurve, overNames } from "./injections.js";

type Given = Parameters<typeof fitCurve>;

const reasons = (...given: Given) =>
  new Set(fitCurve(...given).map((fit) => (fit.kind === "none" ? fit.reason : "found")));
const free = { pickup: "free" } as const;
const constants = { curves: [], constants: "free" } as const;

describe("no fit has a reason", () => {
  test("too-few-points: as many different multiples as unknowns, and one point more where the pickup is free", () => {
    const three = onCurve("iec-inverse", 1, [2, 4, 8]);
    expect(reasons([])).toEqual(new Set(["too-few-points"]));
    expect(reasons(asLevels(three.slice(0, 2), 4), free)).toEqual(new Set(["too-few-points"]));
    expect(
      reasons(
        asLevels(
          [0, 0, 0].map(() => three[0]!),
          4,
        ),
        free,
      ),
    ).toEqual(new Set(["too-few-points"]));
    expect(reasons(three, constants)).toEqual(new Set(["too-few-points"]));
    expect(reasons(asLevels([...three, ...three], 4), { ...constants, ...free })).toEqual(new Set(["too-few-points"]));
    expect(reasons(three.slice(0, 1))).toEqual(new Set(["found"]));
    expect(reasons(asLevels(three, 4), { ...free, curves: ["iec-inverse"] })).toEqual(new Set(["found"]));
  });

  test("wrong-side: a point where the function does not operate", () => {
    for (const multiple of [0, 0.7, 1]) {
      const points = [
        { multiple, time: 1 },
        { multiple: 5, time: 0.5 },
      ];
      expect(reasons(points)).toEqual(new Set(["wrong-side"]));
    }
    expect(reasons([{ multiple: 1, time: 1 }], { curves: ["undervoltage-inverse"] })).toEqual(new Set(["wrong-side"]));
    const levels = [0, 4, 8].map((level) => ({ level, time: 1 / (1 + level) }));
    expect(reasons(levels, free)).toEqual(new Set(["wrong-side"]));
  });

  test("not-inverse: the times rise with the multiple", () => {
    const rising = [2, 3, 5, 8].map((multiple) => ({ multiple, time: multiple }));
    expect(reasons(rising, constants)).toEqual(new Set(["not-inverse"]));
  });

  test("undetermined: times that do not depend on the level put the pickup anywhere", () => {
    const level = [4, 6, 9, 20].map((x) => ({ level: x, time: 0.3 }));
    expect(reasons(level, free)).toEqual(new Set(["undetermined"]));
    const definite = { form: "definite", time: 0.3 } as const;
    expect(reasons(level, { ...free, curves: [definite] })).toEqual(new Set(["undetermined"]));
  });

  test("undetermined: a pickup that nobody would set, a hundred times below what was tested", () => {
    const far = asLevels(onCurve("iec-very-inverse", 1, [150, 400, 3000]), 0.01);
    expect(reasons(far, { ...free, curves: ["iec-very-inverse"] })).toEqual(new Set(["undetermined"]));
    const near = asLevels(onCurve("iec-very-inverse", 1, [90, 400, 3000]), 0.01);
    expect(reasons(near, { ...free, curves: ["iec-very-inverse"] })).toEqual(new Set(["found"]));
  });

  test("a candidate without a fit is named, and comes after those that fit", () => {
    const points = onCurve("iec-inverse", 1, [2, 4, 8]);
    const fits = fitCurve(points, { curves: ["undervoltage-inverse", "iec-inverse"], constants: "free" });
    expect(fits.map(({ kind, curve }) => [kind, curve])).toEqual([
      ["found", "iec-inverse"],
      ["none", "undervoltage-inverse"],
      ["none", undefined],
    ]);
    expect(fits[1]).toEqual({ kind: "none", curve: "undervoltage-inverse", reason: "wrong-side" });
    expect(fitCurve(points)).toHaveLength(overNames.length);
  });
});

describe("input that is wrong is refused with its place", () => {
  const point = { multiple: 3, time: 1 };
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
    expect(wrong("points")).toEqual([["wrong-type", "points"]]);
  });

  test("uncertainties: all above 0, and of all points or none", () => {
    const sure = { ...point, uncertainty: 0.01 };
    expect(wrong([sure, { ...point, uncertainty: 0 }])).toEqual([["out-of-range", "points[1].uncertainty"]]);
    expect(wrong([point, sure])).toEqual([["missing", "points[0].uncertainty"]]);
    expect(wrong([sure, point])).toEqual([["missing", "points[1].uncertainty"]]);
  });

  test("options and candidates", () => {
    expect(wrong([point], { pickup: 4 })).toEqual([["unknown-name", "pickup"]]);
    expect(wrong([point], { constants: "open" })).toEqual([["unknown-name", "constants"]]);
    expect(wrong([point], { curve: "iec-inverse" })).toEqual([["unknown-key", "curve"]]);
    expect(wrong([point], { curves: ["iec-inverse", "iec-invers"] })).toEqual([["unknown-name", "curves[1]"]]);
    const bad = { form: "inverse", k: 0, alpha: 1, c: 0 };
    expect(wrong([point], { curves: ["iec-inverse", bad] })).toEqual([["out-of-range", "curves[1].k"]]);
  });

  test("tables: outside them nothing is guessed, and a free pickup would lead outside", () => {
    const table = {
      form: "table",
      points: [
        { multiple: 2, time: 10 },
        { multiple: 20, time: 1 },
      ],
    };
    expect(wrong([point, { multiple: 21, time: 1 }], { curves: [table] })).toEqual([
      ["out-of-range", "points[1].multiple"],
    ]);
    const levels = asLevels(onCurve("iec-inverse", 1, [3, 4, 5]), 4);
    expect(wrong(levels, { ...free, curves: [table] })).toEqual([["not-applicable", "curves[0]"]]);
  });

  test("nothing that was given is changed", () => {
    const points = Object.freeze([Object.freeze({ ...point, note: "as found" })]);
    const options = Object.freeze({ curves: Object.freeze(["iec-inverse"] as const) });
    expect(() => fitCurve(points, options)).not.toThrow();
  });
});
