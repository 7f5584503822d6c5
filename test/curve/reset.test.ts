import fc from "fast-check";
import { type CurveSetting, resetTime } from "tripwright/curve";
import { describe, expect, test } from "vitest";
import { between } from "../support/curves.js";
import { problemsOf } from "../support/failure.js";
import { holds } from "../support/holds.js";

const disk = (time: number): CurveSetting => ({ curve: "iec-inverse", reset: { form: "disk", time } });

describe("reset times", () => {
  test("of a disk are t_r without current, grow towards the setting, and scale with the multiplier", () => {
    expect(resetTime(disk(10), 0)).toBe(10);
    holds(
      fc.property(between(0, 0.99), between(0, 0.009), between(0.1, 10), (multiple, more, multiplier) => {
        const time = resetTime(disk(10), multiple);
        // Two multiples a rounding apart may have times a rounding apart the other way.
        expect(resetTime(disk(10), multiple + more)).toBeGreaterThanOrEqual(time * (1 - 2 * Number.EPSILON));
        expect(resetTime({ ...disk(10), multiplier }, multiple) / (multiplier * time)).toBeCloseTo(1, 14);
      }),
    );
  });

  test.each([
    ["a disk at the setting never resets", disk(10), 1, Number.POSITIVE_INFINITY],
    ["nor above its dropout", { ...disk(10), dropoutRatio: 0.9 }, 0.95, Number.POSITIVE_INFINITY],
    [
      "nor a disk that starts late, between its setting and its start",
      { ...disk(10), startRatio: 1.2 },
      1.1,
      Number.POSITIVE_INFINITY,
    ],
    ["without a word, a curve without a constant resets at once", { curve: "iec-inverse" }, 0.5, 0],
    [
      "an under function resets above its dropout",
      { curve: "undervoltage-inverse", dropoutRatio: 1.05, reset: { form: "definite", time: 0.1 } },
      1.06,
      0.1,
    ],
    ["and not below it", { curve: "undervoltage-inverse", dropoutRatio: 1.05 }, 1.04, Number.POSITIVE_INFINITY],
    [
      "a thermal image that stays warm never releases",
      { curve: { form: "thermal", tau: 60 }, reset: { form: "cooling", release: 0.5 } },
      0.8,
      Number.POSITIVE_INFINITY,
    ],
  ] as const)("%s", (_what, setting, multiple, expected) => {
    expect(resetTime(setting, multiple)).toBe(expected);
  });

  test.each([
    ["a disk whose constant nobody gives", { curve: "iec-inverse", reset: { form: "disk" } }, 0, "reset.time"],
    [
      "a disk of an under function",
      { curve: "undervoltage-inverse", reset: { form: "disk", time: 1 } },
      2,
      "reset.form",
    ],
    ["an unknown reset", { curve: "iec-inverse", reset: { form: "slow" } }, 0, "reset.form"],
    [
      "a release of 1",
      { curve: { form: "thermal", tau: 60 }, reset: { form: "cooling", release: 1 } },
      0,
      "reset.release",
    ],
    [
      "cooling of what is not thermal",
      { curve: "iec-inverse", reset: { form: "cooling", release: 0.5 } },
      0,
      "reset.form",
    ],
    [
      "a thermal image that is to drop at once",
      { curve: { form: "thermal", tau: 60 }, reset: { form: "instantaneous" } },
      0,
      "reset.form",
    ],
    ["a thermal image without its release", { curve: { form: "thermal", tau: 60 } }, 0, "reset"],
    ["a dropout above the start of an over function", { curve: "iec-inverse", dropoutRatio: 1.05 }, 0, "dropoutRatio"],
    [
      "a dropout below the start of an under function",
      { curve: "undervoltage-inverse", dropoutRatio: 0.95 },
      2,
      "dropoutRatio",
    ],
    ["a negative multiple", { curve: "iec-inverse" }, -1, "multiple"],
  ])("%s is refused by name", (_what, setting, multiple, path) => {
    expect(problemsOf(() => resetTime(setting as CurveSetting, multiple))).toMatchObject([{ path }]);
  });
});
