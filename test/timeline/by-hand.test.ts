/** Levels by rate, there and back, values stepped by hand, and what a moving level puts on a reading. */
import fc from "fast-check";
import { chooseRamp, levels, rampError, staircase, stepBy, thereAndBack } from "tripwright/timeline";
import { describe, expect, test } from "vitest";
import { problemsOf } from "../support/failure.js";
import { holds } from "../support/holds.js";

const tenths = (low: number, high: number) => fc.integer({ min: low, max: high }).map((n) => n / 10);

describe("staircases", () => {
  test("by a rate hold each level for step/rate", () => {
    // 60 V to 120 V by 0.7 V at 2 V/s: 0.35 s each
    const pieces = staircase({ from: 60, to: 120, step: 0.7, rate: 2 });
    expect(pieces.every(({ duration }) => duration === 0.35)).toBe(true);
    expect(staircase({ from: 50, to: 52, step: 0.01, rate: "0.3333333333333333333333" })[0]?.duration).toBe(0.03);
  });

  test("go there and back over the same levels, the far end once", () => {
    holds(
      fc.property(tenths(-100, 100), tenths(-100, 100), tenths(1, 30), (from, to, step) => {
        const there = levels({ from, to, step });
        const both = thereAndBack({ from, to, step, dwell: 0.1 }).map((piece) => piece.to);
        expect(both).toEqual([...there, ...there.toReversed().slice(1)]);
        expect(both).toEqual(both.toReversed());
      }),
    );
  });

  test.each([
    ["both a dwell and a rate", { dwell: 1, rate: 1 }, "rate"],
    ["neither", {}, "dwell"],
    ["a rate of 0", { rate: 0 }, "rate"],
  ])("with %s are refused by name", (_what, how, path) => {
    expect(problemsOf(() => staircase({ from: 1, to: 2, step: 0.1, ...how } as never))).toMatchObject([{ path }]);
  });
});

describe("stepping by hand", () => {
  const counts = fc.integer({ min: -1000, max: 1000 });

  test("as many steps back lead to where it was, to the last digit", () => {
    holds(
      fc.property(tenths(-1000, 1000), tenths(1, 70), counts, (value, step, count) => {
        const there = stepBy(value, { step, count });
        expect(stepBy(there.value, { step, count: -count })).toEqual({ value: value + 0, turns: 0 });
        expect(there.value).toBe(Number(((value * 10 + Math.round(step * 10) * count) / 10).toFixed(1)) + 0);
      }),
    );
  });

  test("a limit stops it and is said; on the limit itself nothing was stopped", () => {
    expect(stepBy(4.9, { step: 0.1, maximum: 5 })).toEqual({ value: 5, turns: 0 });
    expect(stepBy(4.95, { step: 0.1, maximum: 5 })).toEqual({ value: 5, turns: 0, limited: "maximum" });
    expect(stepBy(0.05, { step: 0.1, count: -1, minimum: 0 })).toEqual({ value: 0, turns: 0, limited: "minimum" });
  });

  test("an angle goes round and its turns are counted: value + 360 · turns is what it would be", () => {
    holds(
      fc.property(tenths(0, 3599), tenths(1, 900), counts, (value, step, count) => {
        const { value: at, turns } = stepBy(value, { step, count, wrap: 360 });
        expect(at).toBeGreaterThanOrEqual(0);
        expect(at).toBeLessThan(360);
        expect(Math.round((at + 360 * turns) * 10)).toBe(Math.round(value * 10) + Math.round(step * 10) * count);
      }),
    );
    expect(stepBy(0, { step: 1, count: -1, wrap: 360 })).toEqual({ value: 359, turns: -1 });
  });

  test.each([
    [{ step: 0 }, "step"],
    [{ step: 1, count: 0.5 }, "count"],
    [{ step: 1, minimum: 2, maximum: 1 }, "maximum"],
    [{ step: 1, minimum: 20 }, "value"],
    [{ step: 1, wrap: 180 }, "wrap"],
    [{ step: 1, wrap: 360, maximum: 20 }, "wrap"],
    [{ step: 1, turns: 2 }, "turns"],
  ])("%j is refused by name", (given, path) => {
    expect(problemsOf(() => stepBy(10, given as never))).toMatchObject([{ path }]);
  });
});

