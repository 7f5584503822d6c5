import fc from "fast-check";
import { phasorTrack, type TimeTag, totalVectorError, trackWindow } from "tripwright/sinusoid";
import { describe, expect, test } from "vitest";
import { type ComplexReference, exactly, gap } from "../base/reference.js";
import { spread } from "../base/spread.js";
import { holds } from "../support/holds.js";
import { phasorOf, sampled, truth, unevenSums, windowSums } from "./windows.js";

const TAGS: readonly TimeTag[] = ["first", "centre", "last"];
const angles = spread(-180, 180);
const samplesOf = (length: number) => fc.array(spread(-1, 1), { minLength: length, maxLength: length });

/** How far phasor k lies from its reference. */
const off = (track: ArrayLike<number>, k: number, reference: ComplexReference): number =>
  gap(phasorOf(track, k), reference).toNumber();

const largest = (list: ArrayLike<number>): number =>
  Array.from(list).reduce((most, x) => Math.max(most, Math.abs(x)), 0);

/** √2 · cos(360 · f/sampleRate · n + angle) in plain doubles, good to 1e-12 for short records. */
const wave = (f: number, sampleRate: number, angle: number, count: number): Float64Array =>
  Float64Array.from({ length: count }, (_, n) => Math.SQRT2 * Math.cos(radians((360 * f * n) / sampleRate + angle)));
const radians = (degrees: number): number => (degrees * Math.PI) / 180;

/** The kernel of Dirichlet, sin(Nx)/(N sin x). */
const droop = (degrees: number, n: number): number =>
  degrees === 0 ? 1 : Math.sin(radians(n * degrees)) / (n * Math.sin(radians(degrees)));

describe("the window of a track", () => {
  test("is the nearest whole number of samples to a cycle", () => {
    holds(
      fc.property(spread(40, 70), spread(3.5, 500), (frequency, samples) => {
        const sampleRate = frequency * samples;
        const { cycle } = trackWindow({ sampleRate, frequency });
        expect(Number.isInteger(cycle)).toBe(true);
        expect(Math.abs(cycle - sampleRate / frequency)).toBeLessThanOrEqual(0.5);
      }),
    );
    expect(trackWindow({ sampleRate: 4000, frequency: 60 }).cycle).toBe(67);
    expect(trackWindow({ sampleRate: 125, frequency: 50 }).cycle).toBe(3);
  });

  test("is tagged at its first sample, at its last, or in the middle between them, which is the default", () => {
    const at = (tag?: TimeTag) => trackWindow({ sampleRate: 1000, frequency: 50, ...(tag && { tag }) }).delay;
    expect([at("first"), at("centre"), at("last"), at()]).toEqual([0, 0.0095, 0.019, 0.0095]);
  });
});

describe("the phasors of a track", () => {
  test("are the sums over their windows, within 1e-14 of the largest sample, where cycles are whole", () => {
    // Small blocks of 3 to 1,024 samples a cycle; the windows looked at stand on both sides of where blocks meet.
    const cases = fc.integer({ min: 3, max: 40 }).chain((cycle) =>
      fc.record({
        cycle: fc.constant(cycle),
        samples: samplesOf(64),
        windows: fc.array(fc.integer({ min: 0, max: 2100 }), { minLength: 3, maxLength: 3 }),
      }),
    );
    holds(
      fc.property(cases, ({ cycle, samples, windows }) => {
        const long = Float64Array.from({ length: 2100 + cycle }, (_, n) => (samples[n % 64] as number) * (1 + (n % 7)));
        const track = phasorTrack(long, { sampleRate: 50 * cycle, frequency: 50 });
        const block = cycle * Math.floor(1024 / cycle);
        const sumOf = windowSums(cycle);
        for (const k of [0, 1, block - 1, block, block + 1, 2100, ...windows]) {
          expect(off(track, k, sumOf(long, k))).toBeLessThanOrEqual(1e-14 * largest(long));
        }
        expect(track.length).toBe(2 * 2101);
      }),
      40,
    );
  });

  test("are what a cosine and a sine of the nominal frequency must have been, within 1e-14, where cycles are not whole", () => {
    const cases = fc.record({
      samples: samplesOf(61),
      perCycle: spread(2.5, 20),
      k: fc.integer({ min: 0, max: 1500 }),
    });
    holds(
      fc.property(cases, ({ samples, perCycle, k }) => {
        const options = { sampleRate: 50 * perCycle, frequency: 50 };
        const { cycle } = trackWindow(options);
        const long = Float64Array.from({ length: 1501 + cycle }, (_, n) => samples[n % 61] as number);
        const track = phasorTrack(long, options);
        const sumOf = unevenSums(cycle, exactly(50).div(exactly(options.sampleRate)));
        for (const window of [k, 1500]) expect(off(track, window, sumOf(long, window))).toBeLessThanOrEqual(1e-14);
      }),
      40,
    );
  });

  test("are the true one in every window and for every tag, at nominal frequency, beside any constant", () => {
    const cases = fc.record({
      frequency: spread(45, 65),
      perCycle: fc.oneof(fc.integer({ min: 3, max: 24 }), spread(2.5, 24)),
      rms: spread(0.1, 100),
      angle: angles,
      constant: spread(-50, 50),
      tag: fc.constantFrom(...TAGS),
    });
    holds(
      fc.property(cases, ({ frequency, perCycle, rms, angle, constant, tag }) => {
        const sampleRate = frequency * perCycle;
        const samples = sampled({ f: frequency, sampleRate, angle, rms, count: 40 }).map((x) => x + constant);
        const track = phasorTrack(samples, { sampleRate, frequency, tag });
        const [expected, scale] = [truth(rms, angle), largest(samples)];
        for (let k = 0; 2 * k < track.length; k++) expect(off(track, k, expected)).toBeLessThanOrEqual(5e-15 * scale);
      }),
      40,
    );
  });
});

