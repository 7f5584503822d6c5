/**
 * Many phasors at once: lists of doubles, re and im in turn. Each loop does the plain work and leaves what is not plain
 * (a bad element, 0, a size near the ends of the range of a double) to the function of one phasor.
 */
import { fail, finite } from "../base/check.js";
import { doubles, ofLength, room } from "../base/doubles.js";
import { within } from "../base/input-error.js";
import { product } from "./arithmetic.js";
import { toComponents } from "./components.js";
import type { Phasor } from "./phasor.js";
import { angle, magnitude } from "./polar.js";

/**
 * The products of many phasors: {@link multiply} of each a with its b.
 *
 * @param a - re and im in turn.
 * @param b - As long as a.
 * @param out - Filled and returned where given; as long as a, and may be a or b.
 * @throws A {@link InputError} with the place of an element that is not finite (`a[7]`) or of a product beyond the range of
 * a double, `out` being filled up to there; and for lists of the wrong length.
 * Accuracy: 4e-16 of the magnitude.
 * @source definition
 *
 * @example
 * import { multiplyAll } from "tripwright/phasor";
 * Array.from(multiplyAll([0, 2, 1, 1], [0, 3, 2, 0])); // → [-6, 0, 2, 2]
 */
export function multiplyAll(a: ArrayLike<number>, b: ArrayLike<number>, out?: Float64Array): Float64Array {
  const p = interleaved(a, "a", 2);
  const q = ofLength(interleaved(b, "b", 2), p.length, "b");
  const products = room(out, p.length);
  const { length } = products;
  for (let i = 0; i < length; i += 2) {
    const ar = p[i] as number;
    const ai = p[i + 1] as number;
    const br = q[i] as number;
    const bi = q[i + 1] as number;
    const re = ar * br - ai * bi;
    const im = ar * bi + ai * br;
    if ((re + im) * 0 === 0) {
      products[i] = re + 0;
      products[i + 1] = im + 0;
    } else {
      slowly(products, productOf, [p, "a", i], [q, "b", i]);
    }
  }
  return products;
}

/** √3/6: √3/2 of the sine of 120°, over 3. */
const SIXTH = 0.28867513459481287;

/**
 * The symmetrical components of many sets of three phases: {@link toComponents} of each, in rotation ABC. In ACB positive
 * and negative change places.
 *
 * @param abc - re and im of a, b and c in turn, six numbers a set.
 * @param out - Filled and returned where given: re and im of zero, positive and negative in turn; as long as abc, and may
 * be the same array.
 * @throws A {@link InputError} with the place of an element that is not finite (`abc[7]`) or of a set whose sums are beyond
 * the range of a double, `out` being filled up to there; and for lists of the wrong length.
 * Accuracy: 5e-16 of the largest phasor of a set.
 * @source as {@link toComponents}
 *
 * @example
 * import { componentsAll } from "tripwright/phasor";
 * Array.from(componentsAll([90, 0, 0, 0, 0, 0])); // → [30, 0, 30, 0, 30, 0]
 */
export function componentsAll(abc: ArrayLike<number>, out?: Float64Array): Float64Array {
  const phases = interleaved(abc, "abc", 6);
  const components = room(out, phases.length);
  const { length } = components;
  for (let i = 0; i < length; i += 6) {
    const ar = phases[i] as number;
    const ai = phases[i + 1] as number;
    const br = phases[i + 2] as number;
    const bi = phases[i + 3] as number;
    const cr = phases[i + 4] as number;
    const ci = phases[i + 5] as number;
    const re = br + cr;
    const im = bi + ci;
    const left = (ar - re / 2) / 3;
    const down = (ai - im / 2) / 3;
    const across = (bi - ci) * SIXTH;
    const up = (br - cr) * SIXTH;
    const zr = (ar + re) / 3;
    const zi = (ai + im) / 3;
    if ((zr + zi + left + down + across + up) * 0 === 0) {
      components[i] = zr + 0;
      components[i + 1] = zi + 0;
      components[i + 2] = left - across + 0;
      components[i + 3] = down + up + 0;
      components[i + 4] = left + across + 0;
      components[i + 5] = down - up + 0;
    } else {
      slowly(components, componentsOf, [phases, "abc", i], [phases, "abc", i + 2], [phases, "abc", i + 4]);
    }
  }
  return components;
}