describe("what a moving level puts on a reading", () => {
  test("a ramp: rate times delay, in its direction", () => {
    expect(rampError({ direction: "rising", rate: 2, operateDelay: 0.05 })).toEqual({
      bias: 0.1,
      spread: 0,
      standard: 0,
    });
    expect(rampError({ direction: "falling", rate: 2, operateDelay: 0.05 }).bias).toBe(-0.1);
  });

  test("a staircase: mean and extremes of what stepping through many thresholds gives", () => {
    const dwell = fc.integer({ min: 2, max: 40 });
    holds(
      fc.property(
        tenths(1, 20),
        dwell,
        fc.integer({ min: 0, max: 130 }),
        fc.constantFrom(1, -1),
        (step, held, delay, sign) => {
          // In milliseconds, so that nothing is rounded: level k stands from k·held on; the answer comes `delay` after the
          // first level at or beyond the threshold, and the level that stands then is read.
          const errors = Array.from({ length: 1000 }, (_, i) => {
            const threshold = 7 + (i + 0.5) / 1000;
            const first = Math.ceil(threshold);
            return step * (Math.floor((first * held + delay) / held) - threshold);
          });
          const { bias, spread, standard } = rampError({
            direction: sign > 0 ? "rising" : "falling",
            step,
            dwell: held / 1000,
            operateDelay: delay / 1000,
          });
          const mean = errors.reduce((a, b) => a + b) / errors.length;
          expect(sign * bias).toBeCloseTo(mean, 9);
          expect(Math.max(...errors)).toBeCloseTo(sign * bias + spread - step / 2000, 9);
          expect(Math.min(...errors)).toBeCloseTo(sign * bias - spread + step / 2000, 9);
          const deviation = Math.sqrt(errors.reduce((sum, error) => sum + (error - mean) ** 2, 0) / errors.length);
          expect(standard / deviation).toBeCloseTo(1, 5);
        },
      ),
    );
  });

  test.each([
    [{ direction: "up", rate: 1, operateDelay: 0 }, "direction"],
    [{ direction: "rising", rate: 0, operateDelay: 0 }, "rate"],
    [{ direction: "rising", operateDelay: 0 }, "step"],
    [{ direction: "rising", rate: 1, step: 1, operateDelay: 0 }, "rate"],
    [{ direction: "rising", step: 1, dwell: 0, operateDelay: 0 }, "dwell"],
    [{ direction: "rising", rate: 1, operateDelay: -1 }, "operateDelay"],
  ])("%j is refused by name", (given, path) => {
    expect(problemsOf(() => rampError(given as never))).toMatchObject([{ path }]);
  });
});

describe("choosing a staircase", () => {
  test("keeps its promise: one step within the share of the tolerance, no answer a step late, the time of its levels", () => {
    holds(
      fc.property(
        tenths(1, 500),
        tenths(1, 50),
        fc.double({ min: 0.001, max: 2, noNaN: true }),
        (from, tolerance, operateDelay) => {
          const to = from + 5;
          const chosen = chooseRamp({ from, to, tolerance, operateDelay });
          if (chosen.kind === "none") throw new Error(chosen.reason);
          const { step, dwell, bias, spread, totalTime } = chosen;
          expect(step).toBeLessThanOrEqual((tolerance / 5) * (1 + 1e-12));
          expect(step).toBeGreaterThan(tolerance / 15);
          expect(dwell).toBeGreaterThanOrEqual(2 * operateDelay - 1e-9);
          expect(bias).toBeCloseTo(step / 2, 12);
          expect(spread).toBeCloseTo(step / 2, 12);
          const pieces = staircase({ from, to, step, dwell });
          expect(pieces).toHaveLength(chosen.levels);
          expect(totalTime).toBeCloseTo(pieces.length * dwell, 9);
        },
      ),
    );
  });

  test("stays on what the source can make, or says that it is too coarse", () => {
    expect(chooseRamp({ from: 3, to: 5, tolerance: 0.2, operateDelay: 0.04, resolution: 0.015 })).toMatchObject({
      step: 0.015,
    });
    expect(chooseRamp({ from: 3, to: 5, tolerance: 0.2, operateDelay: 0.04, resolution: 0.05 })).toEqual({
      kind: "none",
      reason: "resolution-too-coarse",
    });
    expect(chooseRamp({ from: 0, to: 1000, tolerance: 1e-4, operateDelay: 0 })).toEqual({
      kind: "none",
      reason: "too-many-levels",
    });
  });

  test.each([
    [{ from: 1, to: 1, tolerance: 1, operateDelay: 0 }, "to"],
    [{ from: 1, to: 2, tolerance: 0, operateDelay: 0 }, "tolerance"],
    [{ from: 1, to: 2, tolerance: 1, operateDelay: 0, share: 0 }, "share"],
    [{ from: 1, to: 2, tolerance: 1, operateDelay: 0, resolution: 0 }, "resolution"],
    [{ from: 1, to: 2, tolerance: 1, operateDelay: 0, steps: 3 }, "steps"],
  ])("%j is refused by name", (given, path) => {
    expect(problemsOf(() => chooseRamp(given as never))).toMatchObject([{ path }]);
  });
});
