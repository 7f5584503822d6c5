/** Samples of whole sequences against a sine for each sample. */
import { ramp, render } from "tripwright/timeline";
import { compare } from "./compare.js";

const MILLION = 1_000_000;
const SAMPLE_RATE = 5_000;
const SECONDS = MILLION / SAMPLE_RATE;
const [out, other] = [new Float64Array(MILLION), new Float64Array(MILLION)];
const clock = { channel: "v", sampleRate: SAMPLE_RATE };
/** @type {import("tripwright/timeline").Wiring} */
const wiring = { v: { quantity: "voltage", feeds: { va: 1 } } };
const PEAK = Math.SQRT2 * 60;

const steps = ramp({
  base: { v: { rms: 0, frequency: 50 } },
  lever: { v: { rms: 1 } },
  pieces: Array.from({ length: 100 }, (_, i) => ({ duration: SECONDS / 100, from: 40 + i / 5, to: 40 + i / 5 })),
  wiring,
});

function stepsLoop() {
  for (let n = 0; n < MILLION; n++) {
    const level = 40 + Math.floor(n / (MILLION / 100)) / 5;
    other[n] = Math.SQRT2 * level * Math.sin(((2 * Math.PI * 50) / SAMPLE_RATE) * n + Math.PI / 2);
  }
  return other;
}

const still = ramp({
  base: { v: { rms: 60, frequency: 50.2 } },
  lever: {},
  pieces: [{ duration: SECONDS, from: 0, to: 0 }],
  wiring,
});

function sineLoop() {
  const omega = (2 * Math.PI * 50.2) / SAMPLE_RATE;
  for (let n = 0; n < MILLION; n++) other[n] = PEAK * Math.sin(omega * n + Math.PI / 2);
  return other;
}

compare("one state, a million samples", [
  { name: "render", run: () => render(still, clock, out) },
  { name: "Math.sin for each sample", run: sineLoop, wanted: 15 },
]);

compare("a staircase of a hundred levels, a million samples", [
  { name: "render", run: () => render(steps, clock, out) },
  { name: "Math.sin for each sample", run: stepsLoop },
]);

const chirp = ramp({
  base: { v: { rms: 60, frequency: 0 } },
  lever: { v: { frequency: 1 } },
  pieces: [{ duration: SECONDS, from: 45, to: 55 }],
  wiring,
});

function chirpLoop() {
  const rate = 10 / SECONDS;
  for (let n = 0; n < MILLION; n++) {
    const t = n / SAMPLE_RATE;
    other[n] = PEAK * Math.cos(2 * Math.PI * (45 * t + (rate * t * t) / 2));
  }
  return other;
}

compare("a frequency ramp, a million samples", [
  { name: "render", run: () => render(chirp, clock, out) },
  { name: "Math.cos for each sample", run: chirpLoop, wanted: 4.5 },
]);
