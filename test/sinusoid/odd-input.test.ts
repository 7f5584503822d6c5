import { amplitudes, offsetSinusoid, sample, valueAt } from "tripwright/sinusoid";
import { expect, test } from "vitest";
import { problemsOf } from "../support/failure.js";

// All found by npm run fuzz.
test("a hole in the list of harmonics is named", () => {
  // biome-ignore lint/suspicious/noSparseArray: the hole is what this is about
  const wave = { rms: 10, frequency: 50, harmonics: [{ order: 3, rms: 1 }, ,] } as never;
  for (const work of [() => valueAt(wave, 0), () => sample(wave, { sampleRate: 1000, count: 4 })])
    expect(problemsOf(work).map(({ path }) => path)).toEqual(["harmonics[1]"]);
});

test("more samples than fit the memory of a small computer are refused, not tried", () => {
  const range = { sampleRate: 1000, count: 2 ** 31 };
  expect(problemsOf(() => sample({ rms: 1, frequency: 50 }, range)).map(({ path }) => path)).toEqual(["count"]);
});

test("no −0 comes out", () => {
  expect(Object.values(amplitudes({ rms: -0 })).some((value) => Object.is(value, -0))).toBe(false);
  expect(offsetSinusoid({ rms: -0, frequency: 50, inception: 0, tau: 0.045 }).rms).toBe(0);
});
