import { frequencyTrack, type RateOptions, rocofTrack } from "tripwright/sinusoid";
import { describe, expect, test } from "vitest";
import { problemsOf } from "../support/failure.js";

const GOOD = { sampleRate: 200, frequency: 50 };
const PHASORS = Array.from({ length: 20 }, (_, i) => (i % 2 === 0 ? 1 : 0));
const FREQUENCIES = Array.from({ length: 10 }, (_, i) => 50 + i);

type Track = typeof frequencyTrack;
function problem(track: Track, list: unknown, ...rest: unknown[]): string {
  const [options, out] = rest.length > 0 ? rest : [GOOD];
  const [first, ...more] = problemsOf(() => track(list as number[], options as RateOptions, out as Float64Array));
  expect(more).toEqual([]);
  return `${first?.path} ${first?.code}`;
}

const TRACKS: readonly (readonly [string, Track, number[]])[] = [
  ["phasors", frequencyTrack, PHASORS],
  ["frequencies", rocofTrack, FREQUENCIES],
];

describe.each(TRACKS)("a track of %s is refused", (path, track, list) => {
  test("for options that are wrong, at their path", () => {
    const rows: readonly (readonly [unknown, string])[] = [
      [undefined, " missing"],
      [null, " wrong-type"],
      [50, " wrong-type"],
      [{ sampleRate: 200 }, "frequency missing"],
      [{ frequency: 50 }, "sampleRate missing"],
      [{ ...GOOD, sampleRate: "200" }, "sampleRate wrong-type"],
      [{ ...GOOD, sampleRate: Number.NaN }, "sampleRate not-finite"],
      [{ ...GOOD, sampleRate: 0 }, "sampleRate out-of-range"],
      [{ ...GOOD, frequency: -50 }, "frequency out-of-range"],
      [{ ...GOOD, cycles: -1 }, "cycles out-of-range"],
      [{ ...GOOD, cycles: null }, "cycles wrong-type"],
      [{ ...GOOD, cycles: Number.POSITIVE_INFINITY }, "cycles not-finite"],
      [{ ...GOOD, cycle: 1 }, "cycle unknown-key"],
      [{ ...GOOD, tag: "first" }, "tag unknown-key"],
    ];
    for (const [options, expected] of rows) expect(problem(track, list, options)).toBe(expected);
  });

  test("for what is no list, or holds what is no finite number", () => {
    expect(problem(track, undefined)).toBe(`${path} missing`);
    for (const wrong of [null, 5, "5555555555", { length: 20 }])
      expect(problem(track, wrong)).toBe(`${path} wrong-type`);
    for (const place of [0, 3, 9]) {
      for (const bad of [Number.NaN, Number.POSITIVE_INFINITY]) {
        const samples = Float64Array.from(list);
        samples[place] = bad;
        expect(problem(track, samples)).toBe(`${path}[${place}] not-finite`);
        expect(problem(track, Array.from(samples))).toBe(`${path}[${place}] not-finite`);
      }
    }
    expect(problem(track, [...list.slice(1), "5"])).toBe(`${path}[${list.length - 1}] wrong-type`);
  });

  test("for fewer than the span needs", () => {
    const parts = list.length / 10;
    expect(problem(track, list.slice(0, 4 * parts))).toBe(`${path} wrong-length`);
    expect(track(list.slice(0, 5 * parts), GOOD)).toHaveLength(1);
    expect(problem(track, [])).toBe(`${path} wrong-length`);
    expect(problem(track, list, { ...GOOD, cycles: 1e300 })).toBe(`${path} wrong-length`);
    expect(problem(track, list, { sampleRate: 1e300, frequency: 1e-300 })).toBe(`${path} wrong-length`);
  });

  test("for an array to fill that does not fit, or is none", () => {
    for (const length of [5, 7]) expect(problem(track, list, GOOD, new Float64Array(length))).toBe("out wrong-length");
    expect(problem(track, list, GOOD, new Array(6))).toBe("out wrong-type");
  });
});

test("half a phasor is refused", () => {
  expect(problem(frequencyTrack, PHASORS.slice(1))).toBe("phasors wrong-length");
});

test("rates beyond the range of a double are refused, rather than infinite", () => {
  const given = { sampleRate: 1e300, frequency: 1e300, cycles: 0 };
  expect(problem(rocofTrack, [0, 1e300], given)).toBe("sampleRate out-of-range");
  expect(problem(rocofTrack, [-1.7e308, 1.7e308], { ...GOOD, cycles: 0 })).toBe("sampleRate out-of-range");
});
