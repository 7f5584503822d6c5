import fc from "fast-check";
import { type FitSinusoidOptions, fitSinusoid, sample, valueAt } from "tripwright/sinusoid";
import { describe, expect, test } from "vitest";
import { D, exactly } from "../base/reference.js";
import { spread } from "../base/spread.js";
import { holds } from "../support/holds.js";
import { normalNoise } from "../support/normal-noise.js";
import { degreesApart, distance, found, gapTo, leastSquares, record, recorded } from "./traces.js";

const reasonOf = (samples: ArrayLike<number>, options: FitSinusoidOptions): string => {
  const fit = fitSinusoid(samples, options);
  return fit.kind === "none" ? fit.reason : `found ${fit.frequency} Hz`;
};

const waves = fc.record({
  rms: spread(0.001, 1000),
  angle: spread(-180, 180),
  share: spread(-3, 3),
  frequency: spread(15, 65),
  cycles: spread(1.3, 15),
  perCycle: spread(3, 50),
});

describe("a sinusoid is fitted", () => {
  test("no worse where the second step lands so near that a third seems idle", () => {
    // Found by the property below: the parts then followed a last move of 5e-7 rad, and were off by its square.
    const [wave, perCycle] = [
      { rms: 0.001, angle: 108.71209607977795, frequency: 15, offset: -0.003 },
      32.994652359953996,
    ];
    const sampleRate = perCycle * wave.frequency;
    const fit = found(recorded(wave, 69, sampleRate), { sampleRate, frequency: 15 * 1.0473490154453806 });
    expect(Math.abs(fit.rms / wave.rms - 1)).toBeLessThan(2e-14);
    expect(fit.residualRms).toBeLessThan(2e-14 * wave.rms);
  });

  test("so that the one that was sampled comes back, from a start a tenth off", () => {
    holds(
      fc.property(waves, spread(0.9, 1.1), ({ share, cycles, perCycle, ...wave }, off) => {
        const sampleRate = perCycle * wave.frequency;
        const offset = share * wave.rms;
        const samples = recorded({ ...wave, offset }, Math.max(6, Math.ceil(cycles * perCycle)), sampleRate);
        const start = Math.min(off * wave.frequency, 0.4 * sampleRate);
        const fit = found(samples, { sampleRate, frequency: start });
        expect(Math.abs(fit.rms / wave.rms - 1)).toBeLessThan(2e-13);
        expect(Math.abs(fit.frequency / wave.frequency - 1)).toBeLessThan(2e-14);
        expect(degreesApart(fit.angle, wave.angle)).toBeLessThan(2e-11);
        expect(Math.abs(fit.offset - offset)).toBeLessThan(2e-13 * wave.rms);
        expect(fit.residualRms).toBeLessThan(2e-14 * wave.rms);
      }),
    );
  });

  test("with the frequency kept by linear least squares, whatever the samples, as 50-digit decimals have it", () => {
    const cases = fc.record({
      samples: fc.array(spread(-1, 1), { minLength: 8, maxLength: 24 }),
      cycles: spread(1, 3),
      sampleRate: spread(100, 1000),
    });
    holds(
      fc.property(cases, ({ samples, cycles, sampleRate }) => {
        const frequency = (cycles * sampleRate) / samples.length;
        const fit = found(samples, { sampleRate, frequency, fixedFrequency: true });
        const exact = leastSquares(samples, exactly(frequency).div(exactly(sampleRate)), 1);
        expect(gapTo(fit, exact.parts[0] as (typeof exact.parts)[0])).toBeLessThan(1e-14);
        expect(Math.abs(exact.level.minus(fit.offset).toNumber())).toBeLessThan(1e-14);
        const residual = exact.square.div(samples.length).sqrt();
        expect(Math.abs(residual.minus(fit.residualRms).toNumber())).toBeLessThan(1e-14);
        expect(fit.frequency).toBe(frequency);
      }),
      12,
    );
  });

  test("with the frequency at the least of the sum of squares, as 50-digit decimals have it", () => {
    const cases = fc.record({
      noise: fc.array(spread(-1, 1), { minLength: 12, maxLength: 20 }),
      size: spread(0, 0.3),
      cycles: spread(1.5, 4),
      angle: spread(-180, 180),
    });
    holds(
      fc.property(cases, ({ noise, size, cycles, angle }) => {
        const count = noise.length;
        const wave = { rms: 1, frequency: cycles, angle };
        const samples = noise.map((x, n) => valueAt(wave, n / count) + size * x);
        const fit = found(samples, { sampleRate: count, frequency: cycles });
        // Three sums of squares about the answer tell where the parabola through them has its vertex.
        const hair = new D(1e-6);
        const [before, at, after] = [-1, 0, 1].map(
          (side) => leastSquares(samples, exactly(fit.frequency).plus(hair.times(side)).div(count), 1).square,
        ) as [InstanceType<typeof D>, InstanceType<typeof D>, InstanceType<typeof D>];
        const bend = before.plus(after).minus(at.times(2));
        expect(bend.gt(0)).toBe(true);
        const vertex = hair.times(before.minus(after)).div(bend.times(2));
        // The record lasts a second: so many cycles is the error at its end. The hair's own third order is 1e-12.
        expect(Math.abs(vertex.toNumber())).toBeLessThan(1e-11);
        expect(Math.abs(at.div(count).sqrt().minus(fit.residualRms).toNumber())).toBeLessThan(1e-13);
      }),
      10,
    );
  });

  test("from a start a fifth off on records of any length", () => {
    for (const frequency of [41, 60]) {
      for (const count of [300, 3000, 30_000]) {
        const samples = sample({ rms: 3, frequency: 50, angle: 20, offset: 9 }, { sampleRate: 5000, count });
        const fit = found(samples, { sampleRate: 5000, frequency });
        expect(Math.abs(fit.frequency - 50)).toBeLessThan(1e-11);
        expect(Math.abs(fit.rms - 3)).toBeLessThan(1e-11);
      }
    }
  });

  test("as what valueAt makes of it: what is left is what residualRms says", () => {
    const noise = normalNoise();
    const samples = record(200, 1000, (t) => 5 * Math.cos(2 * Math.PI * 51 * t) + 2 + 0.3 * noise());
    for (const fixedFrequency of [true, false]) {
      const fit = found(samples, { sampleRate: 1000, frequency: 51, fixedFrequency });
      const square = samples.reduce((sum, x, n) => sum + (x - valueAt(fit, n / 1000)) ** 2, 0);
      expect(Math.abs(Math.sqrt(square / 200) - fit.residualRms)).toBeLessThan(1e-11);
    }
  });
});

