/**
 * Student's t distribution; without degrees of freedom the normal one. Both are integrals of their densities, of which
 * nothing but the shape is needed: with u = √ν · atan(x/√ν)
 *
 *     density of u ∝ cos(u/√ν)^(ν − 1) on (−√ν · π/2, √ν · π/2),    normal: ∝ exp(−u²/2), u = x
 *
 * so that one finite, smooth integral serves from one degree of freedom to infinitely many. Beyond x = √ν, where u draws near
 * its end, the logarithm of what is left to the end takes its place. The packages that were tried are 4e-8 off, or cost a
 * hundred kilobytes or a seventh of a second at every start.
 *
 * Accuracy: 1e-12 relative, from one degree of freedom, to the smallest probabilities.
 * @source Abramowitz and Stegun 26.7.1 and 26.2.1 (densities)
 */
import { rootOfIncreasing } from "../base/bracket.js";
import { integral } from "../base/quadrature.js";

/** A piece of a distribution, over a coordinate that grows with x. */
interface Piece {
  readonly density: (u: number) => number;
  readonly start: number;
  readonly end: number;
  /** In which the density falls to no less than a small part. */
  readonly width: number;
  readonly toX: (u: number) => number;
  readonly toU: (x: number) => number;
}

interface Shape {
  /** From the middle on. */
  readonly near: Piece;
  /** Behind it, and where it begins; the normal distribution has but one piece. */
  readonly far?: Piece;
  readonly from: number;
  /** Area of the piece behind, and of all from the middle on. */
  readonly beyond: number;
  readonly half: number;
}

const same = (x: number): number => x;
const NORMAL: Shape = {
  near: { density: (u) => Math.exp(-0.5 * u * u), start: 0, end: 39, width: 1, toX: same, toU: same },
  from: Number.POSITIVE_INFINITY,
  beyond: 0,
  half: 1.2533141373155003,
};

function shapeOf(degreesOfFreedom: number | undefined): Shape {
  if (degreesOfFreedom === undefined) return NORMAL;
  const root = Math.sqrt(degreesOfFreedom);
  const near: Piece = {
    // cos^(ν − 1) through the logarithm of the cosine: near 1 the sine keeps its digits.
    density: (u) => Math.exp((degreesOfFreedom - 1) * 0.5 * Math.log1p(-(Math.sin(u / root) ** 2))),
    start: 0,
    end: (root * Math.PI) / 4,
    width: 1,
    toX: (u) => root * Math.tan(u / root),
    toU: (x) => root * Math.atan(x / root),
  };
  const far: Piece = {
    density: (u) => root * Math.exp(-u) * Math.sin(Math.exp(-u)) ** (degreesOfFreedom - 1),
    start: -Math.log(Math.PI / 4),
    end: LAST_ANGLE,
    width: 1 / degreesOfFreedom,
    toX: (u) => root / Math.tan(Math.exp(-u)),
    toU: (x) => -Math.log(Math.atan(root / x)),
  };
  const beyond = rest(far, far.start);
  return { near, far, from: root, beyond, half: rest(near, 0) + beyond };
}

/** Smaller ones than exp(−745) are no doubles. */
const LAST_ANGLE = 745;

/** ∫ of the density from u to its end, in stretches that double, until what can be left is lost in rounding. */
function rest({ density, end, width: first }: Piece, from: number): number {
  let [sum, a] = [0, from];
  for (let width = first; density(a) * (end - a) > 1e-17 * sum; width *= 2) {
    const b = Math.min(a + width, end);
    sum += integral(density, a, b);
    a = b;
  }
  return sum;
}

/** The probability of a value above x. */
export function upperTail(x: number, degreesOfFreedom?: number): number {
  const { near, far, from, beyond, half } = shapeOf(degreesOfFreedom);
  const away = Math.abs(x);
  const area = far && away > from ? rest(far, far.toU(away)) : rest(near, near.toU(away)) + beyond;
  const tail = area / (2 * half);
  return x < 0 ? 1 - tail : tail;
}

/** The value that is exceeded with a probability, above 0 and below 1. */
export function upperQuantile(probability: number, degreesOfFreedom?: number): number {
  if (probability > 0.5) return -upperQuantile(1 - probability, degreesOfFreedom);
  if (probability === 0.5) return 0;
  const { near, far, beyond, half } = shapeOf(degreesOfFreedom);
  const wanted = 2 * half * probability;
  const [piece, behind] = far && wanted < beyond ? [far, 0] : [near, beyond];
  const area = (u: number): number => rest(piece, u) + behind;
  // In logarithms, which fall nearly straight however small the probability.
  const missing = (u: number): number => Math.log(wanted / area(u));
  const slope = (u: number): number => piece.density(u) / area(u);
  return piece.toX(rootOfIncreasing(missing, slope, [piece.start, piece.end]));
}
