/** What people export from recorders: distorted, clipped, noisy, short, coarse, offset, quantized. */
import { type Measurement, measure, valueAt } from "tripwright/sinusoid";
import { describe, expect, test } from "vitest";
import { normalNoise } from "../curve/injections.js";
import { degreesApart, record } from "./traces.js";

const cosine = (cycles: number): number => Math.cos(2 * Math.PI * cycles);
const fraction = (x: number): number => x - Math.floor(x);

/** One cycle of each shape with peak 1, and what its Fourier series has: rms, mean, rms of the fundamental. */
const SHAPES = {
  sine: { at: cosine, rms: Math.SQRT1_2, mean: 0, fundamental: Math.SQRT1_2 },
  square: {
    at: (c: number) => (fraction(c) < 0.5 ? 1 : -1),
    rms: 1,
    mean: 0,
    fundamental: (4 / Math.PI) * Math.SQRT1_2,
  },
  triangle: {
    at: (c: number) => 4 * Math.abs(fraction(c) - 0.5) - 1,
    rms: 1 / Math.sqrt(3),
    mean: 0,
    fundamental: (8 / Math.PI ** 2) * Math.SQRT1_2,
  },
  sawtooth: {
    at: (c: number) => 2 * fraction(c) - 1,
    rms: 1 / Math.sqrt(3),
    mean: 0,
    fundamental: (2 / Math.PI) * Math.SQRT1_2,
  },
  "half-wave": {
    at: (c: number) => Math.max(0, cosine(c)),
    rms: 0.5,
    mean: 1 / Math.PI,
    fundamental: 0.5 * Math.SQRT1_2,
  },
  "full-wave": {
    at: (c: number) => Math.abs(cosine(c / 2)),
    rms: Math.SQRT1_2,
    mean: 2 / Math.PI,
    fundamental: (4 / 3 / Math.PI) * Math.SQRT1_2,
  },
} as const;
type Shape = keyof typeof SHAPES;

interface Record {
  readonly shape: Shape;
  readonly perCycle: number;
  readonly cycles: number;
  readonly noise?: number;
}

/** Twelve records that begin all around the cycle, at 50 Hz, and the largest errors, relative to 1 (or to 50 Hz). */
function errorsOf({ shape, perCycle, cycles, noise = 0 }: Record) {
  const { at, rms, mean, fundamental } = SHAPES[shape];
  const random = normalNoise();
  const worst = { frequency: 0, rms: 0, mean: 0, fundamental: 0 };
  for (let k = 0; k < 12; k++) {
    const samples = record(
      Math.ceil(cycles * perCycle),
      50 * perCycle,
      (t) => at(50 * t + k / 12 + 0.01) + noise * random(),
    );
    const found = measure(samples, { sampleRate: 50 * perCycle });
    const see = (name: keyof typeof worst, error: number) => {
      worst[name] = Math.max(worst[name], Math.abs(error));
    };
    see("frequency", Number(found.frequency) / 50 - 1);
    see("rms", found.rms - Math.hypot(rms, noise));
    see("mean", found.mean - mean);
    see("fundamental", Number(found.fundamental) - fundamental);
  }
  return worst;
}

function within(row: Record, limits: Partial<ReturnType<typeof errorsOf>>): void {
  const worst = errorsOf(row);
  for (const [name, limit] of Object.entries(limits))
    expect(worst[name as keyof typeof worst], `${JSON.stringify(row)}: ${name}`).toBeLessThanOrEqual(limit);
}

const smooth: readonly Shape[] = ["triangle", "half-wave", "full-wave"];
const jumping: readonly Shape[] = ["square", "sawtooth"];