describe("a fit follows its samples", () => {
  const noisy = fc.record({
    samples: fc.array(spread(-1, 1), { minLength: 60, maxLength: 60 }),
    size: spread(0, 0.5),
    angle: spread(-180, 180),
  });
  const traceOf = ({ samples, size, angle }: { samples: number[]; size: number; angle: number }) =>
    samples.map((x, n) => valueAt({ rms: 1, frequency: 3, angle }, n / 60) + size * x);
  const at = { sampleRate: 60, frequency: 3 };

  test("exactly, where they are all as many times a power of two, also near the ends of the range", () => {
    holds(
      fc.property(noisy, fc.constantFrom(-1000, -40, -1, 3, 500, 1020), (trace, exponent) => {
        const samples = traceOf(trace);
        const [one, other] = [found(samples, at), found(samples.map((x) => x * 2 ** exponent), at)]; // biome-ignore format: a pair
        expect(other.rms).toBe(one.rms * 2 ** exponent);
        expect(other.offset).toBe(one.offset * 2 ** exponent);
        expect(other.uncertainties.rms).toBe(one.uncertainties.rms * 2 ** exponent);
        expect([other.angle, other.frequency, other.iterations]).toEqual([one.angle, one.frequency, one.iterations]);
      }),
      100,
    );
  });

  test("in its offset alone, where a constant is added, a large one as well", () => {
    holds(
      fc.property(noisy, spread(-1e4, 1e4), (trace, constant) => {
        const samples = traceOf(trace);
        const [one, other] = [found(samples, at), found(samples.map((x) => x + constant), at)]; // biome-ignore format: a pair
        expect(Math.abs(other.offset - constant - one.offset)).toBeLessThan(1e-10);
        expect(distance(other, one)).toBeLessThan(1e-10);
        expect(Math.abs(other.frequency - one.frequency)).toBeLessThan(1e-10);
      }),
      100,
    );
  });

  test("in its angle, by 360° · frequency · delay, where the record begins later", () => {
    holds(
      fc.property(waves, fc.integer({ min: 1, max: 40 }), ({ share, cycles, perCycle, ...wave }, later) => {
        const sampleRate = perCycle * wave.frequency;
        const count = Math.max(6, Math.ceil(cycles * perCycle));
        const all = recorded({ ...wave, offset: share * wave.rms }, count + later, sampleRate);
        const options = { sampleRate, frequency: wave.frequency };
        const [early, late] = [found(all.subarray(0, count), options), found(all.subarray(later), options)];
        const turn = (360 * wave.frequency * later) / sampleRate;
        expect(degreesApart(late.angle, early.angle + turn)).toBeLessThan(1e-10);
      }),
      100,
    );
  });

  test("linearly, with the frequency kept", () => {
    const lists = fc.array(spread(-1, 1), { minLength: 40, maxLength: 40 });
    holds(
      fc.property(lists, lists, spread(-3, 3), (x, y, factor) => {
        const options = { sampleRate: 40, frequency: 2.7, fixedFrequency: true };
        const both = found(x.map((value, n) => value + factor * (y[n] as number)), options); // biome-ignore format: one sum
        const [one, other] = [found(x, options), found(y, options)];
        expect(Math.abs(both.offset - one.offset - factor * other.offset)).toBeLessThan(1e-14);
        // Its value anywhere adds up as well: so do rms and angle together.
        for (const t of [0, 0.1])
          expect(Math.abs(valueAt(both, t) - valueAt(one, t) - factor * valueAt(other, t))).toBeLessThan(3e-14);
      }),
      100,
    );
  });
});

describe("there is no fit", () => {
  test("of samples that are all equal", () => {
    for (const value of [0, -0, 5, -1e300])
      for (const fixedFrequency of [true, false])
        expect(reasonOf(Array(20).fill(value), { sampleRate: 1000, frequency: 50, fixedFrequency })).toBe("no-signal");
  });

  test("where the sinusoid lies too far from the start", () => {
    const samples = recorded({ rms: 1, frequency: 50 }, 2000, 5000);
    for (const frequency of [20, 25, 100, 230, 2000])
      expect(reasonOf(samples, { sampleRate: 5000, frequency })).toBe("too-far");
  });

  test("where the search does not settle", () => {
    const samples = [1, 4, 5, 5, -3, 4, 4];
    expect(reasonOf(samples, { sampleRate: 12, frequency: 3.5 })).toBe("no-convergence");
    expect(reasonOf(samples, { sampleRate: 12, frequency: 3.5, fixedFrequency: true })).toContain("found");
  });
});
