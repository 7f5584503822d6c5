import { valueAt } from "tripwright/sinusoid";
import { describe, expect, test } from "vitest";
import { normalNoise } from "../support/normal-noise.js";
import { found, inverseOfSquare, record, recorded } from "./traces.js";

describe("the standard uncertainties of a fit", () => {
  test("are those of whole cycles where the frequency is kept: s/√N of rms and offset, √2 · s/(√N · peak) of the angle", () => {
    const noise = normalNoise();
    const samples = record(100, 1000, (t) => 3 * Math.cos(2 * Math.PI * 50 * t + 1) + 0.2 * noise());
    const fit = found(samples, { sampleRate: 1000, frequency: 50, fixedFrequency: true });
    // Three unknowns: s² is the sum of squares over N − 3.
    const s = fit.residualRms * Math.sqrt(100 / 97);
    expect(fit.uncertainties.rms / (s / 10)).toBeCloseTo(1, 12);
    expect(fit.uncertainties.offset / (s / 10)).toBeCloseTo(1, 12);
    expect(fit.uncertainties.angle / ((s * 180) / Math.PI / 10 / fit.rms)).toBeCloseTo(1, 12);
    expect(fit.uncertainties.frequency).toBe(0);
  });

  test("are those of many cycles where it is not: √6 · s/(π · T · √N · peak) of the frequency, twice as much of the angle", () => {
    const noise = normalNoise();
    // By the formula for a long record; what is short of a record counts by one over its cycles.
    const [count, sampleRate] = [40_000, 1000];
    const samples = record(count, sampleRate, (t) => 3 * Math.cos(2 * Math.PI * 50 * t + 1) + 0.2 * noise());
    const fit = found(samples, { sampleRate, frequency: 50 });
    const s = fit.residualRms * Math.sqrt(count / (count - 4));
    const peak = fit.rms * Math.SQRT2;
    const inFrequency = (Math.sqrt(6) * s) / (Math.PI * (count / sampleRate) * Math.sqrt(count) * peak);
    expect(Math.abs(fit.uncertainties.frequency / inFrequency - 1)).toBeLessThan(1e-3);
    const inAngle = (2 * Math.SQRT2 * s) / Math.sqrt(count) / peak;
    expect(Math.abs(fit.uncertainties.angle / ((inAngle * 180) / Math.PI) - 1)).toBeLessThan(1e-3);
  });

  test("are those of the linearized model on short records, where everything pulls on everything", () => {
    const noise = normalNoise();
    for (const [cycles, angle] of [
      [1.1, 20],
      [1.37, -100],
      [2.6, 75],
    ] as const) {
      const wave = { rms: 2, frequency: 50, angle, offset: 1 };
      const samples = recorded(wave, Math.round(cycles * 20), 1000).map((x) => x + 0.01 * noise());
      const fit = found(samples, { sampleRate: 1000, frequency: 50 });
      const names = ["rms", "angle", "frequency", "offset"] as const;
      const hair = { rms: 1e-5, angle: 1e-4, frequency: 1e-5, offset: 1e-5 };
      const slope = (name: (typeof names)[number], t: number): number =>
        (valueAt({ ...fit, [name]: fit[name] + hair[name] }, t) - valueAt({ ...fit, [name]: fit[name] - hair[name] }, t)) / (2 * hair[name]); // biome-ignore format: one quotient
      const jacobian = Array.from(samples, (_, n) => names.map((name) => slope(name, n / 1000)));
      const variance = (fit.residualRms ** 2 * samples.length) / (samples.length - 4);
      const covariance = inverseOfSquare(jacobian);
      for (const [i, name] of names.entries()) {
        const expected = Math.sqrt(variance * (covariance[i]?.[i] as number));
        expect(Math.abs(fit.uncertainties[name] / expected - 1)).toBeLessThan(1e-3);
      }
    }
  });

  test("hold the truth in 68.27 % of the fits once, and in 95.45 % twice, also on a cycle and a half", () => {
    const noise = normalNoise();
    const runs = 1000;
    const errors = Array.from({ length: runs }, (_, i) => {
      const wave = { rms: 2, frequency: 50, angle: (i * 137.5) % 360, offset: 1 };
      const samples = recorded(wave, 150, 5000).map((x) => x + 0.1 * noise());
      const { uncertainties: u, ...fit } = found(samples, { sampleRate: 5000, frequency: 49 });
      const turned = ((fit.angle - wave.angle + 540) % 360) - 180;
      return [(fit.rms - 2) / u.rms, turned / u.angle, (fit.frequency - 50) / u.frequency, (fit.offset - 1) / u.offset];
    });
    // Of a share p, over all runs, chance leaves no more than 6 √(p(1 − p)/1000): once in 500 million.
    const near = (share: number, p: number) =>
      expect(Math.abs(share - p)).toBeLessThan(6 * Math.sqrt((p * (1 - p)) / runs));
    for (const place of [0, 1, 2, 3]) {
      const share = (k: number) => errors.filter((row) => Math.abs(row[place] as number) <= k).length / runs;
      near(share(1), 0.6827);
      near(share(2), 0.9545);
    }
  });

  test("say that nothing is known of the angle where nothing is there", () => {
    // 100 Hz over whole cycles has nothing of 50 Hz.
    const samples = record(40, 1000, (t) => Math.round(2 * Math.cos(2 * Math.PI * 100 * t)));
    const fit = found(samples, { sampleRate: 1000, frequency: 50, fixedFrequency: true });
    expect(fit.rms).toBeLessThan(1e-15);
    expect(fit.uncertainties.angle).toBeCloseTo(360 / Math.sqrt(12), 10);
  });
});