describe("heavily distorted waves, none of whole samples a cycle", () => {
  test("with kinks: rms within 2e-5 from 200 samples a cycle, frequency within 5e-6", () => {
    for (const shape of smooth)
      within({ shape, perCycle: 200.3, cycles: 3.7 }, { rms: 2e-5, frequency: 5e-6, mean: 2e-5, fundamental: 2e-5 });
  });

  test("with jumps, which fall between samples: rms within 2e-3, frequency within half a sample on the record", () => {
    for (const shape of jumping)
      within({ shape, perCycle: 200.3, cycles: 3.7 }, { rms: 2e-3, frequency: 0.5 / 200 / 1.5, mean: 5e-3, fundamental: 2e-3 }); // biome-ignore format: one row
  });

  test("over many cycles of twenty samples: rms within 1e-3, where no order beyond the tenth can be seen", () => {
    for (const shape of smooth) within({ shape, perCycle: 20.3, cycles: 40.7 }, { rms: 1e-3, frequency: 1e-5 });
    for (const shape of jumping) within({ shape, perCycle: 20.3, cycles: 40.7 }, { rms: 5e-3, frequency: 5e-4 });
  });

  test("on a cycle and a half, with whatever noise: a tenth of the peak, the rms within a fifth of it", () => {
    for (const shape of ["sine", "triangle", "half-wave"] as const) {
      within({ shape, perCycle: 200, cycles: 1.5 }, { rms: 2e-3, frequency: 5e-3 });
      within({ shape, perCycle: 200, cycles: 1.5, noise: 0.1 }, { rms: 0.02, frequency: 0.05 });
    }
  });

  test("with noise of a tenth of the peak, over some cycles", () => {
    for (const shape of [...smooth, ...jumping, "sine"] as const)
      within({ shape, perCycle: 100, cycles: 6.3, noise: 0.1 }, { rms: 0.02, frequency: 2e-3, mean: 0.02, fundamental: 0.03 }); // biome-ignore format: one row
  });
});

const waveAt = (f: number) => (t: number) => cosine(f * t);
const seen = (found: Measurement) => [found.frequency, found.rms, found.mean].map((x) => Number(x?.toFixed(9)));

describe("records as they come", () => {
  test("50 Hz at 200 samples a second has a frequency and an rms, but no harmonics to be seen", () => {
    for (const frequency of [49.7, 50, 50.4]) {
      const samples = record(60, 200, (t) => cosine(frequency * t + 0.1) + 5);
      const found = measure(samples, { sampleRate: 200 });
      expect(seen(found)).toEqual([frequency, Number(Math.hypot(5, Math.SQRT1_2).toFixed(9)), 5]);
      expect(degreesApart(Number(found.angle), 36)).toBeLessThan(1e-9);
      expect(found.harmonics).toEqual([]);
      expect("thd" in found || "thdR" in found).toBe(false);
    }
  });

  test("an alias comes out as the frequency that it looks like: 950 Hz as 50 Hz at 1,000 samples a second", () => {
    const found = measure(record(100, 1000, waveAt(950)), { sampleRate: 1000 });
    expect(found.frequency).toBeCloseTo(50, 9);
  });

  test("an offset a million times the wave", () => {
    const found = measure(
      record(500, 5000, (t) => 1e6 + cosine(50 * t)),
      { sampleRate: 5000 },
    );
    expect(Math.abs(Number(found.frequency) - 50)).toBeLessThan(1e-8);
    expect(Math.abs(Number(found.fundamental) - Math.SQRT1_2)).toBeLessThan(1e-9);
    expect(Math.abs(found.mean - 1e6)).toBeLessThan(1e-9);
  });

  test("one cycle, with the frequency given and kept", () => {
    const found = measure(record(20, 1000, waveAt(50)), { sampleRate: 1000, frequency: 50 });
    expect(seen(found)).toEqual([50, Number(Math.SQRT1_2.toFixed(9)), 0]);
    expect(found.uncertainties.frequency).toBe(0);
    expect(Number(found.thd)).toBeLessThan(1e-14);
  });

  test("short pulses, whose harmonics are as strong as the fundamental", () => {
    for (const phase of [0, 0.1, 0.35, 0.6, 0.85]) {
      const samples = record(4000, 10_000, (t) => (fraction(50 * t + phase) < 0.1 ? 1 : 0));
      expect(measure(samples, { sampleRate: 10_000 }).frequency).toBeCloseTo(50, 1);
    }
  });

  test("a third harmonic as large as the fundamental leaves 50 Hz the fundamental", () => {
    const found = measure(
      record(800, 4000, (t) => cosine(50 * t) + cosine(150 * t + 0.2)),
      { sampleRate: 4000 },
    );
    expect(found.frequency).toBeCloseTo(50, 9);
    expect(found.thd).toBeCloseTo(1, 9);
  });

  test("a spike of fifty times the peak", () => {
    const samples = record(2000, 10_000, waveAt(49.9)).with(500, 50);
    const found = measure(samples, { sampleRate: 10_000 });
    expect(Math.abs(Number(found.frequency) - 49.9)).toBeLessThan(0.1);
    expect(found.maximum).toBe(50);
  });

  test("a fault current with its direct part: the fundamental is there, the rest is residual", () => {
    const current = { rms: 1, frequency: 50, angle: 180, decay: { initial: Math.SQRT2, tau: 0.045 } };
    const found = measure(
      record(2000, 10_000, (t) => valueAt(current, t)),
      { sampleRate: 10_000, frequency: 50 },
    );
    expect(Math.abs(Number(found.fundamental) - 1)).toBeLessThan(0.01);
    expect(Math.abs(Number(found.frequency) - 50)).toBeLessThan(0.2);
    expect(found.residualRms).toBeGreaterThan(0.2);
  });

  test("nothing but a constant, or zero", () => {
    for (const value of [0, -0, 3, -1e300]) {
      const found = measure(Array(40).fill(value), { sampleRate: 1000, frequency: 50 });
      const flat = { rms: Math.abs(value), mean: value + 0, maximum: value + 0, minimum: value + 0 };
      expect(found).toEqual({
        ...flat,
        peakToPeak: 0,
        clipped: 0,
        residualRms: 0,
        uncertainties: { rms: 0, mean: 0 },
      });
      expect(Object.values(found)).not.toContain(-0);
    }
  });

  test("noise alone has no frequency, and the rms of its samples", () => {
    const noise = normalNoise();
    for (const count of [60, 1000, 50_000]) {
      const samples = Array.from({ length: count }, () => noise());
      // Of many records of 60 one or two in a hundred may seem to repeat.
      const found = measure(samples, { sampleRate: 1 });
      if (count > 60) expect(found.frequency).toBeUndefined();
      const square = samples.reduce((sum, x) => sum + x * x, 0) / count;
      expect(Math.abs(found.rms / Math.sqrt(square) - 1)).toBeLessThan(0.02);
    }
  });
});

