import { measure } from "tripwright/sinusoid";
import { describe, expect, test } from "vitest";
import { normalNoise } from "../support/normal-noise.js";
import { cosine, SHAPES } from "./shapes.js";
import { record } from "./traces.js";

describe("clipped waves", () => {
  const clippedAt = (level: number, from = -level) =>
    record(2000, 10_000, (t) => Math.max(from, Math.min(level, cosine(49.9 * t))));

  test("say what share of the samples lies flat", () => {
    for (const level of [0.99, 0.98, 0.9, 0.7, 0.4, 0.1]) {
      const { clipped } = measure(clippedAt(level), { sampleRate: 10_000 });
      // The wave is beyond ±level for acos(level)/90° of the time; a run at either end of the record may be cut short.
      expect(Math.abs(clipped - (Math.acos(level) * 2) / Math.PI)).toBeLessThan(0.02);
    }
  });

  test("on one side only as well", () => {
    const { clipped } = measure(clippedAt(0.8, -2), { sampleRate: 10_000 });
    expect(Math.abs(clipped - Math.acos(0.8) / Math.PI)).toBeLessThan(0.01);
    expect(measure(clippedAt(2, -0.8), { sampleRate: 10_000 }).clipped).toBeCloseTo(clipped, 1);
    // The crests of the other side are flat from the converter alone, and do not count.
    const samples = record(2000, 10_000, (t) => Math.round(100 * Math.max(-0.5, cosine(49.9 * t))));
    expect(Math.abs(measure(samples, { sampleRate: 10_000 }).clipped - 1 / 3)).toBeLessThan(0.02);
  });

  test("at twenty samples a cycle", () => {
    const samples = record(200, 1000, (t) => Math.max(-0.9, Math.min(0.9, cosine(50 * t))));
    expect(measure(samples, { sampleRate: 1000 }).clipped).toBeCloseTo(0.3, 1);
  });

  test("at a rate locked to the wave, where few different values are met", () => {
    for (const perCycle of [12, 16, 20, 80])
      for (const level of [0.5, 0.7, 0.8])
        for (const phase of [0.1, 0.3, 0.5]) {
          const samples = record(10 * perCycle, perCycle, (n) => Math.max(-level, Math.min(level, cosine(n + phase / perCycle)))); // biome-ignore format: one line
          const flat = samples.filter((x) => Math.abs(x) === level).length / samples.length;
          // Of two samples in a row nobody can say whether they are flat.
          if (flat * perCycle < 6) continue;
          expect(measure(samples, { sampleRate: 50 * perCycle }).clipped).toBeCloseTo(flat, 1);
        }
  });

  test("where the source clips and the converter adds its noise: what lies within the noise counts", () => {
    const noise = normalNoise();
    for (const [level, codes] of [
      [0.8, 0.3],
      [0.95, 0.3],
      [0.8, 3],
    ] as const) {
      const at = (t: number) => 1280 * Math.max(-level, Math.min(level, cosine(50 * t + 0.1)));
      const samples = record(2000, 10_000, (t) => Math.round(at(t) + codes * noise()));
      const { clipped } = measure(samples, { sampleRate: 10_000 });
      expect(Math.abs(clipped - (Math.acos(level) * 2) / Math.PI)).toBeLessThan(0.02);
    }
  });

  test("through a converter of eight bits", () => {
    const samples = record(3000, 10_000, (t) => Math.max(-90, Math.min(90, Math.round(100 * cosine(49.9 * t)))));
    expect(measure(samples, { sampleRate: 10_000 }).clipped).toBeCloseTo(0.29, 1);
  });
});

describe("waves that are not clipped", () => {
  const share = (at: (t: number) => number, count = 3000) =>
    measure(record(count, 10_000, at), { sampleRate: 10_000 }).clipped;

  test("have no share: sines, from a coarse converter too, whose crests are flat for many samples", () => {
    expect(share((t) => cosine(50 * t))).toBe(0);
    expect(share((t) => cosine(10 * t))).toBe(0);
    for (const steps of [3, 5, 10.49, 20.49, 99.7, 127.499])
      for (const phase of [0, 0.1, 0.2]) expect(share((t) => Math.round(steps * cosine(49.9 * t + phase)))).toBe(0);
  });

  test("from noise, at any size of it", () => {
    const noise = normalNoise();
    for (const codes of [0.3, 1, 3, 30])
      expect(share((t) => Math.round(1000 * cosine(49.9 * t + 0.1) + codes * noise()))).toBe(0);
  });

  test("nor mains with flattened crests, through a converter of eight or twelve bits", () => {
    for (const peak of [100, 127, 2047])
      for (const [third, fifth] of [
        [0.01, 0],
        [0.02, 0],
        [0.05, 0],
        [0.03, -0.02],
        [0.03, 0.02],
      ] as const)
        for (const at of [49.9, 50]) {
          const crest = (x: number) => cosine(x) - third * cosine(3 * x) - fifth * cosine(5 * x);
          const samples = record(2000, 20_000, (t) => Math.round(peak * crest(at * t + 0.05)));
          expect(measure(samples, { sampleRate: 20_000 }).clipped).toBe(0);
        }
  });

  test("nor a square wave of two levels; but flat crests between slopes count, whatever made them", () => {
    expect(share(SHAPES.square.at)).toBe(0);
    expect(share((t) => SHAPES.square.at(49.9 * t))).toBe(0);
    const trapezoid = (t: number) => Math.max(-1, Math.min(1, 4 * SHAPES.triangle.at(50 * t)));
    expect(share(trapezoid)).toBeCloseTo(0.75, 2);
  });

  test("nor triangles, and crests that a third harmonic makes flat", () => {
    expect(share((t) => SHAPES.triangle.at(49.9 * t))).toBe(0);
    expect(share((t) => cosine(50 * t) - cosine(150 * t) / 9)).toBe(0);
  });

  test("but a half-wave is a sine that is clipped at zero, for half of the time", () => {
    expect(share((t) => SHAPES["half-wave"].at(49.9 * t))).toBeCloseTo(0.5, 2);
  });
});
