import {
  type FitSinusoidOptions,
  fitSinusoid,
  type HarmonicsOptions,
  harmonics,
  type MeasureOptions,
  measure,
  thd,
} from "tripwright/sinusoid";
import { describe, expect, test } from "vitest";
import { problemsOf } from "../support/failure.js";

const GOOD = { sampleRate: 400, frequency: 50 };
const SAMPLES = Array.from({ length: 40 }, (_, n) => Math.cos((2 * Math.PI * 50 * n) / 400));

type Door = (samples: unknown, options: unknown) => unknown;
const DOORS: { readonly [name: string]: Door } = {
  fitSinusoid: (samples, options) => fitSinusoid(samples as number[], options as FitSinusoidOptions),
  harmonics: (samples, options) => harmonics(samples as number[], options as HarmonicsOptions),
  measure: (samples, options) => measure(samples as number[], options as MeasureOptions),
};
const doors = Object.entries(DOORS);

function problem(door: Door, samples: unknown, options: unknown = GOOD): string {
  const [first, ...more] = problemsOf(() => door(samples, options));
  expect(more).toEqual([]);
  return `${first?.path} ${first?.code}`;
}

const expectedOf = (door: Door, samples: unknown, options: unknown): string =>
  problemsOf(() => door(samples, options))[0]?.expected ?? "";

describe.each(doors)("%s refuses", (name, door) => {
  test("samples that are no list of finite numbers, by their place", () => {
    const rows: readonly (readonly [unknown, string])[] = [
      [undefined, "samples missing"],
      [null, "samples wrong-type"],
      ["0101010101", "samples wrong-type"],
      [{ length: 40 }, "samples wrong-type"],
      [new DataView(new ArrayBuffer(80)), "samples wrong-type"],
      [SAMPLES.with(7, Number.NaN), "samples[7] not-finite"],
      [SAMPLES.with(0, Number.NEGATIVE_INFINITY), "samples[0] not-finite"],
      [Float64Array.from(SAMPLES.with(39, Number.POSITIVE_INFINITY)), "samples[39] not-finite"],
      [Float64Array.from(SAMPLES.with(0, Number.NaN)), "samples[0] not-finite"],
      [SAMPLES.with(3, "1" as unknown as number), "samples[3] wrong-type"],
      [SAMPLES.with(3, null as unknown as number), "samples[3] wrong-type"],
      [new Array(40), "samples[0] missing"],
      [[...SAMPLES.with(1, 1.7e308), -1.7e308], "samples out-of-range"],
      [[], "samples wrong-length"],
      [SAMPLES.slice(0, 3), "samples wrong-length"],
    ];
    for (const [samples, expected] of rows) expect(problem(door, samples)).toBe(expected);
  });

  test("options that are wrong", () => {
    const rows: readonly (readonly [unknown, string])[] = [
      [null, " wrong-type"],
      [50, " wrong-type"],
      [[400, 50], " wrong-type"],
      [{ frequency: 50 }, "sampleRate missing"],
      [{ ...GOOD, sampleRate: "400" }, "sampleRate wrong-type"],
      [{ ...GOOD, sampleRate: 0 }, "sampleRate out-of-range"],
      [{ ...GOOD, sampleRate: Number.NaN }, "sampleRate not-finite"],
      [{ ...GOOD, frequency: -50 }, "frequency out-of-range"],
      [{ ...GOOD, frequency: Number.POSITIVE_INFINITY }, "frequency not-finite"],
      [{ ...GOOD, frequency: null }, "frequency wrong-type"],
      [{ ...GOOD, samplerate: 400 }, "samplerate unknown-key"],
    ];
    for (const [options, expected] of rows) expect(problem(door, SAMPLES, options)).toBe(expected);
    expect(problem((samples) => door(samples, undefined), SAMPLES)).toBe(" missing");
  });

  test("a record shorter than a cycle, and says how many samples there must be", () => {
    const options = { sampleRate: 4000, frequency: 50 };
    expect(problem(door, SAMPLES, options)).toBe("samples wrong-length");
    expect(expectedOf(door, SAMPLES, options)).toContain("80 samples");
    const cycle = Array.from({ length: 80 }, (_, n) => Math.cos((2 * Math.PI * n) / 80));
    expect(problem(door, cycle.slice(1), options)).toBe("samples wrong-length");
    expect(() => door(cycle, options)).not.toThrow();
  });

  test("a rate that is too low for the frequency, and says what it must be", () => {
    for (const sampleRate of [60, 99, 100, 102]) {
      expect(problem(door, SAMPLES, { sampleRate, frequency: 50 })).toBe("sampleRate out-of-range");
      // 40 samples tell 19.5 cycles at the most.
      expect(Number.parseFloat(expectedOf(door, SAMPLES, { sampleRate, frequency: 50 }))).toBeCloseTo(4000 / 39, 9);
    }
    if (name !== "harmonics") expect(() => door(SAMPLES, { sampleRate: 103, frequency: 50 })).not.toThrow();
  });
});

