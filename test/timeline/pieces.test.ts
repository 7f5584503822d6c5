import { Decimal } from "decimal.js";
import fc from "fast-check";
import { levels, linearRamp, staircase, stepsWithRest } from "tripwright/timeline";
import { describe, expect, test } from "vitest";
import { typedDecimals } from "../support/arbitraries.js";
import { problemsOf } from "../support/failure.js";
import { holds } from "../support/holds.js";

const D = Decimal.clone({ defaults: true, precision: 100 });

const level = typedDecimals({ digits: 4, places: 2 });
const time = typedDecimals({ digits: 4, places: 3, min: 1 });
// At most 1,000 levels: 2 · 9999 over 20.
const grid = fc.record({ from: level, to: level, step: typedDecimals({ digits: 4, places: 0, min: 20 }) });
const texts = <K extends string>(typed: Record<K, { text: string }>): Record<K, string> =>
  Object.fromEntries(Object.entries<{ text: string }>(typed).map(([key, { text }]) => [key, text])) as Record<
    K,
    string
  >;

const pulses = { rest: 0, restTime: 1, from: 1, to: 2, step: 1, hold: 1 } as const;

describe("staircase", () => {
  test("holds every level for the dwell, the clamped last one too", () => {
    holds(
      fc.property(grid, time, (typed, dwell) => {
        const range = texts(typed);
        expect(staircase({ ...range, dwell: dwell.text })).toEqual(
          levels(range).map((x) => ({ duration: Number(dwell.text), from: x, to: x })),
        );
      }),
      100,
    );
  });

  test("by a rate holds every level for the double nearest to step/rate, also before a shorter last step", () => {
    holds(
      fc.property(grid, time, (typed, rate) => {
        const range = texts(typed);
        const duration = new D(range.step).div(rate.text).toNumber();
        expect(staircase({ ...range, rate: rate.text })).toEqual(
          levels(range).map((x) => ({ duration, from: x, to: x })),
        );
      }),
      100,
    );
    // A hundredth at a third a second; the third is typed with more digits than a double has.
    expect(staircase({ from: 50, to: 52, step: 0.01, rate: "0.3333333333333333333333" })[0]?.duration).toBe(0.03);
    expect(staircase({ from: 50, to: 52, step: 0.01, rate: 1 / 3 })[0]?.duration).toBe(0.03);
  });

  test.each([
    ["both a dwell and a rate", { dwell: 1, rate: 1 }, "conflict", "rate"],
    ["neither", {}, "missing", "dwell"],
    ["a rate of 0", { rate: 0 }, "out-of-range", "rate"],
    ["a rate at which a step takes no time", { rate: "1e300", step: "1e-300" }, "out-of-range", "rate"],
    ["a step of 0 at a rate", { rate: 1, step: 0 }, "out-of-range", "step"],
    ["a billion levels", { rate: 1, step: 1e-9 }, "too-many", "step"],
  ])("with %s is refused by name", (_what, how, code, path) => {
    expect(problemsOf(() => staircase({ from: 1, to: 2, step: 0.1, ...how } as never))).toMatchObject([{ code, path }]);
  });

  test("a single level is held where both ends are equal", () => {
    expect(staircase({ from: 4, to: 4, step: 1, dwell: "0.5" })).toEqual([{ duration: 0.5, from: 4, to: 4 }]);
  });

  test.each([0, -1, Number.NaN, "0,5"])("a dwell of %s is refused", (dwell) => {
    expect(problemsOf(() => staircase({ from: 0, to: 1, step: 1, dwell }))).toMatchObject([{ path: "dwell" }]);
  });
});

