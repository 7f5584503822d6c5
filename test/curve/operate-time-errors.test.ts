import { type CurveSetting, operateTime } from "tripwright/curve";
import { describe, expect, test } from "vitest";
import { problemsOf } from "../support/failure.js";

const OVER: CurveSetting = { curve: "iec-inverse" };
const UNDER: CurveSetting = { curve: "undervoltage-inverse" };

/** The one problem of an operate time, as `path code`. */
function problem(setting: unknown, multiple: unknown = 2): string {
  const [first, ...more] = problemsOf(() => operateTime(setting as CurveSetting, multiple as number));
  expect(more).toEqual([]);
  return `${first?.path} ${first?.code}`;
}

describe("an operate time is refused", () => {
  test("for a multiple that is no finite number of 0 or more, never and at once included", () => {
    for (const setting of [OVER, UNDER, { curve: { form: "definite", time: 1 } }]) {
      expect(problem(setting, -0.1)).toBe("multiple out-of-range");
      expect(problem(setting, Number.NaN)).toBe("multiple not-finite");
      expect(problem(setting, Number.POSITIVE_INFINITY)).toBe("multiple not-finite");
      expect(problem(setting, "2")).toBe("multiple wrong-type");
      expect(problem(setting, null)).toBe("multiple wrong-type");
      expect(problemsOf(() => operateTime(setting as CurveSetting, undefined as never))).toMatchObject([
        { path: "multiple", code: "missing" },
      ]);
    }
  });

  test("for settings that are no object or have a key that is none", () => {
    expect(problem(undefined)).toBe(" missing");
    expect(problem(null)).toBe(" wrong-type");
    expect(problem("iec-inverse")).toBe(" wrong-type");
    expect(problem([OVER])).toBe(" wrong-type");
    expect(problem({ ...OVER, timeMultiplier: 0.2 })).toBe("timeMultiplier unknown-key");
    expect(problem({ ...OVER, constructor: 1 })).toBe("constructor unknown-key");
    expect(problem(JSON.parse('{"curve": "iec-inverse", "__proto__": 1}'))).toBe("__proto__ unknown-key");
  });

  test("for a curve whose constants are outside their domain, at their path", () => {
    const curve = { form: "inverse", k: 1, alpha: 1, c: 0 };
    expect(problem({})).toBe("curve missing");
    expect(problem({ curve: { ...curve, k: -1 } })).toBe("curve.k out-of-range");
    expect(problem({ curve: { ...curve, alpha: Number.NaN } })).toBe("curve.alpha not-finite");
    expect(problem({ curve: { ...curve, form: "Inverse" } })).toBe("curve.form unknown-name");
  });

  test("for a multiplier that is not above 0", () => {
    for (const multiplier of [0, -0, -1]) expect(problem({ ...OVER, multiplier })).toBe("multiplier out-of-range");
    expect(problem({ ...OVER, multiplier: Number.NaN })).toBe("multiplier not-finite");
    expect(problem({ ...OVER, multiplier: null })).toBe("multiplier wrong-type");
  });

  test("for a start on the side of the setting where the equation has no time", () => {
    for (const startRatio of [0.999, 0, -1]) expect(problem({ ...OVER, startRatio })).toBe("startRatio out-of-range");
    for (const startRatio of [1.001, 0, -1]) expect(problem({ ...UNDER, startRatio })).toBe("startRatio out-of-range");
    for (const setting of [OVER, UNDER]) {
      expect(problem({ ...setting, startRatio: Number.NaN })).toBe("startRatio not-finite");
      expect(problem({ ...setting, startRatio: "1" })).toBe("startRatio wrong-type");
      expect(operateTime({ ...setting, startRatio: 1 }, 1)).toBe(Number.POSITIVE_INFINITY);
    }
  });

  test("for a ceiling at or below the start, and for any ceiling on an under function", () => {
    for (const ceilingMultiple of [1, 0.5, 0, -20])
      expect(problem({ ...OVER, ceilingMultiple })).toBe("ceilingMultiple out-of-range");
    expect(problem({ ...OVER, startRatio: 1.5, ceilingMultiple: 1.5 })).toBe("ceilingMultiple out-of-range");
    expect(problem({ ...OVER, ceilingMultiple: Number.POSITIVE_INFINITY })).toBe("ceilingMultiple not-finite");
    expect(problem({ ...UNDER, ceilingMultiple: 20 })).toBe("ceilingMultiple not-applicable");
  });

  test("for times below 0 or not finite", () => {
    for (const key of ["minimumTime", "addedTime"]) {
      expect(problem({ ...OVER, [key]: -0.01 })).toBe(`${key} out-of-range`);
      expect(problem({ ...OVER, [key]: Number.POSITIVE_INFINITY })).toBe(`${key} not-finite`);
      expect(problem({ ...OVER, [key]: "0.1" })).toBe(`${key} wrong-type`);
    }
  });
});
