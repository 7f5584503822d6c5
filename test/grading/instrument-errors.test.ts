/** Errors that can be taken off; single values stand in test/published/grading/instrument-errors.json. */
import { Decimal } from "decimal.js";
import fc from "fast-check";
import { bandwidthError, lateContacts, skewAngle, standardUncertainty } from "tripwright/grading";
import { describe, expect, test } from "vitest";
import { exactly } from "../base/reference.js";
import { typedDecimals } from "../support/arbitraries.js";
import { ulps } from "../support/distance.js";
import { problemsOf } from "../support/failure.js";
import { holds } from "../support/holds.js";

const D = Decimal.clone({ defaults: true, precision: 40 });
const PI = D.acos(-1);
/** From a slow drift to far beyond any bandwidth. */
const frequencies = fc
  .tuple(fc.integer({ min: 1, max: 9999 }), fc.integer({ min: -6, max: 6 }))
  .map(([digits, power]) => Number(`${digits}e${power}`));

describe("a limited bandwidth", () => {
  test("shows what a resistor and a capacitor leave of a sine, in 40 digits", () => {
    holds(
      fc.property(frequencies, frequencies, (frequency, bandwidth) => {
        const { ratio, errorPercent, angle, riseTime } = bandwidthError({ frequency, bandwidth });
        // The doubles as they are: each may lie half a unit off what was typed, which counts twice in the square.
        const over = exactly(frequency).div(exactly(bandwidth));
        const left = new D(1).div(over.pow(2).plus(1).sqrt());
        // 1/√(1 + x²) − 1 as −x²/(√(1 + x²)·(1 + √(1 + x²))): in 40 digits too the difference would lose all of a tiny x.
        const root = over.pow(2).plus(1).sqrt();
        const error = over
          .pow(2)
          .neg()
          .div(root.times(root.plus(1)));
        expect(ulps(ratio, left.toNumber())).toBeLessThanOrEqual(4);
        expect(ulps(errorPercent, error.times(100).toNumber())).toBeLessThanOrEqual(4);
        expect(ulps(angle, over.atan().times(-180).div(PI).toNumber())).toBeLessThanOrEqual(4);
        // From 10 % to 90 % a step takes ln(0.9/0.1) time constants of 1/(2πB).
        expect(
          ulps(
            riseTime,
            D.ln(9)
              .div(PI.times(2).times(exactly(bandwidth)))
              .toNumber(),
          ),
        ).toBeLessThanOrEqual(4);
      }),
    );
  });

  test("at its −3 dB shows 1/√2 and lags by 45°", () => {
    holds(
      fc.property(frequencies, (frequency) => {
        const { ratio, angle } = bandwidthError({ frequency, bandwidth: frequency });
        expect([ratio, angle]).toEqual([expect.closeTo(Math.SQRT1_2, 15), -45]);
      }),
    );
  });

  test("takes nothing off what stands still, and leaves nothing of what is much too fast", () => {
    expect(bandwidthError({ frequency: 0, bandwidth: 1e4 })).toMatchObject({ ratio: 1, errorPercent: 0, angle: 0 });
    const fast = bandwidthError({ frequency: 1e300, bandwidth: 1e-200 });
    expect(fast).toMatchObject({ ratio: 0, errorPercent: -100, angle: -90 });
  });

  test.each([
    [{ frequency: -1, bandwidth: 1 }, "out-of-range", "frequency"],
    [{ frequency: Number.NaN, bandwidth: 1 }, "not-finite", "frequency"],
    [{ bandwidth: 1 }, "missing", "frequency"],
    [{ frequency: 1, bandwidth: 0 }, "out-of-range", "bandwidth"],
    [{ frequency: 1, bandwidth: 1e-310 }, "out-of-range", "bandwidth"],
    [{ frequency: 1 }, "missing", "bandwidth"],
    [{ frequency: 1, bandwidth: 1, order: 2 }, "unknown-key", "order"],
    [undefined, "missing", ""],
  ])("of %j is refused", (given, code, path) => {
    expect(problemsOf(() => bandwidthError(given as never))).toMatchObject([{ code, path }]);
  });
});

