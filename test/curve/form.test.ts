import fc from "fast-check";
import { type Curve, type CurveName, curveNames, curveSide } from "tripwright/curve";
import { describe, expect, test } from "vitest";
import { powerMinusOne } from "../../src/curve/power.js";
import { exactly, ulpsOff } from "../base/reference.js";
import { problemsOf } from "../support/failure.js";
import { holds } from "../support/holds.js";

describe("M^alpha − 1", () => {
  const alphas = fc.oneof(fc.constantFrom(0.02, 0.04, 1, 2), fc.double({ min: 0.001, max: 4, noNaN: true }));
  const off = (multiple: number, alpha: number) =>
    ulpsOff(powerMinusOne(multiple, alpha), exactly(multiple).pow(exactly(alpha)).minus(1));

  test("keeps its digits near M = 1, above and below", () => {
    const beyond = fc.tuple(fc.constantFrom(-1, 1), fc.double({ min: -15, max: -1, noNaN: true }));
    holds(
      fc.property(beyond, alphas, ([sign, power], alpha) => {
        // One unit each from logarithm, product and expm1; a unit of one may be two of the next.
        expect(off(1 + sign * 10 ** power, alpha)).toBeLessThanOrEqual(4);
      }),
      500,
    );
  });

  test("is alpha times the smallest step beside 1, to first order", () => {
    holds(
      fc.property(alphas, (alpha) => {
        expect(powerMinusOne(1 + 2 ** -52, alpha) * 2 ** 52).toBeCloseTo(alpha, 12);
        expect(powerMinusOne(1 - 2 ** -53, alpha) * 2 ** 53).toBeCloseTo(-alpha, 12);
      }),
    );
  });

  test("is 0 at 1, −1 at 0, and whole where its powers are", () => {
    holds(
      fc.property(alphas, (alpha) => {
        expect(powerMinusOne(1, alpha)).toBe(0);
        expect(powerMinusOne(0, alpha)).toBe(-1);
      }),
    );
    for (const multiple of [2, 3, 7, 20, 1000]) {
      expect(powerMinusOne(multiple, 1)).toBe(multiple - 1);
      expect(powerMinusOne(multiple, 2)).toBe(multiple * multiple - 1);
    }
  });
});

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

  test("is refused for a name that no curve has, at the path of the curve", () => {
    for (const name of ["iec", "IEC-inverse", "constructor", "__proto__", ""])
      expect(problemsOf(() => curveSide(name as CurveName))).toMatchObject([{ path: "curve", code: "unknown-name" }]);
  });

  test("does not mind keys beyond those of a curve, which is data", () => {
    expect(curveSide({ form: "inverse", k: 1, alpha: 1, c: 0, note: "feeder" } as Curve)).toBe("over");
  });
});
