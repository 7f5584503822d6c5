/** Least squares of a level and harmonics at a step that is kept, and what moving it would do. */
import { correlate } from "./correlate.js";
import { inner, inverted, type Matrix, times } from "./positive-definite.js";

const TURN = 6.283185307179586; // 2π

/** Samples in reach. */
export interface Piece {
  readonly values: Float64Array;
  readonly square: number;
}

/** The parts that fit best at a step, and what moving the step would do. */
export interface Solution {
  readonly inverse: Matrix;
  readonly parts: readonly number[];
  /** How the parts follow a move, with the sign changed. */
  readonly tilt: readonly number[];
  /** The move of the step that is called for, in radians a sample. */
  readonly move: number;
  /** The curvature of the sum of squares along the step. */
  readonly stiffness: number;
  /** The sum of squares of what is left, which has few digits where little is left. */
  readonly square: number;
  readonly variance: number;
}

/**
 * With Sₖ = Σ cos(k · ω · u) and its derivatives by ω, which have closed forms:
 *
 *     Σ cos(hωu) · cos(kωu) = (Sₕ₋ₖ + Sₕ₊ₖ)/2      Σ sin(hωu) · sin(kωu) = (Sₕ₋ₖ − Sₕ₊ₖ)/2      Σ cos · sin = 0
 *
 * and likewise the products with the derivative of the model by ω, Σ h · u · (b · cos(hωu) − a · sin(hωu)). The move ends
 * where that derivative, less what the parts make good (tilt), no longer meets what is left.
 */
export function solveAt({ values, square: whole }: Piece, step: number, orders: number): Solution {
  const count = values.length;
  const [right, moments]: [number[], number[]] = [[0], [0]];
  for (let order = 1; order <= Math.max(1, orders); order++) {
    const { total, cosine, sine, cosineMoment, sineMoment } = correlate(values, order * step);
    right[0] = total;
    right.push(cosine, sine);
    moments.push(-sineMoment, cosineMoment);
  }
  const size = 2 * orders + 1;
  right.length = size;
  const sums: Sums[] = [];
  for (let k = 0; k < size; k++) sums.push(gridSums(count, k * step));
  const inverse = inverted(matrixOf(sums));
  const parts = times(inverse, right);
  const square = Math.max(0, whole - inner(parts, right));
  const variance = square / Math.max(1, count - size - 1);
  let [bend, gain] = [0, 0];
  const slopes: number[] = [];
  for (let i = 0; i < size; i++) {
    const cosine = i - 1 + (i % 2);
    const power = i > 2 ? parts[cosine]! ** 2 + parts[cosine + 1]! ** 2 : 0;
    // A harmonic that is lost in noise would pull the step about: it counts for less, down to nothing.
    const trust = power > 0 ? Math.max(0, 1 - (20 * variance) / count / power) : 1;
    slopes.push(orderOf(i) * parts[i]! * trust);
    gain += slopes[i]! * moments[i]!;
  }
  // The derivative by ω with each part, and with itself.
  const meets = parts.map(() => 0);
  for (let i = 0; i < size; i++) {
    for (let j = 0; j < size; j++) {
      if (signOf(i) !== signOf(j)) continue;
      const apart = orderOf(i) - orderOf(j);
      const near = sums[Math.abs(apart)]!;
      const far = sums[orderOf(i) + orderOf(j)]!;
      meets[j]! += (slopes[i]! * (Math.sign(apart) * near[1] + signOf(i) * far[1])) / 2;
      bend += (slopes[i]! * slopes[j]! * (near[2] - signOf(i) * far[2])) / 2;
    }
  }
  const tilt = times(inverse, meets);
  const stiffness = bend - inner(meets, tilt);
  return { inverse, parts, tilt, move: (gain - inner(meets, parts)) / stiffness, stiffness, square, variance };
}

type Sums = readonly [number, number, number];

/** How the parts meet one another over the record. */
function matrixOf(sums: readonly Sums[]): number[][] {
  return sums.map((_, i) =>
    sums.map((_, j) => {
      const [near, far] = [sums[Math.abs(orderOf(i) - orderOf(j))]![0], sums[orderOf(i) + orderOf(j)]![0]];
      return signOf(i) === signOf(j) ? (near + signOf(i) * far) / 2 : 0;
    }),
  );
}

/** Of a part by its place. */
export const orderOf = (place: number): number => (place + 1) >> 1;
/** 1 for the level and the cosines, −1 for the sines: on a record about its middle the two do not meet. */
const signOf = (place: number): 1 | -1 => (place % 2 === 1 || place === 0 ? 1 : -1);

/** Σ cos(φu), −Σ u · sin(φu), Σ u² · cos(φu) over the record: sin(count · φ/2)/sin(φ/2), and by its derivatives. */
function gridSums(count: number, turns: number): Sums {
  if (turns === 0) return [count, 0, (count * (count * count - 1)) / 12];
  const half = (TURN / 2) * turns;
  const sine = Math.sin(half);
  const cotangent = Math.cos(half) / sine;
  const sum = Math.sin(count * half) / sine;
  const slope = (count * Math.cos(count * half)) / sine - sum * cotangent;
  return [sum, slope / 2, ((count * count - 1) * sum + 2 * slope * cotangent) / 4];
}