/**
 * The magnitudes and angles of many phasors: {@link magnitude} and {@link angle} of each, the angle on (−180, 180].
 *
 * @param phasors - re and im in turn.
 * @param out - Filled and returned where given: magnitude and degrees in turn; as long as the phasors, and may be the same
 * array.
 * @throws A {@link InputError} with the place of an element that is not finite (`phasors[7]`) or of a magnitude beyond the
 * range of a double, `out` being filled up to there; and for lists of the wrong length.
 * Accuracy: 2.3e-16 of the magnitude, 5e-16 of the angle; exact on the axes and diagonals.
 * @source definition; the polynomial is the one through the Chebyshev nodes, computed with 60 digits
 *
 * @example
 * import { toPolarAll } from "tripwright/phasor";
 * Array.from(toPolarAll([3, 0, 0, -2, -1, 1e-300])); // → [3, 0, 2, -90, 1, 180]
 */
export function toPolarAll(phasors: ArrayLike<number>, out?: Float64Array): Float64Array {
  const source = interleaved(phasors, "phasors", 2);
  const polar = room(out, source.length);
  const { length } = polar;
  const nearest = Float64Array.from(EIGHTHS);
  for (let i = 0; i < length; i += 2) {
    const x = source[i] as number;
    const y = source[i + 1] as number;
    const square = x * x + y * y;
    if (square >= 1e-300 && square <= 1e300) {
      // Counted from the nearest eighth of a turn, found without a branch: one that cannot be foreseen costs more than
      // the arithmetic. 7/16 lies near tan(22.5°).
      const across = Math.abs(x);
      const up = Math.abs(y);
      const eighth = Number(up > 0.4375 * across) + Number(0.4375 * up > across);
      const k = 3 * (eighth + 3 * Number(x < 0) + 6 * Number(y < 0));
      const re = nearest[k] as number;
      const im = nearest[k + 1] as number;
      const t = (y * re - x * im) / (x * re + y * im);
      const degrees = (nearest[k + 2] as number) + t * slopeAt(t * t);
      polar[i] = Math.sqrt(square);
      polar[i + 1] = degrees === -180 ? 180 : degrees;
    } else {
      slowly(polar, polarOf, [source, "phasors", i]);
    }
  }
  return polar;
}

/** Eighths of a turn as re, im and degrees: three right and up, left and up, right and down, left and down. */
const EIGHTHS = [
  1, 0, 0, 1, 1, 45, 0, 1, 90, -1, 0, 180, -1, 1, 135, 0, 1, 90, 1, 0, 0, 1, -1, -45, 0, -1, -90, -1, 0, -180, -1, -1,
  -135, 0, -1, -90,
];

/** atan(t)/t in degrees, of u = t² up to (7/16)². */
function slopeAt(u: number): number {
  const v = u * u;
  const w = v * v;
  const low = 57.29577951308232 + u * -19.09859317102707 + v * (11.4591559025247 + u * -8.18511135001021);
  const middle = 6.3661972661593 + u * -5.20869345554 + v * (4.407103431 + u * -3.8163559578);
  const high = 3.3414391922 + u * -2.84796291 + v * (2.0854507 + u * -0.9260089);
  return low + w * (middle + w * high);
}

type Place = readonly [list: Float64Array, path: string, i: number];
type Work = (...phasors: Phasor[]) => readonly Phasor[];

const productOf = ((a: Phasor, b: Phasor) => [product(a, b)]) as Work;
const componentsOf = ((a: Phasor, b: Phasor, c: Phasor) => Object.values(toComponents({ a, b, c }))) as Work;
const polarOf = ((p: Phasor) => [{ re: magnitude(p), im: angle(p) }]) as Work;

/** The same by the functions of one phasor, which check. */
function slowly(out: Float64Array, work: Work, ...places: readonly [Place, ...Place[]]): void {
  const phasors = places.map(([list, path, i]) => {
    const part = (k: number): number => finite(list[k], `${path}[${k}]`, "a part");
    return { re: part(i), im: part(i + 1) };
  });
  const [, path, first] = places[0];
  const results = within(`${path}[${first}]`, () => work(...phasors));
  out.set(
    results.flatMap(({ re, im }) => [re, im]),
    first,
  );
}

/** Lists in which re and im take turns. */
function interleaved(list: ArrayLike<number>, path: string, width: number): Float64Array {
  const numbers = doubles(list, path, "a part");
  if (numbers.length % width === 0) return numbers;
  return fail("wrong-length", path, `a length divisible by ${width}`, numbers.length);
}
