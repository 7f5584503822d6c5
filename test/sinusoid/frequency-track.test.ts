import fc from "fast-check";
import { frequencyTrack, phasorTrack, rocofTrack, sample } from "tripwright/sinusoid";
import { describe, expect, test } from "vitest";
import { spread } from "../base/spread.js";
import { holds } from "../support/holds.js";

const radians = (degrees: number): number => (degrees * Math.PI) / 180;

/** Phasors magnitude∠angle(t) at the instants of a sample clock. */
function turning(angle: (t: number) => number, { sampleRate, count, magnitude = 1 }: Clock): Float64Array {
  const phasors = new Float64Array(2 * count);
  for (let i = 0; i < count; i++) {
    const degrees = angle(i / sampleRate) % 360;
    phasors.set([magnitude * Math.cos(radians(degrees)), magnitude * Math.sin(radians(degrees))], 2 * i);
  }
  return phasors;
}
interface Clock {
  readonly sampleRate: number;
  readonly count: number;
  readonly magnitude?: number;
}

/** The greatest distance from a value. */
const farthest = (track: ArrayLike<number>, from: number): number =>
  Array.from(track).reduce((most, x) => Math.max(most, Math.abs(x - from)), 0);

/** Samples of a sinusoid at f, 4,000 a second. */
const samplesAt = (f: number, { angle = 0, count = 6000 } = {}): Float64Array =>
  Float64Array.from({ length: count }, (_, n) => Math.cos(radians(((360 * f * n) / 4000 + angle) % 360)));

const GRID = { sampleRate: 4000, frequency: 50 };

describe("the frequency of phasors that turn", () => {
  const nominals = fc.constantFrom(16.7, 50, 60, 400);
  const spans = fc.oneof(fc.constant(0), spread(0.01, 3));

  test("evenly is the nominal one and their turns a second, up to half a turn a sample, at any magnitude", () => {
    const magnitudes = fc.constantFrom(1e-300, 1e-160, 1, 63.5, 1e160, 1e300);
    holds(
      fc.property(nominals, spread(-0.49, 0.49), spans, magnitudes, (frequency, turn, cycles, magnitude) => {
        const sampleRate = 20 * frequency;
        const phasors = turning((t) => 360 * turn * sampleRate * t + 170, { sampleRate, count: 90, magnitude });
        const track = frequencyTrack(phasors, { sampleRate, frequency, cycles });
        expect(farthest(track, frequency + turn * sampleRate)).toBeLessThan(1e-12 * sampleRate);
        expect(track.length).toBe(90 - Math.max(1, Math.round(20 * cycles)));
      }),
    );
  });

  test("faster and faster is that in the middle of the span, and its rate of change everywhere", () => {
    // φ = 180 · rate · t² + 360 · deviation · t: differences over a span are exactly the values in its middle.
    holds(
      fc.property(spread(-3, 3), spread(-20, 20), fc.integer({ min: 1, max: 60 }), (deviation, rate, span) => {
        const sampleRate = 1000;
        const phasors = turning((t) => 180 * rate * t * t + 360 * deviation * t, { sampleRate, count: 400 });
        const given = { sampleRate, frequency: 50, cycles: span / 20 };
        const frequencies = frequencyTrack(phasors, given);
        for (const [i, f] of frequencies.entries()) {
          const middle = (i + span / 2) / sampleRate;
          expect(Math.abs(f - 50 - deviation - rate * middle)).toBeLessThan(1e-12 * sampleRate);
        }
        const rates = rocofTrack(frequencies, given);
        expect(rates.length).toBe(400 - 2 * span);
        expect(farthest(rates, rate)).toBeLessThan((1e-12 * sampleRate * sampleRate) / span);
      }),
    );
  });

  test("is followed through any number of turns, forward and back, without a jump", () => {
    const angle = (t: number) => 36_000 * Math.sin(radians(36 * t));
    const frequencies = frequencyTrack(turning(angle, { sampleRate: 1000, count: 10_000 }), {
      sampleRate: 1000,
      frequency: 50,
      cycles: 0,
    });
    for (const [i, f] of frequencies.entries()) {
      // The slope of 100 turns · sin(36° · t), t in the middle of the step; what the step flattens is below 1e-3 of a mHz.
      const slope = 100 * radians(36) * Math.cos(radians((36 * (i + 0.5)) / 1000));
      expect(Math.abs(f - 50 - slope)).toBeLessThan(1e-5);
    }
  });

  test("stands at nominal where there are none, and jumps only at the ends of such a stretch", () => {
    const phasors = turning(() => 100, { ...GRID, count: 30 });
    phasors.fill(0, 20, 40);
    const track = frequencyTrack(phasors, { ...GRID, cycles: 0 });
    expect(track.findIndex((f) => Math.abs(f - 50) > 1e-9)).toBe(9);
    expect(farthest(track.subarray(10, 19), 50)).toBe(0);
    expect(farthest(track.subarray(20), 50)).toBeLessThan(1e-9);
  });
});

