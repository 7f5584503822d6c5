import fc from "fast-check";
import { meanOver, offsetSinusoid, rmsOver, type Sinusoid, valueAt } from "tripwright/sinusoid";
import { describe, expect, test } from "vitest";
import { exactly, type Reference } from "../base/reference.js";
import { spread } from "../base/spread.js";
import { ulps } from "../support/distance.js";
import { holds } from "../support/holds.js";
import { overWindow, waves } from "./integrals.js";

interface Case {
  readonly wave: Sinusoid;
  readonly from: number;
  readonly to: number;
}

/** Cycles of the fastest part from t = 0 to an instant; the rounding of frequency · t counts for each of them. */
const cyclesUntil = ({ frequency, harmonics = [] }: Sinusoid, t: number): number =>
  Math.max(1, ...harmonics.map(({ order }) => order)) * frequency * t;

/** The most that the wave can be after t = 0. */
const peaksOf = ({ rms, offset = 0, decay, harmonics = [] }: Sinusoid): number =>
  Math.SQRT2 * harmonics.reduce((total, harmonic) => total + harmonic.rms, rms) +
  Math.abs(offset) +
  Math.abs(decay?.initial ?? 0);

/** 2π · 2^−53, twice, for what the rounding of the instant and of the product adds. */
const PER_CYCLE = 4 * Math.PI * 2 ** -53;

const share = (actual: number, expected: Reference, size: Reference): number =>
  exactly(actual).minus(expected).abs().div(size).toNumber();

/** Windows that begin within the first half second and last from a nanosecond to a quarter of a second. */
const cases: fc.Arbitrary<Case> = fc
  .tuple(waves, fc.integer({ min: 0, max: 4096 }), spread(-9, -0.6))
  .map(([wave, ticks, power]) => ({ wave, from: ticks / 8192, to: ticks / 8192 + 10 ** power }));

