/** Samples of sinusoids against a sine for each sample; phasors along samples against a sum for each window. */
import FFT from "fft.js";
import { phasorTrack, sample } from "tripwright/sinusoid";
import { compare } from "./compare.js";
import { numpy } from "./numpy.js";

const MILLION = 1_000_000;
const SAMPLE_RATE = 4_800;
const range = { sampleRate: SAMPLE_RATE, count: MILLION };
const out = new Float64Array(MILLION);
const other = new Float64Array(MILLION);

/** @type {import("tripwright/sinusoid").Sinusoid} */
const wave = { rms: 63.5, frequency: 50.2, angle: 30 };
const harmonics = [
  { order: 3, rms: 6, angle: 10 },
  { order: 5, rms: 4, angle: -20 },
  { order: 7, rms: 3, angle: 0 },
];

/** Peak, radians a sample and radians at the first, counted from the sine. @param {readonly number[]} numbers */
const inRadians = ([order = 1, rms = 0, angle = 0]) => ({
  peak: Math.SQRT2 * rms,
  omega: (2 * Math.PI * order * wave.frequency) / SAMPLE_RATE,
  phase: (Math.PI * (angle + 90)) / 180,
});
const one = inRadians([1, wave.rms, wave.angle ?? 0]);
const [third, fifth, seventh] = harmonics.map(({ order, rms, angle }) => inRadians([order, rms, angle]));

function sineLoop() {
  const { peak, omega, phase } = one;
  for (let n = 0; n < MILLION; n++) other[n] = peak * Math.sin(omega * n + phase);
  return other;
}

function harmonicLoop() {
  const [a, b, c, d] = [one, third ?? one, fifth ?? one, seventh ?? one];
  for (let n = 0; n < MILLION; n++) {
    other[n] =
      a.peak * Math.sin(a.omega * n + a.phase) +
      b.peak * Math.sin(b.omega * n + b.phase) +
      c.peak * Math.sin(c.omega * n + c.phase) +
      d.peak * Math.sin(d.omega * n + d.phase);
  }
  return other;
}

const IN_NUMPY = {
  setup: `n = np.arange(${MILLION}, dtype=float); x = np.empty_like(n)`,
  work: `np.multiply(n, ${one.omega}, out=x); x += ${one.phase}; np.sin(x, out=x); x *= ${one.peak}`,
  result: "x",
};
compare("sample, a sine, a million samples into a given array", [
  { name: "sample", run: () => sample(wave, range, out) },
  { name: "a loop of Math.sin", run: sineLoop, wanted: 15 },
  numpy("numpy in place", IN_NUMPY, { wanted: 2.3 }),
]);

compare("sample, with three harmonics, a million samples into a given array", [
  { name: "sample", run: () => sample({ ...wave, harmonics }, range, out) },
  { name: "a loop of four Math.sin", run: harmonicLoop, wanted: 11 },
]);

/** A distorted wave, and something in it that never comes again. @param {number} cycle */
const distorted = (cycle) =>
  Float64Array.from({ length: MILLION }, (_, n) => {
    const turn = (2 * Math.PI * n) / cycle;
    return 90 * Math.cos(turn + 0.5) + 7 * Math.cos(3 * turn) + ((n * 0.6180339887498949) % 1);
  });

/** √2/N · exp(−j 360° · n/N) for two cycles, real and imaginary parts apart. @param {number} cycle */
const weightsOf = (cycle) => {
  const angles = Array.from({ length: 2 * cycle }, (_, n) => (2 * Math.PI * n) / cycle);
  const scale = Math.SQRT2 / cycle;
  return {
    re: Float64Array.from(angles, (angle) => scale * Math.cos(angle)),
    im: Float64Array.from(angles, (angle) => -scale * Math.sin(angle)),
  };
};

{
  const samples = distorted(80);
  const count = MILLION - 79;
  const [track, summed] = [new Float64Array(2 * count), new Float64Array(2 * count)];
  const weights = weightsOf(80);
  const sumLoop = () => {
    for (let k = 0, from = 0; k < count; k++, from = (from + 1) % 80) {
      let [re, im] = [0, 0];
      for (let n = 0; n < 80; n++) {
        const x = Number(samples[k + n]);
        re += x * Number(weights.re[from + n]);
        im += x * Number(weights.im[from + n]);
      }
      summed[2 * k] = re;
      summed[2 * k + 1] = im;
    }
    return summed;
  };
  compare("phasorTrack, 80 samples a cycle, a million samples into a given array", [
    { name: "phasorTrack", run: () => phasorTrack(samples, { sampleRate: 4000, frequency: 50 }, track) },
    { name: "a sum for each window", run: sumLoop, wanted: 38, rounds: 3 },
    numpy(
      "numpy, differences of a running sum, which drifts",
      {
        setup: `n = np.arange(${MILLION}); u = 2 * np.pi * n / 80; x = 90 * np.cos(u + 0.5) + 7 * np.cos(3 * u) + n * 0.6180339887498949 % 1; w = np.sqrt(2) / 80 * np.exp(-1j * u)`,
        work: "s = np.cumsum(x * w); t = s[79:].copy(); t[1:] -= s[:-80]",
        result: "t",
      },
      { wanted: 1.8 },
    ),
  ]);
}

{
  // fft.js takes powers of two.
  const samples = distorted(64);
  const count = MILLION - 63;
  const [track, transformed] = [new Float64Array(2 * count), new Float64Array(2 * count)];
  const weights = weightsOf(64);
  const fft = new FFT(64);
  const spectrum = fft.createComplexArray();
  const transformLoop = () => {
    for (let k = 0; k < count; k++) {
      fft.realTransform(spectrum, samples.subarray(k, k + 64));
      // The transform counts from the first sample of its window, a synchrophasor from sample 0.
      const [re, im, cos, sin] = [spectrum[2], spectrum[3], Number(weights.re[k % 64]), Number(weights.im[k % 64])];
      transformed[2 * k] = re * cos - im * sin;
      transformed[2 * k + 1] = re * sin + im * cos;
    }
    return transformed;
  };
  compare("phasorTrack, 64 samples a cycle, a million samples into a given array", [
    { name: "phasorTrack", run: () => phasorTrack(samples, { sampleRate: 3200, frequency: 50 }, track) },
    { name: "fft.js for each window", run: transformLoop, wanted: 90, rounds: 2 },
  ]);
}
