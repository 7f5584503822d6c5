/** The forms beside the inverse equation. */
import fc from "fast-check";
import { type Curve, operateTime } from "tripwright/curve";
import { describe, expect, test } from "vitest";
import { between } from "../support/curves.js";
import { problemsOf } from "../support/failure.js";
import { holds } from "../support/holds.js";

const time = (curve: Curve, multiple: number, preload?: number): number =>
  operateTime({ curve }, multiple, preload === undefined ? {} : { preload });

describe("excess curves", () => {
  test("are k at twice the setting, whatever the power", () => {
    holds(
      fc.property(between(0.1, 100), between(0.5, 4), (k, power) => {
        expect(time({ form: "excess", k, power }, 2)).toBe(k);
      }),
    );
  });
  test("never operate at the setting", () => {
    expect(time({ form: "excess", k: 1, power: 2 }, 1)).toBe(Number.POSITIVE_INFINITY);
  });
});

describe("energy curves", () => {
  test("let M²·t through, up to the longest time, from the smallest multiple on", () => {
    const curve = { form: "energy", k: 10, maximumTime: 500 } as const;
    expect(time(curve, 0.5)).toBe(40);
    expect(time(curve, 0.01)).toBe(500);
    expect(time(curve, 0)).toBe(Number.POSITIVE_INFINITY);
    expect(operateTime({ curve, startRatio: 0.08 }, 0.08)).toBe(Number.POSITIVE_INFINITY);
    expect(operateTime({ curve, minimumTime: 0.25 }, 100)).toBe(0.25);
  });
});

describe("thermal curves", () => {
  test("reach the level 1 of their own differential equation", () => {
    holds(
      fc.property(between(1.001, 50), between(0, 0.999), between(1, 5000), (multiple, preload, tau) => {
        const t = time({ form: "thermal", tau }, multiple, preload);
        const level = multiple ** 2 + (preload ** 2 - multiple ** 2) * Math.exp(-t / tau);
        // The exponential of t/tau takes the rounding of t/tau with it.
        expect(Math.abs(level - 1)).toBeLessThan(1e-14 * multiple ** 2);
      }),
      1000,
    );
  });
  test("are faster the warmer they are, and instantly there near full preload", () => {
    const curve = { form: "thermal", tau: 600 } as const;
    expect(time(curve, 2, 0.9)).toBeLessThan(time(curve, 2, 0.5));
    const near = 1 - 2 ** -40;
    expect(time(curve, 2, near) / ((600 * ((1 - near) * (1 + near))) / 3)).toBeCloseTo(1, 12);
  });
  test("refuse a preload at which they would operate, and other curves refuse any", () => {
    expect(problemsOf(() => time({ form: "thermal", tau: 1 }, 2, 1))).toMatchObject([{ path: "preload" }]);
    expect(problemsOf(() => time({ form: "definite", time: 1 }, 2, 0.5))).toMatchObject([
      { path: "preload", code: "not-applicable" },
    ]);
    expect(problemsOf(() => operateTime({ curve: "iec-inverse" }, 2, { load: 1 } as never))).toMatchObject([
      { path: "load" },
    ]);
  });
});

describe("table curves", () => {
  const points = [
    { multiple: 2, time: 10 },
    { multiple: 8, time: 2.5 },
    { multiple: 20, time: 2.5 },
  ];
  const table = { form: "table", points } as const;

  test("are exact at their points and straight between them on double-logarithmic axes", () => {
    for (const point of points) expect(time(table, point.multiple)).toBe(point.time);
    expect(time(table, 4)).toBeCloseTo(5, 14); // half way from 2 to 8 in logarithms, half way from 10 to 2.5
    expect(time(table, 15)).toBe(2.5);
  });
  test("never rise", () => {
    holds(
      fc.property(between(2, 20), between(0, 1), (m, share) => {
        expect(time(table, m)).toBeGreaterThanOrEqual(time(table, m + (20 - m) * share) * (1 - 1e-15));
      }),
    );
  });
  test.each([1.99, 20.01])("refuse to guess outside, at %d", (multiple) => {
    expect(problemsOf(() => time(table, multiple))).toMatchObject([{ code: "out-of-range", path: "multiple" }]);
  });
  test.each([
    ["a single point", points.slice(0, 1), "curve.points"],
    ["multiples that do not rise", [points[0], points[0]], "curve.points[1].multiple"],
    ["times that rise", [points[0], { multiple: 3, time: 11 }], "curve.points[1].time"],
    ["a time of zero", [points[0], { multiple: 3, time: 0 }], "curve.points[1].time"],
  ])("refuse %s", (_what, bad, path) => {
    expect(problemsOf(() => time({ form: "table", points: bad as never }, 2))).toMatchObject([{ path }]);
  });
});

test.each([
  ["excess without k", { form: "excess", k: 0, power: 1 }, "curve.k"],
  ["excess without power", { form: "excess", k: 1, power: 0 }, "curve.power"],
  ["energy without k", { form: "energy", k: -1 }, "curve.k"],
  ["energy with a longest time of zero", { form: "energy", k: 1, maximumTime: 0 }, "curve.maximumTime"],
  ["thermal without tau", { form: "thermal", tau: 0 }, "curve.tau"],
  ["thermal without cooling", { form: "thermal", tau: 1, coolingTau: 0 }, "curve.coolingTau"],
  ["inverse with a reset of zero", { form: "inverse", k: 1, alpha: 1, c: 0, reset: 0 }, "curve.reset"],
])("%s is refused by name", (_what, curve, path) => {
  expect(problemsOf(() => time(curve as Curve, 2))).toMatchObject([{ path }]);
});
