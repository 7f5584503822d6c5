import fc from "fast-check";
import { type Sinusoid, valueAt } from "tripwright/sinusoid";
import { describe, expect, test } from "vitest";
import { cosineOf, D, exactly, SQRT2 } from "../base/reference.js";
import { spread } from "../base/spread.js";
import { holds } from "../support/holds.js";

const rmsValues = fc.double({ min: 1e-3, max: 1e5, noNaN: true });
const angles = spread(-360, 360);
const wholeHertz = fc.integer({ min: 1, max: 100 });
/** Times and products with a whole frequency are exact in doubles: multiples of 1/16384 s up to 8 s. */
const dyadicTimes = fc.integer({ min: -131_072, max: 131_072 }).map((ticks) => ticks / 16_384);

/** How far the value lies from √2 · rms · cos(360 · frequency · t + angle) at 50 digits, as a share of the peak. */
function off(sinusoid: { rms: number; frequency: number; angle: number }, t: number): number {
  const peak = SQRT2.times(exactly(sinusoid.rms));
  const degrees = exactly(360).times(exactly(sinusoid.frequency)).times(exactly(t)).plus(exactly(sinusoid.angle));
  return exactly(valueAt(sinusoid, t))
    .minus(peak.times(cosineOf(degrees.mod(360))))
    .abs()
    .div(peak)
    .toNumber();
}

describe("the value of a sinusoid against 50-digit decimals", () => {
  test("is within 1e-15 of the peak where 360 · frequency · t is exact in doubles", () => {
    holds(
      fc.property(rmsValues, wholeHertz, angles, dyadicTimes, (rms, frequency, angle, t) => {
        expect(off({ rms, frequency, angle }, t)).toBeLessThanOrEqual(1e-15);
      }),
      200,
    );
  });

  test("is within 1e-15 of the peak at an angle of many turns too", () => {
    const turns = spread(-1e4, 1e4);
    holds(
      fc.property(wholeHertz, turns, dyadicTimes, (frequency, angle, t) => {
        expect(off({ rms: 1, frequency, angle }, t)).toBeLessThanOrEqual(1e-15);
      }),
    );
    expect(
      off({ rms: 96.29085152080548, frequency: 41, angle: 8154.091429750152 }, 3.9898681640625),
    ).toBeLessThanOrEqual(1e-15);
  });

  test("at any frequency and time is off by half a unit in the last place of frequency · t besides", () => {
    const times = spread(-100, 100);
    const frequencies = spread(0, 100);
    holds(
      fc.property(frequencies, angles, times, (frequency, angle, t) => {
        const allowed = 1e-15 + 2 * Math.PI * 2 ** -53 * Math.abs(frequency * t);
        expect(off({ rms: 1, frequency, angle }, t)).toBeLessThanOrEqual(allowed);
      }),
      200,
    );
  });
});

describe("the value of a sinusoid", () => {
  test("repeats after whole cycles, to the bit where times and angles are exact", () => {
    const sixteenths = fc.integer({ min: -5760, max: 5760 }).map((n) => n / 16);
    const sinusoids = fc.record({ rms: rmsValues, frequency: wholeHertz, angle: sixteenths });
    holds(
      fc.property(sinusoids, dyadicTimes, fc.integer({ min: -1000, max: 1000 }), (sinusoid, t, seconds) => {
        expect(valueAt(sinusoid, t + seconds)).toBe(valueAt(sinusoid, t));
        // The number of cycles is exact here, 360 times it is not: whole cycles must go first.
        const slow = { ...sinusoid, frequency: 1 };
        expect(valueAt(slow, t + 2 ** 38)).toBe(valueAt(slow, t));
      }),
    );
  });

  test("is exact at the quarters of a cycle: crest, zero, trough, zero", () => {
    for (const [frequency, t] of [
      [50, 0.005],
      [60, 1 / 240],
      [16, 1 / 64],
      [1, 1000.25],
    ] as const) {
      const at = (angle: number) => valueAt({ rms: 100, frequency, angle }, t);
      expect([at(0), at(90), at(180), at(-90), at(-0)]).toEqual([0, -100 * Math.SQRT2, 0, 100 * Math.SQRT2, 0]);
    }
  });

  test("turned by half a cycle is its negative, a quarter ahead its sine", () => {
    holds(
      fc.property(rmsValues, fc.integer({ min: -720, max: 720 }), (rms, angle) => {
        const at = (ahead: number) => valueAt({ rms, frequency: 50, angle: angle + ahead }, 0);
        expect(at(180)).toBe(0 - at(0));
        expect(Math.hypot(at(0), at(90)) / (Math.SQRT2 * rms)).toBeCloseTo(1, 14);
      }),
    );
  });

  test("at frequency 0 does not move", () => {
    holds(
      fc.property(rmsValues, angles, dyadicTimes, (rms, angle, t) => {
        expect(valueAt({ rms, frequency: 0, angle }, t)).toBe(valueAt({ rms, frequency: 0, angle }, 0));
      }),
    );
  });
});

describe("the parts of a sinusoid", () => {
  const offset = spread(-1e3, 1e3);
  const decay = fc.record({ initial: offset, tau: fc.double({ min: 0.01, max: 1, noNaN: true }) });
  const harmonic = fc.record({ order: fc.integer({ min: 2, max: 40 }), rms: rmsValues, angle: angles });
  const whole = fc.record({
    rms: rmsValues,
    frequency: wholeHertz,
    angle: angles,
    offset,
    decay,
    harmonics: fc.array(harmonic, { maxLength: 4 }),
  });

  test("add up: fundamental, offset, decaying part, and each harmonic as a sinusoid of its own", () => {
    holds(
      fc.property(whole, fc.integer({ min: 0, max: 4096 }), ({ rms, frequency, angle, ...rest }, ticks) => {
        const t = ticks / 16_384;
        const decayed = rest.decay.initial * Math.exp(-t / rest.decay.tau);
        const waves: Sinusoid[] = [{ rms, frequency, angle }];
        for (const { order, ...wave } of rest.harmonics) waves.push({ ...wave, frequency: order * frequency });
        const parts = [...waves.map((wave) => valueAt(wave, t)), rest.offset, decayed];
        const size = waves.reduce((sum, wave) => sum + 2 * wave.rms, Math.abs(rest.offset) + Math.abs(decayed));
        const sum = parts.reduce((total, part) => total.plus(part), new D(0)).toNumber();
        expect(Math.abs(valueAt({ rms, frequency, angle, ...rest }, t) - sum)).toBeLessThanOrEqual(2e-15 * size);
      }),
    );
  });

  test("decay to 1/e of the initial value after tau, and grow before t = 0", () => {
    const at = (t: number) => valueAt({ rms: 0, frequency: 50, decay: { initial: 10, tau: 0.25 } }, t);
    expect(at(0)).toBe(10);
    expect(at(0.25) * Math.E).toBeCloseTo(10, 13);
    expect(at(-0.25) / Math.E).toBeCloseTo(10, 13);
  });

  test("are absent by default, and keys beyond them are ignored, as in the result of a fit", () => {
    const fit = { kind: "found", rms: 63.5, frequency: 50, residualRms: 0.1, iterations: 4 };
    expect(valueAt(fit, 0.01)).toBe(valueAt({ rms: 63.5, frequency: 50, angle: 0, offset: 0, harmonics: [] }, 0.01));
  });
});
