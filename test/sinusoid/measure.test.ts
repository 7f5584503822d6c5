import fc from "fast-check";
import { type Measurement, measure, type Sinusoid, sample, thd, valueAt } from "tripwright/sinusoid";
import { describe, expect, test } from "vitest";
import { spread } from "../base/spread.js";
import { holds, runsOf } from "../support/holds.js";
import { normalNoise } from "../support/normal-noise.js";
import { cosine } from "./shapes.js";
import { degreesApart, distance, found, record, recorded } from "./traces.js";

type Given = { readonly others: readonly { readonly rms: number; readonly angle: number }[] } & Sinusoid;

/** A fundamental of 1, five harmonics below it, an offset up to ten times as large. */
const waves: fc.Arbitrary<Given> = fc.record({
  frequency: spread(10, 70),
  offset: spread(-10, 10),
  rms: fc.constant(1),
  angle: spread(-180, 180),
  others: fc.array(fc.record({ rms: spread(0, 0.3), angle: spread(-180, 180) }), { minLength: 5, maxLength: 5 }),
});
const waveOf = ({ others, ...rest }: Given): Sinusoid => ({
  ...rest,
  harmonics: others.map((other, i) => ({ order: i + 2, ...other })),
});

/** The wave that a measurement tells of. */
const told = ({ fundamental = 0, frequency = 0, angle = 0, mean, harmonics = [] }: Measurement): Sinusoid => ({
  rms: fundamental,
  frequency,
  angle,
  offset: mean,
  harmonics,
});

describe("a measurement of a wave and its harmonics", () => {
  test("finds all of them, on any record of two cycles and more, with the frequency unknown", () => {
    holds(
      fc.property(waves, spread(2, 9), spread(20, 60), (given, cycles, perCycle) => {
        const wave = waveOf(given);
        const sampleRate = perCycle * wave.frequency;
        const samples = recorded(wave, Math.ceil(cycles * perCycle), sampleRate);
        const measured = measure(samples, { sampleRate });
        const { frequency = 0, angle = 0, fundamental = 0, harmonics = [] } = measured;
        expect(Math.abs(frequency / wave.frequency - 1)).toBeLessThan(1e-13);
        expect(degreesApart(angle, Number(wave.angle))).toBeLessThan(1e-10);
        expect(Math.abs(fundamental - 1)).toBeLessThan(2e-12);
        expect(Math.abs(measured.mean - Number(wave.offset))).toBeLessThan(2e-12);
        for (const [i, other] of given.others.entries())
          expect(distance(harmonics[i] as (typeof harmonics)[0], other)).toBeLessThan(2e-12);
        expect(measured.residualRms).toBeLessThan(1e-12);
        const squares = given.others.map(({ rms }) => rms ** 2).reduce((a, b) => a + b);
        expect(Math.abs(measured.rms - Math.sqrt(Number(wave.offset) ** 2 + 1 + squares))).toBeLessThan(2e-12);
        expect(Math.abs(Number(measured.thd) - Math.sqrt(squares))).toBeLessThan(2e-12);
        expect(Math.abs(Number(measured.thdR) - Math.sqrt(squares / (1 + squares)))).toBeLessThan(2e-12);
        expect(measured.clipped).toBe(0);
      }),
      60,
    );
  });

  test("tells a wave that goes through the samples", () => {
    holds(
      fc.property(waves, spread(2, 9), (given, cycles) => {
        const wave = waveOf(given);
        const sampleRate = 24 * wave.frequency;
        const samples = recorded(wave, Math.ceil(cycles * 24), sampleRate);
        const found = told(measure(samples, { sampleRate }));
        for (const [n, x] of samples.entries())
          expect(Math.abs(valueAt(found, n / sampleRate) - x)).toBeLessThan(1e-11);
      }),
      30,
    );
  });

  test("keeps to the definitions that it names", () => {
    const noise = normalNoise();
    holds(
      fc.property(waves, spread(0, 0.2), (given, size) => {
        const wave = waveOf(given);
        const sampleRate = 30 * wave.frequency;
        const samples = recorded(wave, 100, sampleRate).map((x) => x + size * noise());
        const found = measure(samples, { sampleRate });
        const { rms, mean, residualRms, fundamental = 0, harmonics = [] } = found;
        const parts = [mean, residualRms, fundamental, ...harmonics.map((harmonic) => harmonic.rms)];
        expect(Math.abs(rms / Math.hypot(...parts) - 1)).toBeLessThan(1e-14);
        const { thdF, thdR } = thd([{ order: 1, rms: fundamental }, ...harmonics]);
        expect([found.thd, found.thdR]).toEqual([thdF, thdR]);
        expect(found.maximum).toBe(Math.max(...samples));
        expect(found.minimum).toBe(Math.min(...samples));
        expect(found.peakToPeak).toBe(found.maximum - found.minimum);
        expect(JSON.parse(JSON.stringify(found))).toEqual(found);
      }),
      60,
    );
  });

  test("over whole cycles has the rms and mean of the samples themselves (Parseval)", () => {
    const noise = normalNoise();
    holds(
      fc.property(waves, fc.integer({ min: 1, max: 5 }), spread(0, 0.2), (given, cycles, size) => {
        const wave = { ...waveOf(given), frequency: 50 };
        // With the frequency given and a single cycle, it is kept; on more it moves off 50 Hz by what the noise calls for.
        const samples = recorded(wave, 41 * cycles, 2050).map((x) => x + (cycles === 1 ? size * noise() : 0));
        const { rms, mean } = measure(samples, { sampleRate: 2050, frequency: 50 });
        const [sum, square] = [samples.reduce((s, x) => s + x, 0), samples.reduce((s, x) => s + x * x, 0)];
        expect(Math.abs(mean - sum / samples.length)).toBeLessThan(1e-12);
        expect(Math.abs(rms / Math.sqrt(square / samples.length) - 1)).toBeLessThan(1e-12);
      }),
      60,
    );
  });
});

