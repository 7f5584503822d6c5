import fc from "fast-check";
import { firstPeak, offsetSinusoid, type Sinusoid, valueAt } from "tripwright/sinusoid";
import { describe, expect, test } from "vitest";
import { exactly, type Reference, ulpsOff } from "../base/reference.js";
import { spread } from "../base/spread.js";
import { ulps } from "../support/distance.js";
import { holds } from "../support/holds.js";
import { near, waves } from "./integrals.js";

const angles = spread(-180, 180);
const faults = fc
  .record({
    rms: fc.double({ min: 1e-3, max: 1e5, noNaN: true }),
    frequency: fc.constantFrom(16.7, 50, 60),
    inception: angles,
    xOverR: fc.double({ min: 1e-3, max: 1e4, noNaN: true }),
  })
  .map(offsetSinusoid);

/** The most that all parts together can be. */
const sizeOf = ({ rms, offset = 0, decay, harmonics = [] }: Sinusoid): number =>
  Math.SQRT2 * harmonics.reduce((total, harmonic) => total + harmonic.rms, rms) +
  Math.abs(offset) +
  Math.abs(decay?.initial ?? 0);

/** Where the slope is 0, by Newton's method at 50 digits from a time that is nearly right. */
function crest(wave: Sinusoid, time: number): { readonly time: Reference; readonly peak: Reference } {
  let t = exactly(time);
  for (let round = 0; round < 3; round++) {
    const { slope, bend } = near(wave, t);
    t = t.minus(slope.div(bend));
  }
  return { time: t, peak: near(wave, t).value.abs() };
}

/** Instants over the cycle, evenly and, since a part may decay fast, evenly in their logarithm. */
function instants(frequency: number, count: number): number[] {
  return Array.from({ length: count + 1 }, (_, i) => [i / count, 10 ** ((-12 * i) / count)])
    .flat()
    .map((cycles) => cycles / frequency);
}

describe("the first peak of a fault current", () => {
  test("is within 4 units in the last place of 50 digits, and its time within 1e-14 of a cycle", () => {
    holds(
      fc.property(faults, (fault) => {
        const { peak, time } = firstPeak(fault);
        const exact = crest(fault, time);
        expect(ulpsOff(peak, exact.peak)).toBeLessThanOrEqual(4);
        expect(exactly(time).minus(exact.time).abs().times(exactly(fault.frequency)).toNumber()).toBeLessThan(1e-14);
      }),
      40,
    );
  });

  test("is not reached at any other instant of the first cycle", () => {
    holds(
      fc.property(faults, (fault) => {
        const { peak } = firstPeak(fault);
        for (const t of instants(fault.frequency, 400))
          expect(Math.abs(valueAt(fault, t))).toBeLessThanOrEqual(peak * (1 + 1e-14));
      }),
      30,
    );
  });

  test("of full offset comes shortly before half a cycle, and is above the value at half a cycle", () => {
    holds(
      fc.property(spread(1, 200), (xOverR) => {
        const fault = offsetSinusoid({ rms: 1, frequency: 50, angle: 180, xOverR });
        const { peak, time } = firstPeak(fault);
        expect(time).toBeLessThan(0.01);
        expect(peak).toBeGreaterThan(valueAt(fault, 0.01));
      }),
      60,
    );
  });
});

