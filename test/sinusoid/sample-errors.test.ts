import fc from "fast-check";
import { type SampleRange, type Sinusoid, sample } from "tripwright/sinusoid";
import { describe, expect, test } from "vitest";
import { problemsOf } from "../support/failure.js";
import { holds } from "../support/holds.js";

const GOOD: Sinusoid = { rms: 63.5, frequency: 50 };
const RANGE: SampleRange = { sampleRate: 4_800, count: 10 };

function problem(sinusoid: unknown, range: unknown = RANGE, out?: unknown): string {
  const work = () => sample(sinusoid as Sinusoid, range as SampleRange, out as Float64Array);
  const [first, ...more] = problemsOf(work);
  expect(more).toEqual([]);
  return `${first?.path} ${first?.code}`;
}

describe("samples of a sinusoid are refused", () => {
  test("for the sinusoid, as its value at one instant is", () => {
    expect(problem({ ...GOOD, rms: -1 })).toBe("rms out-of-range");
    expect(problem({ ...GOOD, decay: { initial: 1, tau: 0 } })).toBe("decay.tau out-of-range");
    expect(problem({ ...GOOD, harmonics: [{ order: 0, rms: 1 }] })).toBe("harmonics[0].order out-of-range");
    expect(problem(null)).toBe(" wrong-type");
  });

  test("for a range that is not a sample rate and whole numbers", () => {
    const rows: readonly (readonly [object, string])[] = [
      [{ sampleRate: undefined }, "sampleRate missing"],
      [{ sampleRate: "4800" }, "sampleRate wrong-type"],
      [{ sampleRate: Number.NaN }, "sampleRate not-finite"],
      [{ sampleRate: Number.POSITIVE_INFINITY }, "sampleRate not-finite"],
      [{ sampleRate: 0 }, "sampleRate out-of-range"],
      [{ count: undefined }, "count missing"],
      [{ count: -1 }, "count out-of-range"],
      [{ count: 1.5 }, "count out-of-range"],
      [{ count: 2 ** 31 + 1 }, "count out-of-range"],
      [{ count: "10" }, "count wrong-type"],
      [{ start: null }, "start wrong-type"],
      [{ start: 0.5 }, "start out-of-range"],
      [{ start: 2e15 }, "start out-of-range"],
      [{ rate: 4_800 }, "rate unknown-key"],
    ];
    for (const [wrong, expected] of rows) expect(problem(GOOD, { ...RANGE, ...wrong })).toBe(expected);
    for (const wrong of [null, 5, "x", [4_800, 10]]) expect(problem(GOOD, wrong)).toBe(" wrong-type");
    expect(problemsOf(() => sample(GOOD, undefined as never))).toMatchObject([{ path: "", code: "missing" }]);
  });

  test("for an array to fill of another length or kind", () => {
    expect(problem(GOOD, RANGE, new Float64Array(9))).toBe("out wrong-length");
    for (const wrong of [null, new Array(10).fill(0), new Float32Array(10), "0123456789"]) {
      expect(problem(GOOD, RANGE, wrong)).toBe("out wrong-type");
    }
  });

  test("for a sample rate that would show another wave, and say which would do", () => {
    const rates = fc.integer({ min: 1, max: 10_000 });
    holds(
      fc.property(rates, fc.integer({ min: 1, max: 50 }), fc.boolean(), (hertz, order, harmonic) => {
        const highest = harmonic ? order * hertz : hertz;
        const wave: Sinusoid = { rms: 1, frequency: hertz, harmonics: harmonic ? [{ order, rms: 1 }] : [] };
        const at = (sampleRate: number) => sample(wave, { sampleRate, count: 3 });
        expect(problemsOf(() => at(2 * highest))[0]).toMatchObject({
          path: "sampleRate",
          code: "out-of-range",
          expected: `a sample rate above ${2 * highest} Hz, twice the highest frequency`,
        });
        expect(at(2 * highest + 1).length).toBe(3);
      }),
    );
  });

  test("where they are beyond the range of a double, rather than infinite or NaN", () => {
    for (const wave of [
      { rms: 3e307, frequency: 50 },
      { ...GOOD, offset: -1.7e308 },
      { ...GOOD, rms: 2e307, harmonics: [{ order: 2, rms: 1e307 }] },
    ]) {
      expect(problem(wave)).toBe(" out-of-range");
    }
    const decay = { initial: 1, tau: 1 };
    expect(problem({ ...GOOD, decay }, { ...RANGE, start: -1e7 })).toBe(" out-of-range");
    expect(problem({ ...GOOD, decay: { ...decay, initial: 0 } }, { ...RANGE, start: -1e7 })).toBe(" out-of-range");
    expect(problem(GOOD, { ...RANGE, sampleRate: 1e305 })).toBe(" out-of-range");
    expect(problem({ rms: 1, frequency: 5e-324, harmonics: [{ order: 1e305, rms: 1 }] })).toBe(" out-of-range");
  });

  test("or are numbers, whatever numbers come", () => {
    const any = fc.double({ noNaN: true, noDefaultInfinity: true });
    const most = fc.double({ min: 0, noNaN: true, noDefaultInfinity: true });
    const waves = fc.record({
      rms: most,
      frequency: most,
      angle: any,
      offset: any,
      decay: fc.record({ initial: any, tau: most }),
      harmonics: fc.array(fc.record({ order: most, rms: most, angle: any }), { maxLength: 2 }),
    });
    const starts = fc.integer({ min: -1e15, max: 1e15 });
    holds(
      fc.property(waves, most, starts, (wave, sampleRate, start) => {
        let samples: Float64Array;
        try {
          samples = sample(wave, { sampleRate, count: 20, start });
        } catch {
          problemsOf(() => sample(wave, { sampleRate, count: 20, start }));
          return;
        }
        expect(samples.every((x) => Number.isFinite(x) && !Object.is(x, -0))).toBe(true);
      }),
      1_000,
    );
  });
});