describe("a track follows its samples", () => {
  test("what came long before is forgotten, however large it was", () => {
    const samples = Float64Array.from({ length: 3000 }, (_, n) => Math.cos(radians(4.5 * n)));
    samples.fill(1e16, 0, 100);
    const track = phasorTrack(samples, { sampleRate: 4000, frequency: 50 });
    for (const k of [1124, 2000, 2920]) {
      expect(Math.hypot((track[2 * k] as number) - Math.SQRT1_2, track[2 * k + 1] as number)).toBeLessThan(1e-14);
    }
  });

  const records = fc.record({
    perCycle: fc.oneof(fc.integer({ min: 3, max: 30 }), spread(2.5, 30)),
    samples: samplesOf(100),
  });
  const optionsFor = (perCycle: number) => ({ sampleRate: 60 * perCycle, frequency: 60 });

  test("linearly: sums and multiples of samples have the sums and multiples of their phasors", () => {
    holds(
      fc.property(records, samplesOf(100), spread(-9, 9), ({ perCycle, samples }, others, factor) => {
        const options = optionsFor(perCycle);
        const [one, other] = [phasorTrack(samples, options), phasorTrack(others, options)];
        const both = phasorTrack(
          samples.map((x, n) => factor * x + (others[n] as number)),
          options,
        );
        for (const [i, x] of both.entries()) {
          expect(Math.abs(x - factor * (one[i] as number) - (other[i] as number))).toBeLessThan(1e-13);
        }
      }),
      60,
    );
  });

  test("to the bit where they are doubled or halved", () => {
    holds(
      fc.property(records, fc.integer({ min: -300, max: 300 }), ({ perCycle, samples }, exponent) => {
        const plain = samples.map((x) => x + 2 * Math.sign(x));
        const scaled = phasorTrack(
          plain.map((x) => x * 2 ** exponent),
          optionsFor(perCycle),
        );
        expect(scaled.map((x) => x * 2 ** -exponent)).toEqual(phasorTrack(plain, optionsFor(perCycle)));
      }),
      60,
    );
  });

  test("when it begins some samples later: the same phasors, turned by what the reference has turned", () => {
    holds(
      fc.property(records, fc.integer({ min: 1, max: 60 }), ({ perCycle, samples }, later) => {
        const options = optionsFor(perCycle);
        const [whole, rest] = [phasorTrack(samples, options), phasorTrack(samples.slice(later), options)];
        const degrees = (360 * later) / perCycle;
        const [cos, sin] = [Math.cos(radians(degrees)), Math.sin(radians(degrees))];
        for (let k = 0; 2 * k < rest.length; k++) {
          const { re, im } = phasorOf(whole, k + later);
          const turned = { re: re * cos - im * sin, im: re * sin + im * cos };
          expect(Math.hypot(phasorOf(rest, k).re - turned.re, phasorOf(rest, k).im - turned.im)).toBeLessThan(1e-13);
        }
      }),
      60,
    );
  });
});

describe("beside a sinusoid at nominal frequency", () => {
  test("harmonics below half the sample rate leave nothing where a cycle is whole", () => {
    holds(
      fc.property(fc.integer({ min: 5, max: 100 }), fc.nat(), angles, (cycle, n, angle) => {
        const order = 2 + (n % Math.max(1, Math.ceil(cycle / 2) - 2));
        const track = phasorTrack(wave(50 * order, 50 * cycle, angle, 150), { sampleRate: 50 * cycle, frequency: 50 });
        expect(largest(track)).toBeLessThan(1e-12);
      }),
    );
  });

  test("harmonics leave little more than 1/N of themselves where it is not", () => {
    holds(
      fc.property(spread(8, 100), fc.nat(), angles, (perCycle, n, angle) => {
        const sampleRate = 50 * perCycle;
        const order = 2 + (n % (Math.floor(perCycle / 2) - 2));
        const track = phasorTrack(wave(50 * order, sampleRate, angle, 150), { sampleRate, frequency: 50 });
        const { cycle } = trackWindow({ sampleRate, frequency: 50 });
        for (let k = 0; 2 * k < track.length; k++) {
          const { re, im } = phasorOf(track, k);
          expect(Math.hypot(re, im) * cycle).toBeLessThan(1.5 + 1e-12);
        }
      }),
    );
  });
});