describe("the greatest magnitude of any sinusoid in its first cycle", () => {
  test("is the magnitude at its time, and no instant has more", () => {
    holds(
      fc.property(waves, (wave) => {
        const { peak, time } = firstPeak(wave);
        const allowed = 2e-14 * sizeOf(wave);
        expect(time).toBeGreaterThanOrEqual(0);
        expect(time).toBeLessThanOrEqual(1 / wave.frequency);
        // Each to its own stated accuracy: that of an instantaneous value falls with order · frequency · t.
        expect(Math.abs(Math.abs(valueAt(wave, time)) - peak)).toBeLessThanOrEqual(allowed);
        for (const t of instants(wave.frequency, 400))
          expect(Math.abs(valueAt(wave, t)) - peak).toBeLessThanOrEqual(allowed);
      }),
      40,
    );
  });

  test("is found beside a part that is gone in a millionth of a cycle, or in less", () => {
    const decays = fc.tuple(spread(-2, 2), spread(-11, -2));
    holds(
      fc.property(angles, decays, (angle, [initial, power]) => {
        const wave = { rms: Math.SQRT1_2, frequency: 1, angle, decay: { initial, tau: 10 ** power } };
        const { peak } = firstPeak(wave);
        for (const t of instants(1, 500)) expect(Math.abs(valueAt(wave, t)) - peak).toBeLessThanOrEqual(6e-14);
      }),
      25,
    );
    const gone = { rms: 1, frequency: 50, angle: -45, decay: { initial: 1, tau: 1e-300 } };
    expect(firstPeak(gone).peak).toBe(2);
    for (const tau of [5e-324, 1e-310, 1e-200, 1e-100]) {
      const { peak, time } = firstPeak({ ...gone, angle: -50, decay: { initial: 0.25, tau } });
      expect(ulps(peak, Math.SQRT2)).toBeLessThanOrEqual(2);
      expect(time * 50).toBeCloseTo(50 / 360, 14);
    }
  });

  test("of a cosine comes at its first crest or trough, though others are as high", () => {
    holds(
      fc.property(fc.integer({ min: -2880, max: 2880 }), (sixteenths) => {
        const angle = sixteenths / 16;
        const { peak, time } = firstPeak({ rms: 100, frequency: 50, angle });
        // Until the angle is a multiple of 180°.
        const ahead = (360 - angle) % 180;
        expect(ulps(peak, 100 * Math.SQRT2)).toBeLessThanOrEqual(2);
        expect(Math.abs(time - ahead / 360 / 50)).toBeLessThanOrEqual(1e-15 / 50 + 1e-17);
      }),
    );
  });

  test("has its time as exact where the search begins a billionth of a cycle beside it", () => {
    for (const beside of [-1e-9, 1e-9, 1e-8]) {
      const cycles = 7 / 64 + beside;
      const { time } = firstPeak({ rms: 100, frequency: 1, angle: -360 * cycles });
      expect(Math.abs(time - cycles)).toBeLessThanOrEqual(1e-15);
    }
  });

  test("stands at the end of the cycle where the wave is highest there", () => {
    const grows = { rms: 0, frequency: 50, offset: 10, decay: { initial: -5, tau: 0.02 } };
    expect(firstPeak(grows)).toEqual({ peak: valueAt(grows, 0.02), time: 0.02 });
    expect(firstPeak({ ...grows, decay: { initial: 5, tau: 0.02 } })).toEqual({ peak: 15, time: 0 });
    // A fifth of a turn, past its trough and bending upward still.
    const slow = { rms: 0, frequency: 50, offset: 2, harmonics: [{ order: 0.2, rms: Math.SQRT1_2, angle: 190 }] };
    expect(firstPeak(slow).time).toBe(0.02);
    expect(firstPeak({ rms: 0, frequency: 50, offset: -3 })).toEqual({ peak: 3, time: 0 });
    expect(firstPeak({ rms: 0, frequency: 50 })).toEqual({ peak: 0, time: 0 });
  });

  test("is that of the higher of two peaks, by however little, and of the earlier of equal ones", () => {
    const wave = { rms: Math.SQRT1_2, frequency: 50, angle: -90 };
    for (const offset of [1e-3, 1e-8, 1e-12]) {
      const [up, down] = [firstPeak({ ...wave, offset }), firstPeak({ ...wave, offset: -offset })];
      expect([up.time, down.time]).toEqual([0.005, 0.015]);
      for (const { peak } of [up, down]) expect(ulps(peak, 1 + offset)).toBeLessThanOrEqual(2);
    }
    expect(firstPeak(wave).time).toBe(0.005);
  });

  test("has its time as exact where the decaying part bends half as much as the wave does", () => {
    const wave = { rms: Math.SQRT1_2, frequency: 1, angle: -53.4, decay: { initial: 0.512, tau: 0.1 } };
    const { peak, time } = firstPeak(wave);
    const exact = crest(wave, time);
    expect(time).toBeCloseTo(0.1, 2);
    expect(exactly(time).minus(exact.time).abs().toNumber()).toBeLessThan(1e-14);
    expect(ulpsOff(peak, exact.peak)).toBeLessThanOrEqual(4);
  });

  test("is exact on a top as flat as can be", () => {
    // cos x − cos(3x)/9 neither rises nor bends at its top, which is 8/9.
    holds(
      fc.property(spread(-170, -10), (angle) => {
        const third = { order: 3, rms: 1 / 9, angle: 3 * angle + 180 };
        const { peak } = firstPeak({ rms: 1, frequency: 50, angle, harmonics: [third] });
        expect(Math.abs(peak / Math.SQRT2 - 8 / 9)).toBeLessThanOrEqual(2e-14);
      }),
      50,
    );
  });

  test("grows with the wave, and comes later in proportion where the wave is slower", () => {
    holds(
      fc.property(waves, fc.constantFrom(0.125, 2, 1024), (wave, factor) => {
        const [one, more] = [firstPeak(wave), firstPeak(scaled(wave, factor))];
        expect(more.peak).toBe(factor * one.peak);
        expect(more.time).toBe(one.time);
        const slow = firstPeak(slowed(wave, factor));
        expect(Math.abs(slow.peak - one.peak)).toBeLessThanOrEqual(2e-14 * sizeOf(wave));
      }),
      100,
    );
  });

  test("of the highest order that is searched still is that of the order", () => {
    const { peak, time } = firstPeak({ rms: 0, frequency: 50, harmonics: [{ order: 1000, rms: 1, angle: -90 }] });
    expect(ulps(peak, Math.SQRT2)).toBeLessThanOrEqual(2);
    expect(time * 50_000).toBeCloseTo(0.25, 12);
  });
});

function scaled(wave: Sinusoid, by: number): Sinusoid {
  const { rms, offset = 0, decay, harmonics = [] } = wave;
  return {
    ...wave,
    rms: by * rms,
    offset: by * offset,
    harmonics: harmonics.map((harmonic) => ({ ...harmonic, rms: by * harmonic.rms })),
    ...(decay && { decay: { ...decay, initial: by * decay.initial } }),
  };
}

const slowed = (wave: Sinusoid, by: number): Sinusoid => ({
  ...wave,
  frequency: wave.frequency / by,
  ...(wave.decay && { decay: { ...wave.decay, tau: by * wave.decay.tau } }),
});