describe("a measurement follows its samples", () => {
  const noisy = fc.record({ wave: waves, seed: fc.array(spread(-1, 1), { minLength: 90, maxLength: 90 }) });
  const samplesOf = ({ wave, seed }: { wave: Given; seed: readonly number[] }): number[] =>
    seed.map((x, n) => valueAt({ ...waveOf(wave), frequency: 3 }, n / 90) + 0.1 * x);

  test("exactly, where they are all as many times a power of two", () => {
    holds(
      fc.property(noisy, fc.constantFrom(-990, -3, 7, 1010), (trace, exponent) => {
        const samples = samplesOf(trace);
        const one = measure(samples, { sampleRate: 90 });
        const other = measure(samples.map((x) => x * 2 ** exponent), { sampleRate: 90 }); // biome-ignore format: a pair
        const { rms, mean, fundamental, residualRms, uncertainties } = one;
        for (const [name, value] of Object.entries({ mean, fundamental, residualRms }))
          expect(other[name as "mean"]).toBe(Number(value) * 2 ** exponent);
        // These go through a sum of squares that is scaled in its own way.
        expect(Math.abs(other.rms / (rms * 2 ** exponent) - 1)).toBeLessThan(1e-15);
        expect(Math.abs(other.uncertainties.rms / (uncertainties.rms * 2 ** exponent) - 1)).toBeLessThan(1e-14);
        expect([other.frequency, other.angle]).toEqual([one.frequency, one.angle]);
        expect(Math.abs(Number(other.thd) - Number(one.thd))).toBeLessThan(1e-15);
      }),
      30,
    );
  });

  test("in mean, extremes and rms alone, where a constant is added", () => {
    holds(
      fc.property(noisy, spread(-1000, 1000), (trace, constant) => {
        const samples = samplesOf(trace);
        const one = measure(samples, { sampleRate: 90 });
        const other = measure(samples.map((x) => x + constant), { sampleRate: 90 }); // biome-ignore format: a pair
        expect(Math.abs(other.mean - one.mean - constant)).toBeLessThan(1e-9);
        expect(Math.abs(other.rms ** 2 - other.mean ** 2 - (one.rms ** 2 - one.mean ** 2))).toBeLessThan(1e-8);
        for (const name of ["frequency", "fundamental", "thd", "residualRms"] as const)
          expect(Math.abs(Number(other[name]) - Number(one[name]))).toBeLessThan(1e-9);
      }),
      30,
    );
  });

  test("turned over, in mean and angle", () => {
    holds(
      fc.property(noisy, (trace) => {
        const samples = samplesOf(trace);
        const one = measure(samples, { sampleRate: 90 });
        const other = measure(samples.map((x) => -x), { sampleRate: 90 }); // biome-ignore format: a pair
        expect(other.mean).toBeCloseTo(-one.mean, 12);
        expect([other.maximum, other.minimum]).toEqual([-one.minimum, -one.maximum]);
        expect(degreesApart(Number(other.angle), Number(one.angle) + 180)).toBeLessThan(1e-9);
        expect(Math.abs(other.rms / one.rms - 1)).toBeLessThan(1e-12);
      }),
      30,
    );
  });
});

