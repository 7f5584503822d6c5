import { Decimal } from "decimal.js";
import fc from "fast-check";
import { type MovingLevel, rampError } from "tripwright/timeline";
import { describe, expect, test } from "vitest";
import { typedDecimals } from "../support/arbitraries.js";
import { ulps } from "../support/distance.js";
import { problemsOf } from "../support/failure.js";
import { holds } from "../support/holds.js";

const D = Decimal.clone({ defaults: true, precision: 40 });
const directions = fc.constantFrom("rising", "falling");
const size = typedDecimals({ digits: 4, places: 3, min: 1 });
const time = typedDecimals({ digits: 4, places: 3, min: 0 });

/** Thresholds in the middle of each thousandth of a step, between the levels 7 and 8 of a staircase of step 1. */
const THRESHOLDS = Array.from({ length: 1000 }, (_, i) => 7 + (i + 0.5) / 1000);

/**
 * The errors of a staircase by walking it, in steps and whole milliseconds so that nothing is rounded: level k stands from
 * k · dwell on, the answer comes a delay after the first level at or beyond the threshold, and what stands then is read.
 */
function walkedErrors(dwell: number, delay: number): number[] {
  return THRESHOLDS.map((threshold) => {
    let level = 0;
    let operates: number | undefined;
    for (let now = 0; ; now++) {
      if (now > 0 && now % dwell === 0) level++;
      if (operates === undefined && level >= threshold) operates = now + delay;
      if (now === operates) return level - threshold;
    }
  });
}

const mean = (values: readonly number[]): number => values.reduce((a, b) => a + b, 0) / values.length;
const rms = (values: readonly number[]): number => Math.sqrt(mean(values.map((x) => x * x)));

describe("a ramp", () => {
  test("reads rate × delay in its direction, to the nearest double", () => {
    holds(
      fc.property(size, time, directions, (rate, delay, direction) => {
        const bias = new D(rate.text).times(delay.text).times(direction === "rising" ? 1 : -1);
        const expected = { bias: bias.toNumber() + 0, spread: 0, standard: 0, stepsLate: 0 };
        expect(rampError({ direction, rate: rate.text, operateDelay: delay.text })).toEqual(expected);
        expect(rampError({ direction, rate: Number(rate.text), operateDelay: Number(delay.text) })).toEqual(expected);
      }),
    );
  });

  test("with a delay that scatters, the error lies between those of its ends and spreads as a rectangle", () => {
    holds(
      fc.property(size, time, time, directions, (rate, one, other, direction) => {
        const [minimum, maximum] = [D.min(one.text, other.text), D.max(one.text, other.text)];
        const { bias, spread, standard } = rampError({
          direction,
          rate: rate.text,
          operateDelay: { minimum, maximum },
        });
        const at = (operateDelay: Decimal): Decimal =>
          new D(rate.text).times(operateDelay).times(direction === "rising" ? 1 : -1);
        const ends = [at(minimum), at(maximum)];
        expect(bias).toBe(at(minimum.plus(maximum).div(2)).toNumber() + 0);
        expect(spread).toBe(
          D.max(...ends)
            .minus(D.min(...ends))
            .div(2)
            .toNumber(),
        );
        const rectangle = D.max(...ends)
          .minus(D.min(...ends))
          .div(new D(12).sqrt());
        expect(ulps(standard, rectangle.toNumber())).toBeLessThanOrEqual(1);
      }),
    );
  });

  test("high for what operates upwards, low for what operates downwards, the other way round on the way back", () => {
    // Common practice: over pickups high, under pickups low, over dropouts low, under dropouts high.
    const { bias: overPickup } = rampError({ direction: "rising", rate: 2, operateDelay: "0.02" });
    const { bias: overDropout } = rampError({ direction: "falling", rate: 2, operateDelay: "0.02" });
    expect([overPickup, overDropout]).toEqual([0.04, -0.04]);
  });
});