describe("linearRamp", () => {
  test("lasts the double nearest to |to − from| / rate, from one end to the other", () => {
    holds(
      fc.property(level, level, time, (from, to, rate) => {
        const duration = new D(to.text).minus(from.text).abs().div(rate.text);
        const pieces = linearRamp({ from: from.text, to: to.text, rate: rate.text });
        const piece = { duration: Number(duration.toString()), from: Number(from.text), to: Number(to.text) };
        expect(pieces).toEqual(duration.isZero() ? [] : [piece]);
      }),
    );
  });

  test("between equal ends there is nothing to move", () => {
    expect(linearRamp({ from: 4, to: "4.0", rate: 1 })).toEqual([]);
  });

  test("takes as long down as up", () => {
    holds(
      fc.property(level, level, time, (a, b, rate) => {
        const up = linearRamp({ from: a.text, to: b.text, rate: rate.text });
        const down = linearRamp({ from: b.text, to: a.text, rate: rate.text });
        expect(down).toEqual(up.map(({ duration, from, to }) => ({ duration, from: to, to: from })));
      }),
    );
  });

  test.each([0, -0.5, Number.NaN, Number.POSITIVE_INFINITY])("a rate of %s is refused", (rate) => {
    expect(problemsOf(() => linearRamp({ from: 50, to: 49, rate }))).toMatchObject([{ path: "rate" }]);
  });

  test("a rate at which a movement takes no time is refused", () => {
    expect(problemsOf(() => linearRamp({ from: 0, to: "1e-300", rate: "1e300" }))).toMatchObject([{ path: "rate" }]);
  });

  test("an end that is not finite is refused by name", () => {
    expect(problemsOf(() => linearRamp({ from: 50, to: Number.NaN, rate: 1 }))).toMatchObject([{ path: "to" }]);
    expect(problemsOf(() => linearRamp({ from: "x", to: 50, rate: 1 }))).toMatchObject([{ path: "from" }]);
  });
});

test.each([
  ["a dwell", () => staircase({ from: 0, to: 1, step: 1, dwell: 0 }), "dwell", "a time above 0 s"],
  ["a rest", () => stepsWithRest({ ...pulses, restTime: 0 }), "restTime", "a time above 0 s"],
  ["a pulse", () => stepsWithRest({ ...pulses, hold: 0 }), "hold", "a time above 0 s"],
])("%s of no time is refused with the unit of what was expected", (_what, work, path, expected) => {
  expect(problemsOf(work)).toMatchObject([{ code: "out-of-range", path, expected }]);
});

test("a time that no double holds is the fault of the rate", () => {
  expect(problemsOf(() => linearRamp({ from: 0, to: 1e308, rate: 1e-10 }))).toMatchObject([
    { code: "out-of-range", path: "rate", expected: "a result within the range of a double" },
  ]);
});

describe("stepsWithRest", () => {
  test("alternates rest and level, begins and ends at rest, and leaves no level out", () => {
    holds(
      fc.property(grid, level, time, time, (typed, low, pause, pulse) => {
        const range = texts(typed);
        const pieces = stepsWithRest({ ...range, rest: low.text, restTime: pause.text, hold: pulse.text });
        const rests = pieces.filter((_, i) => i % 2 === 0);
        const pulses = pieces.filter((_, i) => i % 2 === 1);
        const rest = Number(low.text);
        expect(pulses).toEqual(levels(range).map((x) => ({ duration: Number(pulse.text), from: x, to: x })));
        expect(rests).toEqual(
          Array.from({ length: pulses.length + 1 }, () => ({ duration: Number(pause.text), from: rest, to: rest })),
        );
      }),
      100,
    );
  });

  test.each([
    ["restTime", 0],
    ["restTime", Number.NaN],
    ["hold", -0.1],
    ["rest", Number.POSITIVE_INFINITY],
    ["rest", "0,1"],
  ])("%s %s is refused by name", (path, value) => {
    const steps = { rest: 0, restTime: 1, from: 1, to: 2, step: 1, hold: 1, [path]: value };
    expect(problemsOf(() => stepsWithRest(steps))).toMatchObject([{ path }]);
  });

  test("a billion pulses are refused with their count", () => {
    const steps = { rest: 0, restTime: 1, from: 1, to: 2, step: 1e-9, hold: 1 };
    expect(problemsOf(() => stepsWithRest(steps))).toMatchObject([
      { code: "too-many", path: "step", received: expect.stringContaining("1000000001") },
    ]);
  });
});