describe("off nominal", () => {
  const signals = fc.record({
    f: spread(45, 55),
    cycle: fc.integer({ min: 8, max: 128 }),
    angle: angles,
    rms: spread(0.1, 100),
  });

  test("a phasor is P · X + Q · X*, turning with the deviation and against the sum of the frequencies", () => {
    holds(
      fc.property(signals, ({ f, cycle, angle, rms }) => {
        const sampleRate = 50 * cycle;
        const samples = wave(f, sampleRate, angle, 3 * cycle).map((x) => rms * x);
        const track = phasorTrack(samples, { sampleRate, frequency: 50 });
        const [ahead, sum] = [(360 * (f - 50)) / sampleRate, (360 * (f + 50)) / sampleRate];
        const [p, q] = [rms * droop(ahead / 2, cycle), rms * droop(sum / 2, cycle)];
        for (let k = 0; 2 * k < track.length; k++) {
          const middle = k + (cycle - 1) / 2;
          const [own, mirrored] = [radians(ahead * middle + angle), radians(-sum * middle - angle)];
          const { re, im } = phasorOf(track, k);
          expect(Math.abs(re - p * Math.cos(own) - q * Math.cos(mirrored))).toBeLessThan(1e-12 * rms);
          expect(Math.abs(im - p * Math.sin(own) - q * Math.sin(mirrored))).toBeLessThan(1e-12 * rms);
        }
      }),
      60,
    );
  });

  test("it fits the instant at the centre but for its droop and ripple, and the ends by half a cycle of the deviation less", () => {
    holds(
      fc.property(signals, fc.nat({ max: 200 }), ({ f, cycle, angle, rms }, k) => {
        fc.pre(Math.abs(f - 50) > 0.5);
        const sampleRate = 50 * cycle;
        const samples = wave(f, sampleRate, angle, k + cycle).map((x) => rms * x);
        const found = phasorOf(phasorTrack(samples, { sampleRate, frequency: 50 }), k);
        const errorAt = (tag: TimeTag) => {
          const t = k / sampleRate + trackWindow({ sampleRate, frequency: 50, tag }).delay;
          const at = radians(angle + 360 * (f - 50) * t);
          return totalVectorError(found, { re: rms * Math.cos(at), im: rms * Math.sin(at) });
        };
        const ratio = Math.abs(f - 50) / 50;
        // Droop 1 − sinc(ratio) ≤ (π · ratio)²/6; ripple |f − 50|/(f + 50), and a little more with few samples a cycle.
        expect(errorAt("centre")).toBeLessThan((Math.PI * ratio) ** 2 / 6 + 0.55 * ratio * (1 + 3 / cycle));
        // The deviation turns by 180° · ratio · (N − 1)/N from the centre to either end.
        const away = 2 * Math.sin((Math.PI / 2) * ratio * (1 - 1 / cycle));
        for (const end of ["first", "last"] as const) {
          expect(Math.abs(errorAt(end) - away)).toBeLessThanOrEqual(errorAt("centre") + 1e-12);
        }
      }),
    );
  });
});

describe("a track is written", () => {
  const options = { sampleRate: 400, frequency: 50 };
  const list = Array.from({ length: 20 }, (_, n) => Math.fround(Math.cos(n * n)));
  const expected = phasorTrack(list, options);

  test("into the array that is given, which comes back", () => {
    const out = new Float64Array(26).fill(7);
    expect(phasorTrack(list, options, out)).toBe(out);
    expect(out).toEqual(expected);
  });

  test("from any list of numbers", () => {
    expect(phasorTrack(Float64Array.from(list), options)).toEqual(expected);
    expect(phasorTrack(Float32Array.from(list), options)).toEqual(expected);
  });

  test("rightly over its own samples", () => {
    for (const offset of [0, 3, 14]) {
      const memory = new Float64Array(40);
      const samples = memory.subarray(offset, offset + 20);
      samples.set(list);
      expect(phasorTrack(samples, options, memory.subarray(5, 31))).toEqual(expected);
    }
  });

  test("without a −0", () => {
    for (const frequency of [50, 47]) {
      for (const list of [new Float64Array(3000), new Float64Array(3000).fill(-0)]) {
        const track = phasorTrack(list, { sampleRate: 400, frequency });
        expect(track.every((x) => Object.is(x, 0))).toBe(true);
      }
    }
  });
});
