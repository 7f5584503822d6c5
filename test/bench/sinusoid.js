/** Samples of sinusoids against a sine for each sample; phasors along samples against a sum for each window. */
import FFT from "fft.js";
import { levenbergMarquardt } from "ml-levenberg-marquardt";
import { fitSinusoid, phasorTrack, sample } from "tripwright/sinusoid";
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
// Short records first: what is timed is the work, not how soon the engine has compiled it.
for (let i = 0; i < 500; i++) sample({ ...wave, harmonics }, { ...range, count: 10_000 }, out.subarray(0, 10_000));

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

{
  // Ten cycles with noise of a hundredth; the search begins at the nominal frequency. One fit is too short to be timed.
  const FITS = 200;
  const [count, sampleRate, frequency] = [1_000, 5_000, 50];
  const x = Array.from({ length: count }, (_, i) => i / sampleRate);
  const noise = (/** @type {number} */ i) => ((i * 0.6180339887498949) % 1) - 0.5;
  const y = x.map((t, i) => 90 * Math.cos(2 * Math.PI * 49.93 * t + 0.5) + 2 + 3 * noise(i * i));
  const samples = Float64Array.from(y);
  const fit = () => {
    const found = fitSinusoid(samples, { sampleRate, frequency });
    return found.kind === "found" ? [found.rms * Math.SQRT2, found.frequency, found.offset] : [];
  };
  const general = () => {
    /** @param {number[]} parameters */
    const model = ([a = 0, f = 0, phase = 0, offset = 0]) => {
      return (/** @type {number} */ t) => a * Math.cos(2 * Math.PI * f * t + phase) + offset;
    };
    const { parameterValues } = levenbergMarquardt({ x, y }, model, {
      initialValues: [88, frequency, 0.45, 1],
      gradientDifference: 1e-6,
      maxIterations: 5,
      errorTolerance: 0,
    });
    const [peak = 0, found = 0, , offset = 0] = parameterValues;
    return [peak, found, offset];
  };
  /** @param {() => number[]} one */
  const often = (one) => () => {
    for (let k = 1; k < FITS; k++) one();
    return one();
  };
  const setup = `
try:
    from scipy.optimize import curve_fit
except ImportError:
    sys.exit(42)
t = np.arange(${count}) / ${sampleRate}
i = np.arange(${count}.0)
x = 90 * np.cos(2 * np.pi * 49.93 * t + 0.5) + 2 + 3 * ((i * i * 0.6180339887498949) % 1 - 0.5)
model = lambda t, a, f, p, c: a * np.cos(2 * np.pi * f * t + p) + c`;
  const work = `for _ in range(${FITS}): p, _ = curve_fit(model, t, x, p0=(88, ${frequency}, 0.45, 1))`;
  compare(
    "fitSinusoid, four parameters, a thousand samples, two hundred times",
    [
      { name: "fitSinusoid", run: often(fit) },
      { name: "ml-levenberg-marquardt, five iterations at most", run: often(general), wanted: 45, rounds: 3 },
      numpy("scipy's curve_fit", { setup, work, result: "p[[0, 1, 3]]" }, { wanted: 11 }),
    ],
    { agreement: 1e-5 },
  );
}