describe("a staircase", () => {
  test("has the mean, the extremes and the deviation that walking through many thresholds gives", () => {
    holds(
      fc.property(
        fc.integer({ min: 1, max: 12 }),
        fc.integer({ min: 0, max: 40 }),
        size,
        directions,
        (dwell, delay, step, direction) => {
          const sign = direction === "rising" ? 1 : -1;
          const walked = walkedErrors(dwell, delay).map((steps) => steps * Number(step.text));
          const told = rampError({ direction, step: step.text, dwell: dwell / 1000, operateDelay: delay / 1000 });
          const unit = Number(step.text);
          const near = (x: number, y: number): void => expect(Math.abs(x - y) / unit).toBeLessThan(1e-9);
          near(sign * told.bias, mean(walked));
          // The outermost thresholds lie half a thousandth of a step inside.
          near(sign * told.bias + told.spread, Math.max(...walked) + unit / 2000);
          near(sign * told.bias - told.spread, Math.min(...walked) - unit / 2000);
          const deviation = rms(walked.map((error) => error - mean(walked)));
          expect(told.standard / deviation).toBeCloseTo(1, 5);
          expect(told.stepsLate).toBe(Math.floor(delay / dwell));
        },
      ),
      40,
    );
  });

  test("with a delay that scatters, no error leaves bias ± spread, both ends are met, and `standard` is not too small", () => {
    holds(
      fc.property(
        fc.integer({ min: 1, max: 12 }),
        fc.integer({ min: 0, max: 25 }),
        fc.integer({ min: 0, max: 25 }),
        (dwell, least, more) => {
          const delays = Array.from({ length: more + 1 }, (_, i) => least + i);
          const walked = delays.flatMap((delay) => walkedErrors(dwell, delay));
          const operateDelay = { minimum: least / 1000, maximum: (least + more) / 1000 };
          const { bias, spread, standard, stepsLate } = rampError({
            direction: "rising",
            step: 1,
            dwell: dwell / 1000,
            operateDelay,
          });
          expect(bias + spread).toBeCloseTo(Math.max(...walked) + 1 / 2000, 9);
          expect(bias - spread).toBeCloseTo(Math.min(...walked) - 1 / 2000, 9);
          expect(stepsLate).toBe(Math.floor((least + more) / dwell));
          const mean = walked.reduce((sum, error) => sum + error, 0) / walked.length;
          const variance = walked.reduce((sum, error) => sum + (error - mean) ** 2, 0) / walked.length;
          expect(Math.sqrt(variance)).toBeLessThanOrEqual(standard * (1 + 1e-9));
        },
      ),
      20,
    );
  });

  test("the standard uncertainty is the rms about the bias for up to one late step more, and never too small", () => {
    // Delays in tenths of a dwell, evenly from `least` to `least + width`; errors in steps, thresholds anywhere in a step.
    holds(
      fc.property(fc.integer({ min: 0, max: 20 }), fc.integer({ min: 0, max: 40 }), (least, width) => {
        const { bias, standard } = rampError({
          direction: "rising",
          step: 1,
          dwell: 10,
          operateDelay: { minimum: least, maximum: least + width },
        });
        // A fine even grid of delays within the range; each adds its whole dwells to a uniform part of a step.
        const delays = Array.from({ length: 2000 }, (_, i) => least + ((i + 0.5) / 2000) * width);
        const square = mean(delays.map((delay) => (Math.floor(delay / 10) + 0.5 - bias) ** 2 + 1 / 12));
        expect(standard).toBeGreaterThanOrEqual(Math.sqrt(square) * (1 - 1e-12));
        const differ = Math.floor((least + width) / 10) - Math.floor(least / 10);
        if (differ <= 1) expect(standard / Math.sqrt(square)).toBeCloseTo(1, 12);
      }),
    );
  });

  test("a delay of exactly one dwell is answered in the next step, a hair less in the same", () => {
    const told = (operateDelay: string) => rampError({ direction: "rising", step: 1, dwell: "0.1", operateDelay });
    expect(told("0.1")).toMatchObject({ bias: 1.5, stepsLate: 1 });
    expect(told("0.09999999999999999999999999999")).toMatchObject({ bias: 0.5, stepsLate: 0 });
  });

  test("whole dwells are whole in cycles of 60 Hz, which no decimal holds", () => {
    holds(
      fc.property(fc.integer({ min: 1, max: 60 }), fc.integer({ min: 0, max: 30 }), (cycles, times) => {
        const told = rampError({
          direction: "falling",
          step: 2,
          dwell: cycles / 60,
          operateDelay: (cycles * times) / 60,
        });
        expect(told).toMatchObject({ bias: -1 - 2 * times, spread: 1, stepsLate: times });
      }),
    );
  });
});

