/** What a number had to be is said with its unit. */
import {
  cyclesToSeconds,
  fitSinusoid,
  measure,
  phasorTrack,
  sample,
  thd,
  timeConstant,
  valueAt,
  xOverROf,
} from "tripwright/sinusoid";
import { expect, test } from "vitest";
import { problemsOf } from "../support/failure.js";

const samples = sample({ rms: 1, frequency: 50 }, { sampleRate: 1000, count: 60 });
const decaying = (tau: number) => ({ rms: 1, frequency: 50, decay: { initial: 1, tau } });

test.each([
  ["cyclesToSeconds", () => cyclesToSeconds(5, { frequency: 0 }), "a frequency above 0 Hz"],
  ["measure, its rate", () => measure(samples, { sampleRate: 0 }), "a sample rate above 0 Hz"],
  ["measure, its frequency", () => measure(samples, { sampleRate: 1000, frequency: 0 }), "a frequency above 0 Hz"],
  ["fitSinusoid", () => fitSinusoid(samples, { sampleRate: 1000, frequency: -1 }), "a frequency above 0 Hz"],
  ["phasorTrack", () => phasorTrack(samples, { sampleRate: 1000, frequency: 0 }), "a frequency above 0 Hz"],
  ["valueAt, its frequency", () => valueAt({ rms: 1, frequency: -1 }, 0), "a frequency of 0 Hz or more"],
  ["valueAt, its time constant", () => valueAt(decaying(0), 0), "a time constant above 0 s"],
  ["xOverROf, its time constant", () => xOverROf({ tau: -1, frequency: 50 }), "a time constant of 0 s or more"],
  ["xOverROf, its frequency", () => xOverROf({ tau: 0.1, frequency: 0 }), "a frequency above 0 Hz"],
  ["timeConstant", () => timeConstant({ xOverR: 10, frequency: 0 }), "a frequency above 0 Hz"],
])("%s", (_what, ask, expected) => {
  expect(problemsOf(ask)).toMatchObject([{ expected }]);
});

test("a distortion that does not fit a double is refused, not called infinite", () => {
  const spectrum = [
    { order: 1, rms: 1e-200 },
    { order: 3, rms: 1e200 },
  ];
  expect(problemsOf(() => thd(spectrum))).toMatchObject([{ code: "out-of-range", path: "spectrum" }]);
});