describe("rms and mean over a window", () => {
  test("agree with 50-digit integrals, in windows of any length and at any place", () => {
    holds(
      fc.property(cases, ({ wave, from, to }) => {
        fc.pre(wave.decay === undefined || from / wave.decay.tau < 600);
        const { rms, mean, peaks } = overWindow(wave, { from, to });
        const phase = PER_CYCLE * cyclesUntil(wave, to);
        const gotSquare = exactly(rmsOver(wave, { from, to })).pow(2);
        expect(gotSquare.minus(rms.pow(2)).abs().div(peaks.pow(2)).toNumber()).toBeLessThanOrEqual(5e-15 + 2 * phase);
        expect(share(meanOver(wave, { from, to }), mean, peaks)).toBeLessThanOrEqual(1e-15 + phase);
      }),
      25,
    );
  });

  test("lose nothing in a short window, where the wave crosses zero", () => {
    const faults = fc.record({
      rms: fc.constant(1000),
      frequency: fc.constantFrom(50, 60),
      angle: spread(-180, 180),
      tau: fc.double({ min: 0.003, max: 1, noNaN: true }),
    });
    holds(
      fc.property(faults, spread(-8, -2.35), (fault, power) => {
        const wave = offsetSinusoid(fault);
        const window = { from: 0, to: 10 ** power };
        const { rms, peaks } = overWindow(wave, window);
        expect(share(rmsOver(wave, window), rms, peaks)).toBeLessThanOrEqual(1e-15);
      }),
      25,
    );
  });

  test("agree with sums over the instantaneous values", () => {
    const count = 2000;
    holds(
      fc.property(waves, spread(0, 0.1), spread(0.001, 0.05), (wave, from, width) => {
        const values = Array.from({ length: count }, (_, i) => valueAt(wave, from + ((i + 0.5) / count) * width));
        const mean = (f: (x: number) => number): number => values.reduce((total, x) => total + f(x), 0) / count;
        const window = { from, to: from + width };
        // The midpoint rule is off by up to (width/count)²/24 of the largest bend.
        const [peaks, speed] = [peaksOf(wave), 2 * Math.PI * cyclesUntil(wave, 1) + 1 / (wave.decay?.tau ?? 1)];
        const off = (speed * width) ** 2 / count ** 2 / 24;
        expect(Math.abs(meanOver(wave, window) - mean((x) => x))).toBeLessThanOrEqual((off + 1e-12) * peaks);
        const square = rmsOver(wave, window) ** 2;
        expect(Math.abs(square - mean((x) => x * x))).toBeLessThanOrEqual((4 * off + 1e-12) * peaks ** 2);
      }),
      40,
    );
  });

  test("over whole cycles are the d.c. component and the root of the sum of squares, wherever the window begins", () => {
    const whole = fc.record({
      rms: spread(0, 10),
      frequency: fc.constantFrom(1, 2, 16, 64),
      angle: spread(-180, 180),
      offset: spread(-10, 10),
      harmonics: fc.array(
        fc.record({ order: fc.integer({ min: 2, max: 50 }), rms: spread(0, 5), angle: spread(-180, 180) }),
        { maxLength: 4 },
      ),
    });
    const places = fc.tuple(fc.integer({ min: -64, max: 64 }), fc.integer({ min: 1, max: 20 }));
    holds(
      fc.property(whole, places, (wave, [ticks, cycles]) => {
        // Harmonics of one order add as arrows, not as squares.
        fc.pre(new Set(wave.harmonics.map(({ order }) => order)).size === wave.harmonics.length);
        const from = ticks / 64;
        const window = { from, to: from + cycles / wave.frequency };
        const size = wave.rms + Math.abs(wave.offset) + wave.harmonics.reduce((total, { rms }) => total + rms, 0);
        const rms = Math.hypot(wave.rms, wave.offset, ...wave.harmonics.map((harmonic) => harmonic.rms));
        expect(Math.abs(rmsOver(wave, window) - rms)).toBeLessThanOrEqual(2e-15 * size);
        expect(Math.abs(meanOver(wave, window) - wave.offset)).toBeLessThanOrEqual(1e-15 * size);
      }),
    );
  });

  test("of parts that do not move are those parts, to the last digit", () => {
    holds(
      fc.property(spread(-1e3, 1e3), spread(0, 10), spread(1e-9, 10), (offset, from, width) => {
        const wave = { rms: 0, frequency: 50, offset };
        expect(ulps(rmsOver(wave, { from, to: from + width }), Math.abs(offset))).toBeLessThanOrEqual(2);
        expect(meanOver(wave, { from, to: from + width })).toBe(offset);
        expect(rmsOver({ rms: Math.SQRT1_2, frequency: 0, angle: 60 }, { from, to: from + width })).toBeCloseTo(
          0.5,
          14,
        );
      }),
      100,
    );
  });

  test("join: the squares of two windows side by side, weighed by their lengths, are the square of both", () => {
    holds(
      fc.property(waves, spread(0, 0.05), spread(0.01, 0.9), (wave, from, cut) => {
        const [middle, to] = [from + 0.1 * cut, from + 0.1];
        const share = (middle - from) / (to - from);
        const join = (f: typeof rmsOver, power: number): readonly [number, number] => [
          f(wave, { from, to }) ** power,
          share * f(wave, { from, to: middle }) ** power + (1 - share) * f(wave, { from: middle, to }) ** power,
        ];
        const [square, squares] = join(rmsOver, 2);
        const [mean, means] = join(meanOver, 1);
        expect(Math.abs(square - squares)).toBeLessThanOrEqual(1e-9);
        expect(Math.abs(mean - means)).toBeLessThanOrEqual(1e-10);
      }),
      100,
    );
  });

  test("tend to the magnitude and the value at an instant as the window shrinks around it", () => {
    holds(
      fc.property(waves, spread(0.01, 0.5), (wave, t) => {
        fc.pre(wave.decay === undefined || wave.decay.tau > 0.001);
        const window = { from: t - 1e-9, to: t + 1e-9 };
        const value = valueAt(wave, t);
        expect(Math.abs(meanOver(wave, window) - value)).toBeLessThanOrEqual(1e-8);
        expect(Math.abs(rmsOver(wave, window) - Math.abs(value))).toBeLessThanOrEqual(1e-4);
      }),
      100,
    );
  });

  test("hold a window far beyond the time constant, where nothing but the steady part is left", () => {
    const wave = { rms: 5, frequency: 50, decay: { initial: 100, tau: 0.001 } };
    expect(rmsOver(wave, { from: 10, to: 10.02 })).toBeCloseTo(5, 12);
    // The decaying part alone: initial² · tau/2 · (1 − exp(−2 · width/tau)) over the width.
    const alone = { rms: 0, frequency: 50, decay: { initial: 100, tau: 0.001 } };
    expect(rmsOver(alone, { from: 0, to: 1e3 })).toBeCloseTo(Math.sqrt(1e4 * 0.0005 * 1e-3), 14);
    expect(meanOver(alone, { from: 0, to: 1e3 })).toBeCloseTo(1e-4, 18);
  });

  test("are the same after whole cycles, to the bit where times are exact, however many", () => {
    const wholeHertz = fc.record({
      rms: spread(0, 10),
      frequency: fc.integer({ min: 1, max: 100 }),
      angle: spread(-180, 180),
      offset: spread(-10, 10),
    });
    const ticks = fc.integer({ min: 0, max: 16_384 });
    holds(
      fc.property(wholeHertz, ticks, fc.integer({ min: 1, max: 16_384 }), (wave, first, width) => {
        const [from, to] = [first / 16_384, (first + width) / 16_384];
        const later = { from: from + 2 ** 30, to: to + 2 ** 30 };
        expect(rmsOver(wave, later)).toBe(rmsOver(wave, { from, to }));
        expect(meanOver(wave, later)).toBe(meanOver(wave, { from, to }));
      }),
    );
  });

  test("of parts that cancel are next to nothing, and never the root of a negative number", () => {
    holds(
      fc.property(spread(-180, 180), spread(0.01, 1), (angle, width) => {
        const parts = [0.1, 0.2].map((rms) => ({ order: 1, rms, angle: angle + 180 }));
        const wave = { rms: 0.3, frequency: 50, angle, harmonics: parts };
        expect(rmsOver(wave, { from: 0.003, to: 0.003 + width })).toBeLessThanOrEqual(1e-7);
      }),
    );
  });

  test("do not see what decays at once", () => {
    const steady = { rms: 5, frequency: 50, angle: 17, offset: 1 };
    for (const tau of [5e-324, 1e-310, 1e-200, 1e-100]) {
      const wave = { ...steady, decay: { initial: 100, tau } };
      for (const window of [
        { from: 0, to: 0.02 },
        { from: 0.001, to: 0.002 },
      ]) {
        expect(rmsOver(wave, window)).toBeCloseTo(rmsOver(steady, window), 13);
        expect(meanOver(wave, window)).toBeCloseTo(meanOver(steady, window), 13);
      }
    }
  });
});
