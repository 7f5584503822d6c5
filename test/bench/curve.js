/** Operate times and the integral of many samples, and what one checked call costs. */
import { compile } from "mathjs";
import { operateInstantOfSamples, operateTime, operateTimes, standardCurve } from "tripwright/curve";
import { compare } from "./compare.js";
import { numpy } from "./numpy.js";

const MILLION = 1_000_000;
/** The multiples, above the setting up to 100, in an order in which no branch and no table can guess the next. */
const multiples = Float64Array.from({ length: MILLION }, (_, i) => 1.01 + ((i * 0.6180339887498949) % 1) * 98);
const IN_NUMPY = `m = 1.01 + (np.arange(${MILLION}) * 0.6180339887498949) % 1 * 98; t = np.empty_like(m)`;

const out = new Float64Array(MILLION);
const other = new Float64Array(MILLION);

/** @param {import("tripwright/curve").CurveName} name */
const inverse = (name) => /** @type {import("tripwright/curve").InverseCurve} */ (standardCurve(name));

/** @typedef {{ k: number, alpha: number, c: number }} Law t = 0.2 · (k/(M^alpha − 1) + c) */

/** @param {Law} law */
function powerLoop({ k, alpha, c }) {
  for (let i = 0; i < MILLION; i++) other[i] = 0.2 * (k / (Number(multiples[i]) ** alpha - 1) + c);
  return other;
}

/** The same with the digits that the plain loop loses near the setting. @param {Law} law */
function accurateLoop({ k, alpha, c }) {
  for (let i = 0; i < MILLION; i++) other[i] = 0.2 * (k / Math.expm1(alpha * Math.log(Number(multiples[i]))) + c);
  return other;
}

for (const curve of /** @type {const} */ (["iec-inverse", "iec-very-inverse", "iec-extremely-inverse"])) {
  const setting = { curve, multiplier: 0.2 };
  const law = inverse(curve);
  const { k, alpha, c } = law;
  const whole = Number.isInteger(alpha);
  compare(`operateTimes, alpha ${alpha}, a million multiples into a given array`, [
    { name: "operateTimes", run: () => operateTimes(setting, multiples, out) },
    { name: "a loop of Math.pow", run: () => powerLoop(law), wanted: whole ? 3.3 : 6 },
    { name: "a loop of expm1(alpha · log(M))", run: () => accurateLoop(law), ...(!whole && { wanted: 3 }) },
    numpy(
      "numpy, plain expression",
      { setup: IN_NUMPY, work: `t = 0.2 * (${k} / (m ** ${alpha} - 1) + ${c})`, result: "t" },
      whole ? { wanted: 1 } : {},
    ),
  ]);
}

/** When Σ dt/t(M) is 1, sample by sample. @param {Law} law @param {number} dt */
function integralLoop({ k, alpha, c }, dt) {
  let travel = 0;
  for (let i = 0; i < MILLION; i++) {
    const time = 0.2 * (k / (Number(multiples[i]) ** alpha - 1) + c);
    const step = dt / time;
    if (travel + step >= 1) return i * dt + (1 - travel) * time;
    travel += step;
  }
  return Number.NaN;
}

/** The same in numpy, without a new array. @param {Law} law @param {number} dt */
function integralInNumpy({ k, alpha, c }, dt) {
  const power = { 1: "np.copyto(t, m)", 2: "np.multiply(m, m, out=t)" }[alpha] ?? `np.power(m, ${alpha}, out=t)`;
  const rate =
    c === 0 ? `t *= ${dt / (0.2 * k)}` : `np.divide(${k}, t, out=t); t += ${c}; np.divide(${dt / 0.2}, t, out=t)`;
  return {
    setup: IN_NUMPY,
    work: `${power}; t -= 1; ${rate}; np.cumsum(t, out=t); i = np.searchsorted(t, 1)`,
    result: `${dt} * (i + (1 - t[i - 1]) / (t[i] - t[i - 1]))`,
  };
}

for (const curve of /** @type {const} */ ([
  "iec-inverse",
  "ieee-moderately-inverse",
  "iec-extremely-inverse",
  "ieee-very-inverse",
])) {
  const setting = { curve, multiplier: 0.2 };
  const law = inverse(curve);
  // So slow that the travel is full near the end.
  const sampleRate = 0.999 * operateTimes(setting, multiples, out).reduce((sum, time) => sum + 1 / time, 0);
  const whole = Number.isInteger(law.alpha);
  compare(`operateInstantOfSamples, alpha ${law.alpha}, c ${law.c}, a million samples`, [
    {
      name: "operateInstantOfSamples",
      run: () => operateInstantOfSamples(setting, multiples, { sampleRate }).operatedAt ?? Number.NaN,
    },
    { name: "a loop that adds dt/t(M)", run: () => integralLoop(law, 1 / sampleRate), wanted: whole ? 5 : 7.3 },
    numpy("numpy, in place", integralInNumpy(law, 1 / sampleRate), whole ? { wanted: 2.5 } : {}),
  ]);
}

const FEW = 5_000;
const few = multiples.slice(0, FEW);
const fewTimes = new Float64Array(FEW);
const expression = compile("0.2 * 0.14 / (M ^ 0.02 - 1)");

/** @param {(multiple: number) => number} time */
const eachOfFew = (time) => fewTimes.map((_, i) => time(Number(few[i])));

compare(`${FEW} multiples, alpha 0.02, one call each`, [
  {
    name: "operateTime, checked",
    run: () => eachOfFew((m) => operateTime({ curve: "iec-inverse", multiplier: 0.2 }, m)),
  },
  { name: "the formula with Math.pow, unchecked", run: () => eachOfFew((m) => (0.2 * 0.14) / (m ** 0.02 - 1)) },
  { name: "a compiled mathjs expression, unchecked", run: () => eachOfFew((M) => expression.evaluate({ M })) },
  {
    name: "operateTimes, all in one call",
    run: () => operateTimes({ curve: "iec-inverse", multiplier: 0.2 }, few, fewTimes),
  },
]);
