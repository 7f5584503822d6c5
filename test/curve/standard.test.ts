import { type Curve, type CurveName, curveNames, operateTime, standardCurve } from "tripwright/curve";
import { describe, expect, test } from "vitest";
import { problemsOf } from "../support/failure.js";

describe("the standard curves", () => {
  test("have different names, each of which finds constants that the equation accepts", () => {
    expect(new Set(curveNames).size).toBe(curveNames.length);
    for (const name of curveNames) {
      const multiple = name === "undervoltage-inverse" ? 0.5 : 2;
      expect(operateTime({ curve: name }, multiple)).toBe(operateTime({ curve: standardCurve(name) }, multiple));
      expect(operateTime({ curve: name }, multiple)).toBeGreaterThan(0);
    }
  });

  test("are found by their own names only", () => {
    for (const name of ["", "inverse", "constructor", "toString", "__proto__", undefined, null, 1]) {
      const [problem] = problemsOf(() => standardCurve(name as CurveName));
      expect(problem).toMatchObject({ code: "unknown-name", path: "name" });
      for (const known of curveNames) expect(problem?.expected).toContain(known);
    }
  });

  test("cannot be changed for everybody by whoever got one", () => {
    const before = operateTime({ curve: "iec-inverse" }, 2);
    const curve = standardCurve("iec-inverse") as { -readonly [K in keyof Curve]: unknown } & { k: number };
    const k = curve.k;
    try {
      curve.k = 1;
    } catch {
      // A frozen object refuses: that is one way to keep it.
    }
    const after = operateTime({ curve: "iec-inverse" }, 2);
    if (!Object.isFrozen(curve)) curve.k = k; // so that no other test suffers
    expect(after).toBe(before);
    expect(() => (curveNames as CurveName[]).push("iec-inverse")).toThrow(TypeError);
  });
});
