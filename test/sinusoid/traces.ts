/** Waves as a recorder takes them, and their least squares at 50 digits. */
import { type FitSinusoidOptions, fitSinusoid, type Sinusoid, type SinusoidFit, valueAt } from "tripwright/sinusoid";
import { cosineOf, D, exactly, type Reference, sineOf } from "../base/reference.js";

/** Samples of anything that is a function of time. */
export const record = (count: number, sampleRate: number, at: (t: number) => number): Float64Array =>
  Float64Array.from({ length: count }, (_, n) => at(n / sampleRate));

export const recorded = (wave: Sinusoid, count: number, sampleRate: number): Float64Array =>
  record(count, sampleRate, (t) => valueAt(wave, t));

/** The fit, or an error where there is none. */
export function found(samples: ArrayLike<number>, options: FitSinusoidOptions): SinusoidFit {
  const fit = fitSinusoid(samples, options);
  if (fit.kind === "none") throw new Error(`no fit: ${fit.reason}`);
  return fit;
}

/** Degrees between two angles, whichever way is shorter. */
export const degreesApart = (a: number, b: number): number => {
  const turned = Math.abs(a - b) % 360;
  return Math.min(turned, 360 - turned);
};

/** rms∠angle as a point, over √2. */
export const point = ({ rms, angle = 0 }: { readonly rms: number; readonly angle?: number }) => ({
  re: rms * Math.cos((angle * Math.PI) / 180),
  im: rms * Math.sin((angle * Math.PI) / 180),
});

export const distance = (a: { rms: number; angle?: number }, b: { rms: number; angle?: number }): number =>
  Math.hypot(point(a).re - point(b).re, point(a).im - point(b).im);

/** Least squares of level + Σ a · cos + b · sin, angles from the first sample. */
export interface Exact {
  readonly level: Reference;
  /** a and b of each order, 1 first. */
  readonly parts: readonly { readonly a: Reference; readonly b: Reference }[];
  /** Σ (samples − fit)² */
  readonly square: Reference;
}

/** By normal equations and Gaussian elimination; `step` in cycles a sample. */
export function leastSquares(samples: ArrayLike<number>, step: Reference, orders: number): Exact {
  const rows = Array.from(samples, (_, n) => {
    const turned = Array.from({ length: orders }, (_, i) =>
      step
        .times((i + 1) * n)
        .mod(1)
        .times(360),
    );
    return [new D(1), ...turned.flatMap((degrees) => [cosineOf(degrees), sineOf(degrees)])];
  });
  const x = Array.from(samples, exactly);
  const size = 2 * orders + 1;
  const sum = (of: (n: number) => Reference): Reference => x.reduce((total, _, n) => total.plus(of(n)), new D(0));
  const at = (n: number, i: number): Reference => rows[n]?.[i] as Reference;
  const matrix = Array.from({ length: size }, (_, i) => [
    ...Array.from({ length: size }, (_, j) => sum((n) => at(n, i).times(at(n, j)))),
    sum((n) => at(n, i).times(x[n] as Reference)),
  ]);
  const solution = solved(matrix);
  const square = sum((n) => {
    const fit = solution.reduce((total, part, i) => total.plus(part.times(at(n, i))), new D(0));
    return (x[n] as Reference).minus(fit).pow(2);
  });
  const parts = Array.from({ length: orders }, (_, i) => ({
    a: solution[2 * i + 1] as Reference,
    b: solution[2 * i + 2] as Reference,
  }));
  return { level: solution[0] as Reference, parts, square };
}

/** Each row holds its right side at its end. */
function solved(matrix: Reference[][]): Reference[] {
  const size = matrix.length;
  for (const [k, row] of matrix.entries()) {
    const pivot = row[k] as Reference;
    for (let j = k; j <= size; j++) row[j] = (row[j] as Reference).div(pivot);
    for (const other of matrix) {
      if (other === row) continue;
      const factor = other[k] as Reference;
      for (let j = k; j <= size; j++) other[j] = (other[j] as Reference).minus(factor.times(row[j] as Reference));
    }
  }
  return matrix.map((row) => row[size] as Reference);
}

/** How far rms∠angle lies from a · cos + b · sin = √2 · rms · cos(… + angle), as an rms value. */
export function gapTo(
  { rms, angle }: { rms: number; angle: number },
  { a, b }: { a: Reference; b: Reference },
): number {
  const root = new D(2).sqrt();
  const re = exactly(rms).times(cosineOf(exactly(angle)));
  const im = exactly(rms).times(sineOf(exactly(angle)));
  return re
    .minus(a.div(root))
    .pow(2)
    .plus(im.plus(b.div(root)).pow(2))
    .sqrt()
    .toNumber();
}

/** (JᵀJ)⁻¹, column by column. */
export function inverseOfSquare(jacobian: readonly (readonly number[])[]): number[][] {
  const size = jacobian[0]?.length ?? 0;
  const square = (i: number, j: number): Reference =>
    jacobian.reduce((sum, row) => sum.plus(exactly(row[i] as number).times(exactly(row[j] as number))), new D(0));
  const columns = Array.from({ length: size }, (_, k) =>
    solved(
      Array.from({ length: size }, (_, i) => [
        ...Array.from({ length: size }, (_, j) => square(i, j)),
        new D(i === k ? 1 : 0),
      ]),
    ),
  );
  return columns.map((column) => column.map(Number));
}
