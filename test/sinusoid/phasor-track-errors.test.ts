import { phasorTrack, type TrackOptions, trackWindow } from "tripwright/sinusoid";
import { describe, expect, test } from "vitest";
import { problemsOf } from "../support/failure.js";

const GOOD = { sampleRate: 400, frequency: 50 };
const SAMPLES = Array.from({ length: 20 }, (_, n) => n);

function problem(samples: unknown, ...rest: unknown[]): string {
  const [options, out] = rest.length > 0 ? rest : [GOOD];
  const [first, ...more] = problemsOf(() =>
    phasorTrack(samples as number[], options as TrackOptions, out as Float64Array),
  );
  expect(more).toEqual([]);
  return `${first?.path} ${first?.code}`;
}

describe("a track of phasors is refused", () => {
  test("for options that are wrong, at their path, as is the window alone", () => {
    const rows: readonly (readonly [unknown, string])[] = [
      [undefined, " missing"],
      [null, " wrong-type"],
      [50, " wrong-type"],
      [{ sampleRate: 400 }, "frequency missing"],
      [{ frequency: 50 }, "sampleRate missing"],
      [{ ...GOOD, sampleRate: "400" }, "sampleRate wrong-type"],
      [{ ...GOOD, sampleRate: Number.NaN }, "sampleRate not-finite"],
      [{ ...GOOD, sampleRate: Number.POSITIVE_INFINITY }, "sampleRate not-finite"],
      [{ ...GOOD, sampleRate: 0 }, "sampleRate out-of-range"],
      [{ ...GOOD, frequency: 0 }, "frequency out-of-range"],
      [{ ...GOOD, frequency: -50 }, "frequency out-of-range"],
      [{ ...GOOD, frequency: null }, "frequency wrong-type"],
      [{ ...GOOD, tag: "center" }, "tag unknown-name"],
      [{ ...GOOD, tag: null }, "tag unknown-name"],
      [{ ...GOOD, tags: "first" }, "tags unknown-key"],
    ];
    for (const [options, expected] of rows) {
      expect(problem(SAMPLES, options)).toBe(expected);
      const [first] = problemsOf(() => trackWindow(options as TrackOptions));
      expect(`${first?.path} ${first?.code}`).toBe(expected);
    }
  });

  test("for fewer than 2.5 samples a cycle, or more than there can be", () => {
    expect(problemsOf(() => trackWindow({ sampleRate: 100, frequency: 50 }))).toEqual([
      {
        code: "out-of-range",
        path: "sampleRate",
        expected: "a sample rate from 125 Hz, 2.5 samples a cycle, to 2147483648 samples a cycle",
        received: "100",
      },
    ]);
    expect(problem(SAMPLES, { sampleRate: 124, frequency: 50 })).toBe("sampleRate out-of-range");
    expect(problem(SAMPLES, { sampleRate: 50, frequency: 400 })).toBe("sampleRate out-of-range");
    expect(problem(SAMPLES, { sampleRate: 1e200, frequency: 1e-200 })).toBe("sampleRate out-of-range");
    expect(trackWindow({ sampleRate: 125, frequency: 50 }).cycle).toBe(3);
  });

  test("for samples that are no list, or no numbers", () => {
    expect(problem(undefined)).toBe("samples missing");
    for (const wrong of [null, 5, "12345678", { length: 20 }, new DataView(new ArrayBuffer(80))]) {
      expect(problem(wrong)).toBe("samples wrong-type");
    }
    expect(problem([...SAMPLES.slice(1), "5"])).toBe("samples[19] wrong-type");
    expect(problem([...SAMPLES, null, 5])).toBe("samples[20] wrong-type");
  });

  test("for a sample that is not finite, wherever it stands, cycles whole or not", () => {
    for (const bad of [Number.NaN, Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY]) {
      for (const place of [0, 7, 8, 1023, 1024, 1031, 1032, 2499]) {
        const samples = new Float64Array(2500).fill(1);
        samples[place] = bad;
        for (const frequency of [50, 47]) {
          expect(problem(samples, { sampleRate: 400, frequency })).toBe(`samples[${place}] not-finite`);
        }
      }
    }
  });

  test("for less than a cycle", () => {
    expect(problem(SAMPLES.slice(0, 7))).toBe("samples wrong-length");
    expect(problem([])).toBe("samples wrong-length");
    expect(phasorTrack(SAMPLES.slice(0, 8), GOOD)).toHaveLength(2);
  });

  test("for an array to fill that does not fit, or is none", () => {
    expect(problem(SAMPLES, GOOD, new Float64Array(25))).toBe("out wrong-length");
    expect(problem(SAMPLES, GOOD, new Float64Array(27))).toBe("out wrong-length");
    expect(problem(SAMPLES, GOOD, new Array(26))).toBe("out wrong-type");
  });

  test("where phasors leave the range of a double, rather than infinite or NaN", () => {
    const step = Array.from({ length: 40 }, (_, n) => (n < 20 ? 1.7e308 : -1.7e308));
    expect(problem(step)).toBe("samples out-of-range");
    // The sum over the window still fits; what must be undone of 2.5 samples a cycle takes it beyond.
    const corner = [1.79e308, -1.79e308, -1.79e308];
    expect(problem(corner, { sampleRate: 125, frequency: 50 })).toBe("samples out-of-range");
    expect(phasorTrack(corner, { sampleRate: 150, frequency: 50 }).every(Number.isFinite)).toBe(true);
  });
});
