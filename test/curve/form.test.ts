import { type Curve, type CurveName, curveNames, curveSide } from "tripwright/curve";
import { describe, expect, test } from "vitest";
import { problemsOf } from "../support/failure.js";

describe("the side on which a curve operates", () => {
  const definite = { form: "definite", time: 1 } as const;

  test("follows from its form, and is given for a definite time", () => {
    const constants = { k: 1, alpha: 1, c: 0 };
    expect(curveSide({ form: "inverse", ...constants })).toBe("over");
    expect(curveSide({ form: "under", ...constants })).toBe("under");
    expect(curveSide(definite)).toBe("over");
    for (const side of ["over", "under"] as const) expect(curveSide({ ...definite, side })).toBe(side);
  });

  test("of the standard curves is over, but for the undervoltage curve", () => {
    for (const name of curveNames) expect(curveSide(name)).toBe(name === "undervoltage-inverse" ? "under" : "over");
  });

  test("is refused for a curve that is none, with the path of what is wrong", () => {
    const good = { form: "inverse", k: 1, alpha: 1, c: 0 };
    const rows: readonly (readonly [unknown, string, string])[] = [
      [undefined, "curve", "missing"],
      [null, "curve", "wrong-type"],
      [[good], "curve", "wrong-type"],
      [5, "curve", "wrong-type"],
      [{}, "curve.form", "unknown-name"],
      [{ ...good, form: "constructor" }, "curve.form", "unknown-name"],
      [{ ...good, k: 0 }, "curve.k", "out-of-range"],
      [{ ...good, k: undefined }, "curve.k", "missing"],
      [{ ...good, k: "0.14" }, "curve.k", "wrong-type"],
      [{ ...good, alpha: 0 }, "curve.alpha", "out-of-range"],
      [{ ...good, alpha: -1 }, "curve.alpha", "out-of-range"],
      [{ ...good, alpha: Number.POSITIVE_INFINITY }, "curve.alpha", "not-finite"],
      [{ ...good, c: -0.1 }, "curve.c", "out-of-range"],
      [{ ...good, form: "under", c: Number.NaN }, "curve.c", "not-finite"],
      [{ ...definite, time: -1 }, "curve.time", "out-of-range"],
      [{ form: "definite" }, "curve.time", "missing"],
      [{ ...definite, side: "both" }, "curve.side", "unknown-name"],
    ];
    for (const [curve, path, code] of rows)
      expect(problemsOf(() => curveSide(curve as Curve))).toMatchObject([{ path, code }]);
  });

  test("is refused for points that are none, with a problem and not a slip of the code", () => {
    const point = { multiple: 2, time: 1 };
    for (const points of [
      undefined,
      null,
      "ab",
      { length: 2 },
      [point],
      [point, null],
      [undefined, point],
      [point, 5],
    ]) {
      const [problem] = problemsOf(() => curveSide({ form: "table", points } as never));
      expect(problem?.path).toMatch(/^curve\.points/);
    }
  });

  test("is refused for a name that no curve has, at the path of the curve", () => {
    for (const name of ["iec", "IEC-inverse", "constructor", "__proto__", ""])
      expect(problemsOf(() => curveSide(name as CurveName))).toMatchObject([{ path: "curve", code: "unknown-name" }]);
  });

  test("does not mind keys beyond those of a curve, which is data", () => {
    expect(curveSide({ form: "inverse", k: 1, alpha: 1, c: 0, note: "feeder" } as Curve)).toBe("over");
  });
});