describe("the standard uncertainties of a measurement", () => {
  test("hold the truth in 68.27 % of the records once, and in 95.45 % twice", () => {
    const noise = normalNoise();
    const runs = runsOf(600);
    const truth = { rms: 2, frequency: 50, offset: 1, harmonics: [{ order: 3, rms: 0.5, angle: 40 }] };
    const errors = Array.from({ length: runs }, (_, i) => {
      const angle = (i * 137.5) % 360;
      const samples = recorded({ ...truth, angle }, 230, 2000).map((x) => x + 0.1 * noise());
      const { uncertainties: u, ...found } = measure(samples, { sampleRate: 2000 });
      const turned = ((Number(found.angle) - angle + 540) % 360) - 180;
      // The noise is part of the rms, and the fit of 41 unknowns takes its share out of what is left.
      const residual = 0.1 * Math.sqrt(1 - 40 / 230);
      return [
        (found.rms - Math.hypot(2, 1, 0.5, 0.1)) / u.rms,
        (found.mean - 1) / u.mean,
        (Number(found.fundamental) - 2) / Number(u.fundamental),
        (Number(found.frequency) - 50) / Number(u.frequency),
        turned / Number(u.angle),
        Math.abs(found.residualRms - residual) / residual / 8,
      ];
    });
    // Of a share p, over all runs, chance leaves no more than 6 √(p(1 − p)/600): once in 500 million.
    const near = (share: number, p: number) =>
      expect(Math.abs(share - p)).toBeLessThan(6 * Math.sqrt((p * (1 - p)) / runs));
    for (const place of [0, 1, 2, 3, 4]) {
      const share = (k: number) => errors.filter((row) => Math.abs(row[place] as number) <= k).length / runs;
      near(share(1), 0.6827);
      near(share(2), 0.9545);
    }
    expect(Math.max(...errors.map((row) => row[5] as number))).toBeLessThan(0.05);
  });

  test("hold the truth of what a converter rounds, also where every cycle meets the same codes", () => {
    for (const perCycle of [16, 20, 64, 80, 96, 80.3])
      for (const codes of [100, 1600]) {
        const errors = Array.from({ length: 60 }, (_, k) => {
          const samples = record(Math.round(10 * perCycle), perCycle, (n) => Math.round(codes * cosine(n + 0.059 * k)));
          const { fundamental, uncertainties } = measure(samples, { sampleRate: 50 * perCycle });
          return (Number(fundamental) - codes / Math.SQRT2) / Number(uncertainties.fundamental);
        });
        // The errors of rounding are not drawn by chance, so that their mean square is near 1, and no more.
        const square = errors.reduce((sum, x) => sum + x * x, 0) / errors.length;
        expect(Math.abs(Math.log2(square)), `${perCycle} a cycle, ${codes} codes`).toBeLessThan(2);
      }
  });

  test("stand on as many degrees of freedom as there are samples more than unknowns", () => {
    const samples = record(64, 64, (n) => cosine(n) + 0.1 * cosine(3 * n));
    const given = { sampleRate: 3200, frequency: 50 };
    // One cycle, its frequency kept: a mean, and cosine and sine of the 31 orders below half the rate.
    expect(measure(samples, given).uncertainties.degreesOfFreedom).toBe(64 - 63);
    expect(found(samples, given).uncertainties.degreesOfFreedom).toBe(64 - 4);
    expect(found(samples, { ...given, fixedFrequency: true }).uncertainties.degreesOfFreedom).toBe(64 - 3);
  });

  test("of the rms is that of the mean where nearly all of it is an offset", () => {
    const noise = normalNoise();
    const samples = recorded({ rms: 1, frequency: 50, offset: 100 }, 400, 2000).map((x) => x + 0.1 * noise());
    const { uncertainties } = measure(samples, { sampleRate: 2000 });
    expect(uncertainties.rms / uncertainties.mean).toBeCloseTo(1, 3);
  });

  test("of pure noise are σ/√N of the mean and σ/√(2N) of the rms", () => {
    const noise = normalNoise();
    const samples = Array.from({ length: 2000 }, () => 3 * noise());
    const { frequency, rms, mean, residualRms, uncertainties } = measure(samples, { sampleRate: 1 });
    expect(frequency).toBeUndefined();
    expect(Math.abs(rms / 3 - 1)).toBeLessThan(0.1);
    expect(uncertainties.mean / (residualRms / Math.sqrt(1999))).toBeCloseTo(1, 12);
    expect(uncertainties.rms).toBeCloseTo(Math.hypot((mean * uncertainties.mean) / rms, rms / Math.sqrt(4000)), 3);
  });
});

test("a frequency that is given may be a fifth off, on a long record as well", () => {
  const wave = { rms: 1, frequency: 49.2, angle: 12, harmonics: [{ order: 5, rms: 0.1 }] };
  const samples = sample(wave, { sampleRate: 2000, count: 20_000 });
  for (const frequency of [41, 50, 58]) {
    const found = measure(samples, { sampleRate: 2000, frequency });
    expect(Math.abs(Number(found.frequency) - 49.2)).toBeLessThan(1e-10);
    expect(Math.abs(Number(found.thd) - 0.1)).toBeLessThan(1e-11);
  }
});
