import fc from "fast-check";
import { harmonics, type Sinusoid, thd, valueAt } from "tripwright/sinusoid";
import { describe, expect, test } from "vitest";
import { D, exactly } from "../base/reference.js";
import { spread } from "../base/spread.js";
import { ulps } from "../support/distance.js";
import { holds } from "../support/holds.js";
import { degreesApart, distance, gapTo, leastSquares, recorded } from "./traces.js";

/** A window of whole cycles that are no whole numbers of samples, and what was sampled anyhow. */
const windows = fc.integer({ min: 7, max: 24 }).chain((count) =>
  fc.record({
    samples: fc.array(spread(-1, 1), { minLength: count, maxLength: count }),
    cycles: fc.integer({ min: 1, max: Math.floor((count - 1) / 4) }),
  }),
);

describe("the harmonics of a window", () => {
  test("of whole cycles are those of least squares at 50 digits, whatever else is in the samples", () => {
    holds(
      fc.property(windows, ({ samples, cycles }) => {
        const count = samples.length;
        const spectrum = harmonics(samples, { sampleRate: count, frequency: cycles, highest: 2 });
        // There, each order is fitted as it would be alone.
        const { parts } = leastSquares(samples, exactly(cycles).div(count), 2);
        for (const [i, part] of parts.entries())
          expect(gapTo(spectrum[i] as (typeof spectrum)[0], part)).toBeLessThan(2e-15);
      }),
      12,
    );
  });

  test("of any other length are those of least squares at 50 digits", () => {
    holds(
      fc.property(windows, spread(0, 0.9), ({ samples, cycles }, more) => {
        const count = samples.length;
        const frequency = Math.min(cycles + more, count / 4 - 0.6);
        if (frequency < 1) return;
        const spectrum = harmonics(samples, { sampleRate: count, frequency, highest: 2, window: "any" });
        const { parts } = leastSquares(samples, exactly(frequency).div(count), 2);
        for (const [i, part] of parts.entries())
          expect(gapTo(spectrum[i] as (typeof spectrum)[0], part)).toBeLessThan(2e-14);
      }),
      12,
    );
  });

  const waves = fc.record({
    frequency: spread(10, 70),
    offset: spread(-5, 5),
    rms: spread(0, 3),
    angle: spread(-180, 180),
    others: fc.array(fc.record({ rms: spread(0, 1), angle: spread(-180, 180) }), { minLength: 4, maxLength: 4 }),
  });
  const waveOf = ({ others, ...rest }: { others: { rms: number; angle: number }[] } & Sinusoid): Sinusoid => ({
    ...rest,
    harmonics: others.map((other, i) => ({ order: i + 2, ...other })),
  });

  test("are those that were sampled, over whole cycles and over any", () => {
    holds(
      fc.property(waves, spread(1, 6), (given, cycles) => {
        const wave = waveOf(given);
        const expected = [{ order: 1, ...given }, ...(wave.harmonics ?? [])];
        const sampleRate = 16 * wave.frequency;
        const whole = harmonics(recorded(wave, 48, sampleRate), { sampleRate, frequency: wave.frequency, highest: 5 });
        const any = harmonics(recorded(wave, Math.ceil(16 * cycles), sampleRate), {
          sampleRate,
          frequency: wave.frequency,
          highest: 5,
          window: "any",
        });
        for (const [i, one] of expected.entries()) {
          expect(whole[i]?.order).toBe(i + 1);
          expect(distance(whole[i] as (typeof whole)[0], one)).toBeLessThan(1e-13);
          expect(distance(any[i] as (typeof any)[0], one)).toBeLessThan(1e-13);
        }
      }),
      100,
    );
  });

  test("hold all of the power but that of the mean (Parseval)", () => {
    holds(
      fc.property(windows, ({ samples }) => {
        const odd = samples.length % 2 === 1 ? samples : samples.slice(1);
        const count = odd.length;
        const spectrum = harmonics(odd, { sampleRate: count, frequency: 1 });
        expect(spectrum).toHaveLength((count - 1) / 2);
        const mean = odd.reduce((sum, x) => sum + x, 0) / count;
        const power = odd.reduce((sum, x) => sum + x * x, 0) / count;
        const parts = mean ** 2 + spectrum.reduce((sum, { rms }) => sum + rms ** 2, 0);
        // Sums of so many terms up to 1 on either side may round by half a unit each.
        expect(Math.abs(parts - power)).toBeLessThan(count * Number.EPSILON);
      }),
    );
  });

  test("add up, each with its angle, and do not change with a constant", () => {
    holds(
      fc.property(windows, windows, spread(-3, 3), (first, second, constant) => {
        const count = Math.min(first.samples.length, second.samples.length);
        const options = { sampleRate: count, frequency: 1 };
        const [x, y] = [first.samples.slice(0, count), second.samples.slice(0, count)];
        const sum = x.map((value, n) => value + (y[n] as number) + constant);
        const [one, other, both] = [x, y, sum].map((list) => harmonics(list, options));
        for (const [i, harmonic] of (both ?? []).entries())
          for (const t of [0, 0.3 / (i + 1)]) {
            const at = (each = { order: 1, rms: 0, angle: 0 }) => valueAt({ ...each, frequency: each.order }, t);
            expect(Math.abs(at(harmonic) - at(one?.[i]) - at(other?.[i]))).toBeLessThan(1e-14);
          }
      }),
    );
  });

  test("turn with a window that begins later, each by its order", () => {
    holds(
      fc.property(waves, fc.integer({ min: 1, max: 15 }), (given, later) => {
        const wave = waveOf(given);
        const sampleRate = 16 * wave.frequency;
        const samples = recorded(wave, 48, sampleRate);
        const options = { sampleRate, frequency: wave.frequency };
        const [early, late] = [samples.subarray(0, 32), samples.subarray(later, later + 32)].map((x) =>
          harmonics(x, options),
        );
        for (const [i, one] of (early ?? []).entries()) {
          const other = late?.[i] as typeof one;
          // An angle is told by what there is to tell it from.
          const apart = degreesApart(other.angle, one.angle + (360 * (i + 1) * later) / 16);
          expect((apart * Math.PI * one.rms) / 180).toBeLessThan(1e-13);
        }
      }),
      100,
    );
  });

  test("go up to order 50, or to the last below half the rate", () => {
    const ordersAt = (perCycle: number) =>
      harmonics(recorded({ rms: 1, frequency: 1 }, 2 * perCycle, perCycle), { sampleRate: perCycle, frequency: 1 })
        .length;
    expect([ordersAt(6), ordersAt(7), ordersAt(8), ordersAt(100), ordersAt(101), ordersAt(200)]).toEqual(
      [2, 3, 3, 49, 50, 50], // biome-ignore format: side by side
    );
  });
});