test("what is refused names the unit that was expected", () => {
  const expected = (work: () => unknown) => problemsOf(work)[0]?.expected;
  expect(expected(() => bandwidthError({ frequency: -1, bandwidth: 1 }))).toMatch(/ Hz/);
  expect(expected(() => bandwidthError({ frequency: 1, bandwidth: 0 }))).toMatch(/ Hz/);
  expect(expected(() => skewAngle({ delay: Number.NaN, frequency: 50 }))).toMatch(/ s$/);
  expect(expected(() => skewAngle({ delay: 1e-4, frequency: 0 }))).toMatch(/ Hz/);
  expect(expected(() => lateContacts({ start: -1, stop: 0 }))).toMatch(/ s /);
});

describe("a skew between channels", () => {
  const delays = typedDecimals({ digits: 6, places: 9 });
  const sines = typedDecimals({ digits: 5, places: 3, min: 1 });

  test("is 360° for each whole period, to the nearest double of the decimals", () => {
    holds(
      fc.property(delays, sines, ({ text: delay }, { text: frequency }) => {
        const exact = new D(delay).times(frequency).times(360).toNumber() + 0;
        expect(skewAngle({ delay, frequency })).toBe(exact);
        expect(skewAngle({ delay: Number(delay), frequency: Number(frequency) })).toBe(exact);
      }),
    );
  });

  test("of a whole period at 50 and at 60 Hz is exactly a turn, though 1/60 is no decimal", () => {
    expect([50, 60].map((frequency) => skewAngle({ delay: 1 / frequency, frequency }))).toEqual([360, 360]);
  });

  test.each([
    [{ delay: 1e-4, frequency: 0 }, "out-of-range", "frequency"],
    [{ delay: 1e-4, frequency: -50 }, "out-of-range", "frequency"],
    [{ delay: 1e-4 }, "missing", "frequency"],
    [{ delay: Number.NaN, frequency: 50 }, "not-finite", "delay"],
    [{ frequency: 50 }, "missing", "delay"],
    [{ delay: 1e300, frequency: 1e300 }, "out-of-range", "delay"],
    [{ delay: 1e-4, frequency: 50, phase: 1 }, "unknown-key", "phase"],
  ])("of %j is refused", (given, code, path) => {
    expect(problemsOf(() => skewAngle(given as never))).toMatchObject([{ code, path }]);
  });
});

describe("contacts that are seen late", () => {
  const delays = fc.integer({ min: 0, max: 1e6 }).map((n) => n / 1e8);

  test("leave the difference of two rectangles, each from on time to as late as can be", () => {
    holds(
      fc.property(delays, delays, (start, stop) => {
        const { bias, standard } = lateContacts({ start, stop });
        // The mean of a rectangle from 0 to its width is its middle; a late start shortens the time.
        expect(Math.abs(bias - new D(stop).minus(start).div(2).toNumber())).toBeLessThanOrEqual(
          2 ** -52 * Math.max(start, stop),
        );
        const each = [start, stop].map((width) =>
          standardUncertainty({ halfWidth: width / 2, distribution: "rectangular" }),
        );
        expect(standard).toBeCloseTo(Math.hypot(...each), 17);
        const exact = new D(start).pow(2).plus(new D(stop).pow(2)).div(12).sqrt();
        expect(ulps(standard, exact.toNumber())).toBeLessThanOrEqual(4);
      }),
    );
  });

  test("at the same interval have no bias, and one that looks all the time only that of the other", () => {
    holds(
      fc.property(delays, (delay) => {
        expect(lateContacts({ start: delay, stop: delay }).bias).toBe(0);
        expect(lateContacts({ start: 0, stop: delay }).bias).toBe(delay / 2);
        expect(lateContacts({ start: delay, stop: 0 }).bias).toBe(0 - delay / 2);
      }),
    );
  });

  test.each([
    [{ start: -1e-4, stop: 0 }, "out-of-range", "start"],
    [{ start: 0, stop: -1e-4 }, "out-of-range", "stop"],
    [{ start: 0 }, "missing", "stop"],
    [{ stop: Number.NaN, start: 0 }, "not-finite", "stop"],
    [{ start: 0, stop: 0, both: 1 }, "unknown-key", "both"],
  ])("of %j are refused", (given, code, path) => {
    expect(problemsOf(() => lateContacts(given as never))).toMatchObject([{ code, path }]);
  });
});