describe("clipped waves", () => {
  const clippedAt = (level: number, from = -level) =>
    record(2000, 10_000, (t) => Math.max(from, Math.min(level, cosine(49.9 * t))));

  test("say what share of the samples lies flat", () => {
    for (const level of [0.98, 0.9, 0.7, 0.4, 0.1]) {
      const { clipped } = measure(clippedAt(level), { sampleRate: 10_000 });
      // The wave is beyond ±level for acos(level)/90° of the time; a run at either end of the record may be cut short.
      expect(Math.abs(clipped - (Math.acos(level) * 2) / Math.PI)).toBeLessThan(0.02);
    }
  });

  test("on one side only as well", () => {
    const { clipped } = measure(clippedAt(0.8, -2), { sampleRate: 10_000 });
    expect(Math.abs(clipped - Math.acos(0.8) / Math.PI)).toBeLessThan(0.01);
    expect(measure(clippedAt(2, -0.8), { sampleRate: 10_000 }).clipped).toBeCloseTo(clipped, 1);
  });

  test("at twenty samples a cycle", () => {
    const samples = record(200, 1000, (t) => Math.max(-0.9, Math.min(0.9, cosine(50 * t))));
    expect(measure(samples, { sampleRate: 1000 }).clipped).toBeCloseTo(0.3, 1);
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
    expect(share(waveAt(50))).toBe(0);
    expect(share(waveAt(2))).toBe(0);
    for (const steps of [3, 5, 10, 20, 100, 127])
      for (const phase of [0, 0.1, 0.2]) expect(share((t) => Math.round(steps * cosine(49.9 * t + phase)))).toBe(0);
  });

  test("nor a square wave of two levels; but flat crests between slopes count, whatever made them", () => {
    expect(share(SHAPES.square.at)).toBe(0);
    expect(share((t) => SHAPES.square.at(49.9 * t))).toBe(0);
    const trapezoid = (t: number) => Math.max(-1, Math.min(1, 4 * SHAPES.triangle.at(50 * t)));
    expect(share(trapezoid)).toBeCloseTo(0.75, 2);
  });

  test("nor triangles, half-waves and crests that a third harmonic makes flat", () => {
    expect(share((t) => SHAPES.triangle.at(49.9 * t))).toBe(0);
    expect(share((t) => cosine(50 * t) - cosine(150 * t) / 9)).toBe(0);
  });
});