describe("the frequency of a sampled sinusoid", () => {
  test("stands at nominal where a current has ended, whatever rounding a sliding sum leaves of it", () => {
    for (const [frequency, sampleRate] of [[50, 4000], [60, 4000], [50, 3017]] as const) // biome-ignore format: pairs
      for (const angle of [57.3, 0, -120]) {
        const given = { sampleRate, frequency };
        const samples = sample({ rms: 1, frequency, angle }, { sampleRate, count: 2000 });
        samples.fill(0, 400);
        const track = frequencyTrack(phasorTrack(samples, given), given);
        const dead = 400 + Math.ceil(sampleRate / frequency);
        expect(farthest(track.subarray(dead), frequency)).toBe(0);
      }
  });

  const deviations = spread(0.05, 2).chain((d) => fc.constantFrom(d, -d));

  test("at nominal is nominal, and does not change", () => {
    for (const frequency of [50, 60, 49.97]) {
      const given = { sampleRate: 4000, frequency };
      const frequencies = frequencyTrack(phasorTrack(samplesAt(frequency, { angle: 77 }), given), given);
      expect(farthest(frequencies, frequency)).toBeLessThan(1e-10);
      expect(farthest(rocofTrack(frequencies, given), 0)).toBeLessThan(1e-8);
    }
  });

  test("off nominal swings by as much as the deviation from one sample to the next", () => {
    holds(
      fc.property(deviations, (deviation) => {
        const phasors = phasorTrack(samplesAt(50 + deviation), GRID);
        const swing = farthest(frequencyTrack(phasors, { ...GRID, cycles: 0 }), 50 + deviation);
        expect(swing / Math.abs(deviation)).toBeGreaterThan(0.95);
        expect(swing / Math.abs(deviation)).toBeLessThan(1.05);
      }),
      20,
    );
  });

  test("over a cycle swings by its square over the nominal frequency, and the rate of change by 4π times its cube over it", () => {
    holds(
      fc.property(deviations, (deviation) => {
        const frequencies = frequencyTrack(phasorTrack(samplesAt(50 + deviation), GRID), GRID);
        const swing = farthest(frequencies, 50 + deviation) / (deviation ** 2 / 50);
        const rates = farthest(rocofTrack(frequencies, GRID), 0) / ((4 * Math.PI * Math.abs(deviation) ** 3) / 50);
        for (const ratio of [swing, rates]) {
          expect(ratio).toBeGreaterThan(0.9);
          expect(ratio).toBeLessThan(1.1);
        }
      }),
      20,
    );
  });

  test("over samples that are not a whole cycle swings by the deviation times what they are off, too", () => {
    const clocks = fc.record({ frequency: fc.constantFrom(16.7, 50, 60), samples: spread(15, 90) });
    holds(
      fc.property(clocks, deviations, ({ frequency, samples: cycle }, deviation) => {
        const given = { sampleRate: cycle * frequency, frequency };
        const off = Math.round(cycle) / cycle - 1;
        const wave = sample(
          { rms: 1, frequency: frequency + deviation },
          { sampleRate: given.sampleRate, count: 4000 },
        );
        const swing = farthest(frequencyTrack(phasorTrack(wave, given), given), frequency + deviation);
        const [own, byOff] = [deviation / frequency, off].map((share) => share * deviation) as [number, number];
        // A tenth more, as over whole cycles, of either part by itself: they may take from each other.
        const slack = 0.12 * (Math.abs(own) + Math.abs(byOff));
        expect(Math.abs(swing - Math.abs(own + byOff))).toBeLessThan(slack);
      }),
      30,
    );
  });

  test("of three balanced phases together has no swing at all", () => {
    holds(
      fc.property(spread(-5, 5), (deviation) => {
        const phases = [0, -120, 120].map((angle) =>
          phasorTrack(samplesAt(50 + deviation, { angle, count: 800 }), GRID),
        );
        const positive = new Float64Array(2 * 721);
        for (const [p, turn] of [0, 120, -120].entries()) {
          const [cos, sin] = [Math.cos(radians(turn)), Math.sin(radians(turn))];
          const phase = phases[p] as Float64Array;
          for (let i = 0; i < positive.length; i += 2) {
            const [re, im] = [phase[i] as number, phase[i + 1] as number];
            positive[i] = (positive[i] as number) + re * cos - im * sin;
            positive[i + 1] = (positive[i + 1] as number) + re * sin + im * cos;
          }
        }
        expect(farthest(frequencyTrack(positive, { ...GRID, cycles: 0 }), 50 + deviation)).toBeLessThan(1e-9);
      }),
      20,
    );
  });
});

