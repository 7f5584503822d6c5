/** Records in which something happens: dips, jumps, dead stretches, offsets that creep. */
import fc from "fast-check";
import { fitSinusoid, measure } from "tripwright/sinusoid";
import { describe, expect, test } from "vitest";
import { problemsOf } from "../support/failure.js";
import { holds } from "../support/holds.js";
import { cosine } from "./shapes.js";
import { degreesApart, found, record } from "./traces.js";

const RATE = 4000;
const clock = { sampleRate: RATE };
/** 50 Hz over 200 ms, its size and its phase as they are at each instant. */
const wave = (size: (t: number) => number, cycles: (t: number) => number = () => 0.06) =>
  record(800, RATE, (t) => size(t) * cosine(50 * t + cycles(t)));

/** The frequency, where there is one, of the sinusoid that fits best by a scan of kept ones. */
function bestFrequency(samples: Float64Array): number {
  const scan = Array.from({ length: 401 }, (_, i) => 48 + i / 100);
  const residual = (frequency: number) => found(samples, { ...clock, frequency, fixedFrequency: true }).residualRms;
  return scan.reduce((best, frequency) => (residual(frequency) < residual(best) ? frequency : best));
}

describe("a wave that is not all along the record", () => {
  const EVENTS: readonly (readonly [string, Float64Array])[] = [
    ["a dip to a fifth in the middle", wave((t) => (t > 0.06 && t < 0.14 ? 0.2 : 1))],
    ["nothing in the middle", wave((t) => (t > 0.06 && t < 0.14 ? 0 : 1))],
    ["a dip to 0.7 with a jump of phase", wave((t) => (t > 0.08 && t < 0.12 ? 0.7 : 1), (t) => (t > 0.08 && t < 0.12 ? -0.1 : 0.06))], // biome-ignore format: one row
    ["the first half alone", wave((t) => (t < 0.1 ? 1 : 0))],
    ["the last quarter alone", wave((t) => (t > 0.15 ? 1 : 0))],
    ["a load, and then a fault of ten times its size", wave((t) => (t < 0.1 ? 1 : 10))],
  ];

  test.each(EVENTS)("%s: has the frequency that fits best", (_, samples) => {
    const best = bestFrequency(samples);
    for (const given of [clock, { ...clock, frequency: 50 }, { ...clock, frequency: 47 }]) {
      const { frequency, uncertainties } = measure(samples, given);
      // With its harmonics it takes another share of what is not a wave.
      expect(Math.abs(Number(frequency) - best)).toBeLessThan(Number(uncertainties.frequency));
    }
    expect(Math.abs(found(samples, { ...clock, frequency: 50 }).frequency - best)).toBeLessThan(0.01);
  });

  test("a dip of any depth, wherever it lies", () => {
    const dips = fc.record({
      depth: fc.double({ min: 0, max: 1, noNaN: true }),
      from: fc.double({ min: 0, max: 0.13, noNaN: true }),
      lasts: fc.double({ min: 0.01, max: 0.07, noNaN: true }),
      phase: fc.double({ min: 0, max: 1, noNaN: true }),
    });
    holds(
      fc.property(dips, ({ depth, from, lasts, phase }) => {
        const samples = wave((t) => (t > from && t < from + lasts ? depth : 1), () => phase); // biome-ignore format: one line
        expect(Math.abs(Number(measure(samples, clock).frequency) - 50)).toBeLessThan(0.5);
        expect(fitSinusoid(samples, { ...clock, frequency: 50 }).kind).toBe("found");
      }),
      60,
    );
  });

  test("a burst with a phase of its own, which makes as strong components beside the wave", () => {
    // When it begins, how long it lasts, its size, and by how many turns it is ahead.
    for (const [from, lasts, size, turns] of [
      [0.138, 0.023, 1.5, 0.43],
      [0.142, 0.019, 1.7, 0.76],
      [0.046, 0.033, 1.4, 0.31],
      [0.128, 0.01, 2.4, 0.59],
      [0.084, 0.03, 1, 0.74],
      [0.112, 0.026, 1.3, 0.62],
      [0.131, 0.019, 2.7, 0.47],
      [0.082, 0.023, 0.9, 0.3],
    ] as const) {
      const isBurst = (t: number) => t > from && t < from + lasts;
      const samples = wave((t) => (isBurst(t) ? size : 1), (t) => (isBurst(t) ? turns : 0)); // biome-ignore format: one line
      const { frequency, residualRms } = measure(samples, clock);
      expect(Math.abs(Number(frequency) - 50)).toBeLessThan(0.6);
      expect(residualRms).toBeLessThan(1.01 * measure(samples, { ...clock, frequency: 50 }).residualRms);
    }
  });

  test("a spike among dips is not where the record is lively", () => {
    const samples = wave((t) => (t > 0.06 && t < 0.14 ? 0 : 1)).with(400, 30);
    expect(Math.abs(Number(measure(samples, clock).frequency) - 50)).toBeLessThan(0.5);
  });
});

describe("a fault current with its d.c. component", () => {
  test("is no further from the truth than a few of its standard uncertainties, at any rate", () => {
    const off = { frequency: [] as number[], angle: [] as number[] };
    for (const cycles of [2, 3.3, 5, 10, 20])
      for (const sampleRate of [2000, 10_000, 50_000])
        for (const tau of [0.01, 0.045, 0.2])
          for (const at of [0, 60, 180, 250]) {
            const current = (t: number) => cosine(50 * t + at / 360) - cosine(at / 360) * Math.exp(-t / tau);
            const samples = record(Math.round((cycles * sampleRate) / 50), sampleRate, current);
            const { frequency, angle, uncertainties } = measure(samples, { sampleRate, frequency: 50 });
            off.frequency.push(Math.abs(Number(frequency) - 50) / Number(uncertainties.frequency));
            off.angle.push(degreesApart(Number(angle), at) / Number(uncertainties.angle));
          }
    for (const all of Object.values(off)) {
      expect(Math.max(...all)).toBeLessThan(5);
      expect(all.filter((x) => x < 3).length / all.length).toBeGreaterThan(0.95);
    }
  });
});

describe("a wave upon an offset that creeps", () => {
  test.each([10, 30, -40])("by %f times its peak each second: its frequency is found", (rate) => {
    const samples = record(800, RATE, (t) => cosine(50 * t) + rate * t);
    expect(Math.abs(Number(measure(samples, clock).frequency) - 50)).toBeLessThan(0.02);
  });

  test("or dies away, from three times its peak", () => {
    for (const tau of [0.05, 0.1]) {
      const samples = record(800, RATE, (t) => cosine(50 * t) + 3 * Math.exp(-t / tau));
      // As docs/waves.md says: what dies away pulls the frequency.
      expect(Math.abs(Number(measure(samples, clock).frequency) - 50)).toBeLessThan(0.3);
    }
  });

  test("but a piece of a slow wave is one of which too little is there", () => {
    for (const cycles of [0.5, 0.8, 1]) {
      const samples = record(800, RATE, (t) => cosine((cycles / 0.2) * t + 0.1));
      expect(problemsOf(() => measure(samples, clock))).toMatchObject([
        { path: "samples", expected: "a cycle and a half or more, or the frequency as an option" },
      ]);
    }
  });
});