describe("total harmonic distortion", () => {
  const spectra = fc.array(spread(0, 10), { minLength: 2, maxLength: 50 });
  const spectrumOf = (amplitudes: readonly number[]) => amplitudes.map((rms, i) => ({ order: i + 1, rms }));

  test("is the root of the sum of squares over the fundamental, or over all, as 50-digit decimals have it", () => {
    holds(
      fc.property(spectra, (amplitudes) => {
        const { thdF = -1, thdR = -1 } = thd(spectrumOf(amplitudes));
        const square = amplitudes.slice(1).reduce((sum, rms) => sum.plus(exactly(rms).pow(2)), new D(0));
        const fundamental = exactly(amplitudes[0] as number);
        if (fundamental.gt(0)) expect(ulps(thdF, square.sqrt().div(fundamental).toNumber())).toBeLessThan(4);
        else expect(thdF).toBe(-1);
        const all = square.plus(fundamental.pow(2));
        if (all.gt(0)) expect(ulps(thdR, square.sqrt().div(all.sqrt()).toNumber())).toBeLessThan(4);
        expect(thdR).toBeLessThanOrEqual(1);
      }),
    );
  });

  test("does not change with the unit, the order of the list, a d.c. component or angles", () => {
    holds(
      fc.property(spectra, fc.constantFrom(-900, -3, 10, 1000), (amplitudes, exponent) => {
        const list = spectrumOf(amplitudes);
        const expected = thd(list);
        expect(thd(list.map(({ order, rms }) => ({ order, rms: rms * 2 ** exponent })))).toEqual(expected);
        expect(thd([{ order: 0, rms: 99 }, ...list.map((each) => ({ ...each, angle: 30 }))])).toEqual(expected);
        const reversed = thd(list.toReversed());
        expect(ulps(Number(reversed.thdR), Number(expected.thdR))).toBeLessThan(8);
      }),
    );
  });

  test("is absent where there is nothing to divide by", () => {
    expect(thd([])).toEqual({});
    expect(thd([{ order: 0, rms: 5 }, { order: 3, rms: 0 }])).toEqual({}); // biome-ignore format: a pair
    expect(thd([{ order: 3, rms: 2 }])).toEqual({ thdR: 1 });
    expect(thd([{ order: 1, rms: 2 }])).toEqual({ thdF: 0, thdR: 0 });
  });
});