describe("the rate of change of frequency", () => {
  test("is the difference over the span, to the bit, and a constant beside it does not matter", () => {
    const list = fc.array(fc.integer({ min: -1000, max: 1000 }), { minLength: 12, maxLength: 40 });
    holds(
      fc.property(list, fc.integer({ min: 1, max: 8 }), fc.integer({ min: -500, max: 500 }), (list, span, constant) => {
        const given = { sampleRate: 8, frequency: 1, cycles: span / 8 };
        const rates = rocofTrack(list, given);
        expect(Array.from(rates)).toEqual(
          Array.from({ length: list.length - span }, (_, i) => ((Number(list[i + span]) - Number(list[i])) / span) * 8),
        );
        expect(
          rocofTrack(
            list.map((f) => f + constant),
            given,
          ),
        ).toEqual(rates);
      }),
    );
  });

  test("is written over its own frequencies rightly, and without a −0", () => {
    const frequencies = Float64Array.from({ length: 20 }, (_, i) => 50 + Math.sin(i));
    const given = { sampleRate: 100, frequency: 50 };
    const expected = rocofTrack(Array.from(frequencies), given);
    expect(rocofTrack(frequencies, given, frequencies.subarray(2))).toEqual(expected);
    for (const rate of rocofTrack([-0, 0, -0, 0], given)) expect(Object.is(rate, 0)).toBe(true);
  });
});

test("an array that is given is filled and comes back", () => {
  const phasors = turning((t) => 40 * t * t, { sampleRate: 100, count: 20 });
  const given = { sampleRate: 100, frequency: 50 };
  const [frequencies, rates] = [new Float64Array(18), new Float64Array(16)];
  expect(frequencyTrack(phasors, given, frequencies)).toBe(frequencies);
  expect(frequencies).toEqual(frequencyTrack(Array.from(phasors), given));
  expect(rocofTrack(frequencies, given, rates)).toBe(rates);
  expect(rates).toEqual(rocofTrack(frequencies, given));
});
