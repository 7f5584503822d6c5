/** Samples of whole sequences against a sine for each sample. */
import { ramp, render, renderChunks, toInt16 } from "tripwright/timeline";
import { compare } from "./compare.js";
import { numpy } from "./numpy.js";

const MILLION = 1_000_000;
const SAMPLE_RATE = 4_800;
const SECONDS = MILLION / SAMPLE_RATE;
const FREQUENCY = 50.2;
const OMEGA = (2 * Math.PI * FREQUENCY) / SAMPLE_RATE;
const PEAK = Math.SQRT2 * 60;
const [out, other] = [new Float64Array(MILLION), new Float64Array(MILLION)];
const clock = { channel: "v", sampleRate: SAMPLE_RATE };
/** @type {import("tripwright/timeline").Wiring} */
const wiring = { v: { quantity: "voltage", feeds: { va: 1 } } };
const base = { rms: 60, frequency: FREQUENCY };

/** One state that takes a million samples. @param {import("tripwright/timeline").ChannelState} state */
const lasting = (state, duration = SECONDS) => ({
  wiring,
  segments: [{ name: "only", duration, channels: { v: state } }],
});

const still = lasting(base);

function sineLoop() {
  for (let n = 0; n < MILLION; n++) other[n] = PEAK * Math.sin(OMEGA * n + Math.PI / 2);
  return other;
}

const IN_NUMPY = {
  setup: `n = np.arange(${MILLION}, dtype=float); x = np.empty_like(n)`,
  work: `np.multiply(n, ${OMEGA}, out=x); np.cos(x, out=x); x *= ${PEAK}`,
  result: "x",
};

const harmonics = [
  { order: 3, rms: 6, angle: 10 },
  { order: 5, rms: 4, angle: -20 },
  { order: 7, rms: 3, angle: 0 },
];
const distorted = lasting({ ...base, harmonics });
const [third, fifth, seventh] = harmonics.map(({ order, rms, angle }) => ({
  peak: Math.SQRT2 * rms,
  omega: order * OMEGA,
  phase: (Math.PI * (angle + 90)) / 180,
}));

function harmonicLoop() {
  const first = { peak: PEAK, omega: OMEGA, phase: Math.PI / 2 };
  const [a, b, c, d] = [first, third ?? first, fifth ?? first, seventh ?? first];
  for (let n = 0; n < MILLION; n++) {
    other[n] =
      a.peak * Math.sin(a.omega * n + a.phase) +
      b.peak * Math.sin(b.omega * n + b.phase) +
      c.peak * Math.sin(c.omega * n + c.phase) +
      d.peak * Math.sin(d.omega * n + d.phase);
  }
  return other;
}

const SWEEP = -10 / SECONDS;
const chirp = lasting({ ...base, frequency: 55, slope: { frequency: SWEEP } });

function chirpLoop() {
  for (let n = 0; n < MILLION; n++) {
    const t = n / SAMPLE_RATE;
    other[n] = PEAK * Math.sin(2 * Math.PI * (55 * t + (SWEEP * t * t) / 2) + Math.PI / 2);
  }
  return other;
}

const codes = new Int16Array(MILLION);
const otherCodes = new Int16Array(MILLION);
const FULL_SCALE = 150;

function codeLoop() {
  for (let n = 0; n < MILLION; n++) {
    otherCodes[n] = Math.round((PEAK / FULL_SCALE) * 32_767 * Math.sin(OMEGA * n + Math.PI / 2));
  }
  return otherCodes;
}

const LEVELS = 100;
const steps = ramp({
  base: { v: { rms: 0, frequency: 50 } },
  lever: { v: { rms: 1 } },
  pieces: Array.from({ length: LEVELS }, (_, i) => ({
    duration: 10_000 / SAMPLE_RATE,
    from: 40 + i / 5,
    to: 40 + i / 5,
  })),
  wiring,
});

function stepsLoop() {
  for (let n = 0; n < MILLION; n++) {
    const level = 40 + Math.floor(n / (MILLION / LEVELS)) / 5;
    other[n] = Math.SQRT2 * level * Math.sin(((2 * Math.PI * 50) / SAMPLE_RATE) * n + Math.PI / 2);
  }
  return other;
}

/** Chunks come and go; the last one is kept and compared. */
function lastOfChunks() {
  /** @type {Float64Array} */
  let last = new Float64Array(0);
  for (const chunk of renderChunks(still, { ...clock, chunk: 50_000 })) last = chunk;
  return last;
}

// Short records first, of times as odd as the long one's: what is timed is the work, not how soon the engine compiles it.
const sweeping = { ...base, harmonics, slope: { frequency: 1 } };
for (let i = 0; i < 500; i++) {
  for (const state of [base, { ...base, harmonics }, sweeping]) {
    toInt16(render(lasting(state, 10_000 / SAMPLE_RATE), clock), { fullScale: FULL_SCALE });
  }
}

compare("one state, a million samples into a given array", [
  { name: "render", run: () => render(still, clock, out) },
  { name: "a loop of Math.sin", run: sineLoop, wanted: 15 },
  numpy("numpy in place", IN_NUMPY, { wanted: 2.3 }),
]);

compare("the same in chunks of 50,000", [
  { name: "renderChunks", run: lastOfChunks },
  { name: "a loop of Math.sin", run: () => sineLoop().subarray(MILLION - 50_000) },
]);

compare("with three harmonics", [
  { name: "render", run: () => render(distorted, clock, out) },
  { name: "a loop of four Math.sin", run: harmonicLoop, wanted: 11 },
]);

compare("a frequency ramp", [
  { name: "render", run: () => render(chirp, clock, out) },
  { name: "a loop of Math.sin", run: chirpLoop, wanted: 4.5 },
]);

compare("a staircase of a hundred levels", [
  { name: "render", run: () => render(steps, clock, out) },
  { name: "a loop of Math.sin", run: stepsLoop },
]);

// A sample a rounding beside a half may fall to either code.
compare(
  "16-bit codes",
  [
    { name: "render and toInt16", run: () => toInt16(render(still, clock, out), { fullScale: FULL_SCALE }, codes) },
    { name: "a loop of Math.sin and Math.round", run: codeLoop, wanted: 16 },
  ],
  { agreement: 1 / 32_000 },
);