test("a delay may be a decimal of some library, as one delay and at either end of a range", () => {
  const delay = (seconds: string) => ({ toFixed: () => seconds });
  const moving = { direction: "rising", rate: 0.5 } as const;
  expect(rampError({ ...moving, operateDelay: delay("0.04") })).toMatchObject({ bias: 0.02, spread: 0 });
  const range = { minimum: delay("0.03"), maximum: delay("0.05") };
  expect(rampError({ ...moving, operateDelay: range })).toMatchObject({ bias: 0.02, spread: 0.005 });
});

describe("rampError refuses by name", () => {
  const steps = { direction: "rising", step: 1, dwell: 1, operateDelay: 0 };
  test.each([
    ["an unknown direction", { direction: "up", rate: 1, operateDelay: 0 }, "unknown-name", "direction"],
    ["a rate of 0", { direction: "rising", rate: 0, operateDelay: 0 }, "out-of-range", "rate"],
    ["nothing that moves", { direction: "rising", operateDelay: 0 }, "missing", "step"],
    ["a rate beside a step", { ...steps, rate: 1 }, "conflict", "rate"],
    ["a dwell of 0", { ...steps, dwell: 0 }, "out-of-range", "dwell"],
    ["a negative step", { ...steps, step: -1 }, "out-of-range", "step"],
    ["no delay", { direction: "rising", rate: 1 }, "missing", "operateDelay"],
    ["a negative delay", { ...steps, operateDelay: -1 }, "out-of-range", "operateDelay"],
    ["a delay that is no number", { ...steps, operateDelay: Number.NaN }, "not-finite", "operateDelay"],
    ["a delay that is null", { ...steps, operateDelay: null }, "wrong-type", "operateDelay"],
    ["a list of delays", { ...steps, operateDelay: [0, 1] }, "wrong-type", "operateDelay"],
    ["half a range", { ...steps, operateDelay: { minimum: 0 } }, "missing", "operateDelay.maximum"],
    [
      "a range out of order",
      { ...steps, operateDelay: { minimum: 2, maximum: 1 } },
      "out-of-range",
      "operateDelay.maximum",
    ],
    ["a misspelt range", { ...steps, operateDelay: { min: 2, max: 1 } }, "unknown-key", "operateDelay.min"],
    ["a misspelt key", { ...steps, hold: 1 }, "unknown-key", "hold"],
  ])("%s", (_what, given, code, path) => {
    expect(problemsOf(() => rampError(given as MovingLevel))).toMatchObject([{ code, path }]);
  });

  test.each([
    [{ step: undefined, dwell: undefined }, "missing", "step", "a step with its dwell, or a rate"],
    [{ step: undefined }, "missing", "step", "a step above 0 (a number, text or a decimal object)"],
    [{ dwell: undefined }, "missing", "dwell", "a time above 0 s (a number, text or a decimal object)"],
    [{ operateDelay: -1 }, "out-of-range", "operateDelay", "a time of 0 s or more"],
    [{ operateDelay: { minimum: -1, maximum: 1 } }, "out-of-range", "operateDelay.minimum", "a time of 0 s or more"],
    [{ operateDelay: { minimum: 0, maximum: -1 } }, "out-of-range", "operateDelay.maximum", "a time of 0 s or more"],
    // More dwells, or a larger error, than a double holds.
    [{ operateDelay: 1e308, dwell: 1e-10 }, "out-of-range", "operateDelay", "a result within the range of a double"],
    [{ operateDelay: 1e300, step: 1e300 }, "out-of-range", "operateDelay", "a result within the range of a double"],
  ])("%j of a staircase, and says what was expected", (change, code, path, expected) => {
    expect(problemsOf(() => rampError({ ...steps, ...change } as never))).toMatchObject([{ code, path, expected }]);
  });

  test.each([null, undefined, 1, "rising", []])("%j in place of a movement", (given) => {
    expect(problemsOf(() => rampError(given as never))).toHaveLength(1);
  });
});
