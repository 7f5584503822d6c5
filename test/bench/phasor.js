/** Products, symmetrical components and polar forms of many phasors. */
import { Complex } from "complex.js";
import { componentsAll, multiplyAll, toPolarAll } from "tripwright/phasor";
import { compare } from "./compare.js";
import { numpy } from "./numpy.js";

const MILLION = 1_000_000;
const COUNT = 300_000;
const SETS = 100_000;
const [FIRST, SECOND] = [0.6180339887498949, 0.7548776662466927];

/** re and im of phasors all round, in an order in which no branch can guess the next. @param {number} count @param {number} step */
const phasors = (count, step) => Float64Array.from({ length: 2 * count }, (_, i) => 200 * ((i * step) % 1) - 100);
/** The same in numpy. @param {number} count @param {number} step */
const inNumpy = (count, step) => `(200 * (np.arange(${2 * count}) * ${step} % 1) - 100).view(complex)`;

/** @param {Float64Array} list */
const objects = (list) =>
  Array.from({ length: list.length / 2 }, (_, i) => new Complex([Number(list[2 * i]), Number(list[2 * i + 1])]));

/** Objects as the numbers that they hold; they are read only where results are compared. @param {readonly Complex[]} list */
function numbersOf(list) {
  const view = {
    length: 2 * list.length,
    *[Symbol.iterator]() {
      for (const { re, im } of list) yield* [re, im];
    },
  };
  return /** @type {ArrayLike<number>} */ (/** @type {unknown} */ (view));
}

const [a, b] = [phasors(COUNT, FIRST), phasors(COUNT, SECOND)];
const [out, other] = [new Float64Array(2 * COUNT), new Float64Array(2 * COUNT)];
const [p, q] = [objects(a), objects(b)];
const held = objects(out);

compare(`multiplyAll, ${COUNT} products into a given array`, [
  { name: "multiplyAll", run: () => multiplyAll(a, b, out) },
  {
    name: "complex.js, objects held in a list",
    run: () => {
      for (const [i, one] of p.entries()) held[i] = one.mul(/** @type {Complex} */ (q[i]));
      return numbersOf(held);
    },
    wanted: 13,
  },
  numpy("numpy, in place", {
    setup: `a = ${inNumpy(COUNT, FIRST)}; b = ${inNumpy(COUNT, SECOND)}; c = np.empty_like(a)`,
    work: "np.multiply(a, b, out=c)",
    result: "c",
  }),
]);

const alpha = new Complex([-0.5, Math.sqrt(3) / 2]);
const alphaSquared = alpha.mul(alpha);
const three = a.subarray(0, 6 * SETS);
const components = out.subarray(0, 6 * SETS);

compare(`componentsAll, ${SETS} sets into a given array`, [
  { name: "componentsAll", run: () => componentsAll(three, components) },
  {
    name: "complex.js, objects held in a list",
    run: () => {
      for (let i = 0; i < 3 * SETS; i += 3) {
        const [x, y, z] = /** @type {[Complex, Complex, Complex]} */ ([p[i], p[i + 1], p[i + 2]]);
        held[i] = x.add(y).add(z).div(3);
        held[i + 1] = x.add(alpha.mul(y)).add(alphaSquared.mul(z)).div(3);
        held[i + 2] = x.add(alphaSquared.mul(y)).add(alpha.mul(z)).div(3);
      }
      return numbersOf(held);
    },
    wanted: 100,
  },
]);

const many = phasors(3 * MILLION, FIRST);
const manyComponents = new Float64Array(many.length);
const ALPHA = "x = np.exp(2j * np.pi / 3)";

compare("componentsAll, a million sets into a given array", [
  { name: "componentsAll", run: () => componentsAll(many, manyComponents) },
  numpy(
    "numpy, the three formulas",
    {
      setup: `${ALPHA}; s = ${inNumpy(3 * MILLION, FIRST)}.reshape(-1, 3); a, b, c = s.T; t = np.empty_like(s)`,
      work: "t[:, 0] = (a + b + c) / 3; t[:, 1] = (a + x * b + x * x * c) / 3; t[:, 2] = (a + x * x * b + x * c) / 3",
      result: "t.ravel()",
    },
    { wanted: 2 },
  ),
  numpy("numpy, a product with the matrix", {
    setup: `${ALPHA}; s = ${inNumpy(3 * MILLION, FIRST)}.reshape(-1, 3); m = np.array([[1, 1, 1], [1, x, x * x], [1, x * x, x]]) / 3`,
    work: "t = s @ m",
    result: "t.ravel()",
  }),
]);

compare(`toPolarAll, ${COUNT} phasors into a given array`, [
  { name: "toPolarAll", run: () => toPolarAll(a, out) },
  {
    name: "a loop of Math.hypot and Math.atan2",
    run: () => {
      for (let i = 0; i < 2 * COUNT; i += 2) {
        const [re, im] = [Number(a[i]), Number(a[i + 1])];
        other[i] = Math.hypot(re, im);
        other[i + 1] = (Math.atan2(im, re) * 180) / Math.PI;
      }
      return other;
    },
    wanted: 2.8,
  },
  {
    name: "a loop of Math.sqrt and Math.atan2",
    run: () => {
      for (let i = 0; i < 2 * COUNT; i += 2) {
        const [re, im] = [Number(a[i]), Number(a[i + 1])];
        other[i] = Math.sqrt(re * re + im * im);
        other[i + 1] = (Math.atan2(im, re) * 180) / Math.PI;
      }
      return other;
    },
  },
]);