describe("a fit refuses", () => {
  test("as many unknowns as samples", () => {
    const four = [1, 0, -1, 0];
    expect(problem(DOORS["fitSinusoid"] as Door, four, { sampleRate: 4, frequency: 1 })).toBe("samples wrong-length");
    expect(fitSinusoid(four, { sampleRate: 4, frequency: 1, fixedFrequency: true }).kind).toBe("found");
    expect(fitSinusoid([...four, 1], { sampleRate: 4, frequency: 1 }).kind).toBe("found");
  });

  test("a switch that is neither on nor off, and an absent frequency", () => {
    for (const fixedFrequency of [null, 1, "true", "yes"])
      expect(problem(DOORS["fitSinusoid"] as Door, SAMPLES, { ...GOOD, fixedFrequency })).toBe(
        "fixedFrequency wrong-type",
      );
    for (const name of ["fitSinusoid", "harmonics"])
      expect(problem(DOORS[name] as Door, SAMPLES, { sampleRate: 400 })).toBe("frequency missing");
  });
});

describe("harmonics refuse", () => {
  const door = DOORS["harmonics"] as Door;

  test("windows that do not hold whole cycles, and say how many samples would", () => {
    expect(problem(door, SAMPLES.slice(0, 37))).toBe("samples wrong-length");
    expect(expectedOf(door, SAMPLES.slice(0, 37), GOOD)).toContain("5 in 40 samples");
    expect(expectedOf(door, SAMPLES.slice(0, 33), GOOD)).toContain("4 in 32 samples");
    expect(problem(door, SAMPLES, { ...GOOD, frequency: 50.01 })).toBe("samples wrong-length");
    expect(() => door(SAMPLES.slice(0, 37), { ...GOOD, window: "any" })).not.toThrow();
  });

  test("orders at or above half the rate, or too many to fit, or none", () => {
    for (const highest of [4, 0, 1.5, -1, Number.NaN, "3", null])
      expect(problem(door, SAMPLES, { ...GOOD, highest })).toMatch(/^highest /);
    expect(harmonics(SAMPLES, { ...GOOD, highest: 3 })).toHaveLength(3);
    const long = Array.from({ length: 2400 }, (_, n) => n % 1200);
    const many = { sampleRate: 1200, frequency: 1, highest: 501 };
    expect(harmonics(long, many)).toHaveLength(501);
    expect(problem(door, long, { ...many, window: "any" })).toBe("highest out-of-range");
  });

  test("a window that is none", () => {
    for (const window of ["some", "toString", null])
      expect(problem(door, SAMPLES, { ...GOOD, window })).toBe("window unknown-name");
  });
});

describe("a measurement refuses", () => {
  const door = DOORS["measure"] as Door;
  const wave = (cycles: number) => Array.from({ length: 100 }, (_, n) => Math.sin((2 * Math.PI * cycles * n) / 100));

  test("a record that is too short to tell its frequency, unless that is given", () => {
    for (const cycles of [0.3, 0.5, 0.75, 1, 1.2, 1.35]) {
      expect(problem(door, wave(cycles), { sampleRate: 100 })).toBe("samples wrong-length");
      if (cycles >= 1) expect(measure(wave(cycles), { sampleRate: 100, frequency: cycles }).frequency).toBe(cycles);
    }
    expect(measure(wave(1.5), { sampleRate: 100 }).frequency).toBeCloseTo(1.5, 12);
  });

  test("fewer than eight samples", () => {
    expect(problem(door, [1, 0, -1, 0, 1, 0, -1], { sampleRate: 4, frequency: 1 })).toBe("samples wrong-length");
  });
});

describe("distortion refuses", () => {
  const of = (spectrum: unknown): string => {
    const [first, ...more] = problemsOf(() => thd(spectrum as never));
    expect(more).toEqual([]);
    return `${first?.path} ${first?.code}`;
  };

  test("what is no list of harmonics", () => {
    for (const spectrum of [null, "1", 5, { order: 1, rms: 1 }]) expect(of(spectrum)).toBe("spectrum wrong-type");
    expect(of(undefined)).toBe("spectrum missing");
    expect(of([null])).toBe("spectrum[0] wrong-type");
    expect(of([undefined])).toBe("spectrum[0] missing");
    expect(of([{ order: 1, rms: 1 }, 3])).toBe("spectrum[1] wrong-type");
  });

  test("orders that are not whole or come twice, and amplitudes below 0", () => {
    for (const order of [1.5, -1, Number.NaN, 1e5]) expect(of([{ order, rms: 1 }])).toMatch(/^spectrum\[0\]\.order /);
    expect(of([{ rms: 1 }])).toBe("spectrum[0].order missing");
    expect(of([{ order: 1 }])).toBe("spectrum[0].rms missing");
    expect(of([{ order: 2, rms: -1 }])).toBe("spectrum[0].rms out-of-range");
    expect(of([{ order: 2, rms: Number.POSITIVE_INFINITY }])).toBe("spectrum[0].rms not-finite");
    expect(of([{ order: 2, rms: 1 }, { order: 2, rms: 1 }])).toBe("spectrum[1].order duplicate"); // biome-ignore format: a pair
  });
});
