import fc from "fast-check";
import { type Sinusoid, sample, valueAt } from "tripwright/sinusoid";
import { describe, expect, test } from "vitest";
import { exactly, SQRT2 } from "../base/reference.js";
import { spread } from "../base/spread.js";
import { cosineAfter, placesIn, share } from "../base/tones.js";
import { holds } from "../support/holds.js";

const rmsValues = fc.double({ min: 1e-3, max: 1e5, noNaN: true });
const angles = spread(-720, 720);
const rates = spread(1_000, 50_000);
const starts = fc.oneof(
  fc.integer({ min: -1_000, max: 1_000 }),
  fc.maxSafeInteger().map((n) => Math.trunc(n / 10)),
);

/** The largest sum of all parts. */
const sizeOf = ({ rms, offset = 0, decay, harmonics = [] }: Sinusoid): number =>
  harmonics.reduce((sum, wave) => sum + 1.5 * wave.rms, 1.5 * rms + Math.abs(offset) + Math.abs(decay?.initial ?? 0));

describe("samples of a sinusoid", () => {
  const wholeHertz = fc.integer({ min: 0, max: 180 });
  const harmonic = fc.record({ order: fc.integer({ min: 2, max: 40 }), rms: rmsValues, angle: angles });
  const waves: fc.Arbitrary<Sinusoid> = fc.record({
    rms: rmsValues,
    frequency: wholeHertz,
    angle: angles,
    offset: spread(-1e3, 1e3),
    decay: fc.record({ initial: spread(-1e3, 1e3), tau: spread(1e-4, 1) }),
    harmonics: fc.array(harmonic, { maxLength: 4 }),
  });

  test("are its values at their instants, all parts included, where instants are exact in doubles", () => {
    const sampleRate = 16_384;
    const counts = fc.integer({ min: 0, max: 600 });
    holds(
      fc.property(waves, counts, fc.integer({ min: 0, max: 100_000 }), (wave, count, start) => {
        const samples = sample(wave, { sampleRate, count, start });
        expect(samples.length).toBe(count);
        const allowed = 5e-13 * sizeOf(wave);
        const off = samples.map((x, i) => Math.abs(x - valueAt(wave, (start + i) / sampleRate)));
        expect(off.every((distance) => distance <= allowed)).toBe(true);
      }),
    );
  });

  test("are within 5e-13 of the peak of 50-digit decimals at any frequency, rate and start, and so is a harmonic", () => {
    const shares = fc.oneof(
      spread(0, 0.49),
      spread(-9, -2).map((exponent) => 10 ** exponent),
      fc.constant(0.499_999_99),
    );
    const orders = fc.oneof(fc.integer({ min: 1, max: 50 }), spread(0.1, 50));
    holds(
      fc.property(rates, shares, orders, angles, starts, fc.nat(), (sampleRate, part, order, angle, start, any) => {
        const frequency = (part * sampleRate) / Math.max(1, order);
        const count = 1 + (any % 1_000);
        const range = { sampleRate, count, start };
        const reference = (times: number, n: number) => {
          const cycles = exactly(frequency)
            .times(exactly(times))
            .times(start + n)
            .div(exactly(sampleRate));
          return cosineAfter(cycles.plus(exactly(angle).div(360))).times(SQRT2);
        };
        const fundamental = sample({ rms: 1, frequency, angle }, range);
        const harmonic = sample({ rms: 0, frequency, harmonics: [{ order, rms: 1, angle }] }, range);
        for (const n of placesIn(count, any)) {
          expect(share(fundamental[n], reference(1, n), Math.SQRT2)).toBeLessThanOrEqual(5e-13);
          expect(share(harmonic[n], reference(order, n), Math.SQRT2)).toBeLessThanOrEqual(5e-13);
        }
      }),
      100,
    );
  });

  test("keep their digits at sample a billion, where the time itself has lost them", () => {
    const wave = { rms: 100, frequency: 49.97, angle: 17, harmonics: [{ order: 7, rms: 3, angle: -40 }] };
    const sampleRate = 4_800;
    const start = 1e9;
    const samples = sample(wave, { sampleRate, count: 2_000, start });
    for (const n of [0, 1, 191, 192, 1_998, 1_999]) {
      const cycles = exactly(49.97)
        .times(start + n)
        .div(sampleRate);
      const fundamental = cosineAfter(cycles.plus(exactly(17).div(360))).times(100);
      const seventh = cosineAfter(cycles.times(7).minus(exactly(40).div(360))).times(3);
      expect(share(samples[n], fundamental.plus(seventh).times(SQRT2), 103 * Math.SQRT2)).toBeLessThanOrEqual(5e-13);
    }
    const plain = valueAt(wave, start / sampleRate);
    expect(Math.abs(plain - Number(samples[0]))).toBeGreaterThan(1e-10);
  });

  test("a piece at a time are those of the whole", () => {
    const cuts = fc.integer({ min: 1, max: 2_999 });
    holds(
      fc.property(waves, cuts, starts, (wave, cut, start) => {
        // Far before t = 0 a decaying part would be beyond a double.
        const first = Math.max(start, 0);
        const sampleRate = 14_400.7;
        const whole = sample(wave, { sampleRate, count: 3_000, start: first });
        const pieces = new Float64Array(3_000);
        sample(wave, { sampleRate, count: cut, start: first }, pieces.subarray(0, cut));
        sample(wave, { sampleRate, count: 3_000 - cut, start: first + cut }, pieces.subarray(cut));
        expect(whole.every((x, i) => Math.abs(x - Number(pieces[i])) <= 1e-12 * sizeOf(wave))).toBe(true);
      }),
      100,
    );
  });

  test("of frequency 0 stand still at the cosine of the angle", () => {
    const still = sample({ rms: 100, frequency: 0, angle: 60, offset: 3 }, { sampleRate: 50, count: 400, start: 1e6 });
    expect(still.every((x) => Math.abs(x - (3 + 50 * Math.SQRT2)) <= 1e-14)).toBe(true);
  });

  test("are 0, without a sign, where the wave is nothing", () => {
    const nothing = { rms: 0, frequency: 50, angle: 180, offset: -0, decay: { initial: -0, tau: 1 } };
    expect(sample(nothing, { sampleRate: 4_800, count: 500 }).every((x) => Object.is(x, 0))).toBe(true);
  });

  test("replace whatever the given array holds, and are that array", () => {
    const wave: Sinusoid = {
      rms: 10,
      frequency: 50,
      decay: { initial: 2, tau: 0.1 },
      harmonics: [{ order: 2, rms: 1 }],
    };
    const range = { sampleRate: 4_800, count: 1_003, start: -5 };
    const given = new Float64Array(1_003).fill(Number.NaN);
    expect(sample(wave, range, given)).toBe(given);
    expect(given).toEqual(sample(wave, range));
  });

  test("take a fit as it is: further keys of the data are ignored", () => {
    const fit = { kind: "found", rms: 10, frequency: 50, angle: 5, offset: 1, residualRms: 0.1, order: 9 };
    const range = { sampleRate: 1_000, count: 20 };
    expect(sample(fit, range)).toEqual(sample({ rms: 10, frequency: 50, angle: 5, offset: 1 }, range));
  });
});

describe("a decaying part along the samples", () => {
  test("falls to 1/e in tau, starts above its initial value before t = 0, and does not come back", () => {
    const wave: Sinusoid = { rms: 0, frequency: 50, decay: { initial: 10, tau: 0.05 } };
    const samples = sample(wave, { sampleRate: 1_000, count: 60_000, start: -50 });
    expect(Number(samples[50])).toBeCloseTo(10, 12);
    expect(Number(samples[0]) / Math.E).toBeCloseTo(10, 12);
    expect(Number(samples[100]) * Math.E).toBeCloseTo(10, 12);
    expect(samples.every((x, i) => x >= 0 && (i === 0 || x <= Number(samples[i - 1]) + 1e-300))).toBe(true);
  });

  test("that is over within the first sample leaves nothing behind", () => {
    const wave: Sinusoid = { rms: 0, frequency: 50, decay: { initial: 10, tau: 1e-320 } };
    expect(Array.from(sample(wave, { sampleRate: 1_000, count: 4 }))).toEqual([10, 0, 0, 0]);
  });
});
