import { fail, finite } from "../base/check.js";
import { near1 } from "./arithmetic.js";
import { timesPowerOfTwo } from "./phasor.js";

type Factors = readonly number[];

/**
 * A value carried across: value · Π over / Π under, with factors above 0. Factors near the ends of the range of a double
 * are brought near 1 by powers of two first: a partial product may leave the range where the result does not.
 */
export function carried(value: number, over: Factors, under: Factors): number {
  const top = [finite(value, "value", "a value"), ...over];
  const result = [...top, ...under].every(isOrdinary) ? product(top) / product(under) : carefully(top, under);
  if (Number.isFinite(result)) return result + 0;
  return fail("out-of-range", "value", "a value whose result fits a double", value);
}

/** Five such factors stay within the range. */
const isOrdinary = (x: number): boolean => x === 0 || (Math.abs(x) > 1e-60 && Math.abs(x) < 1e60);

const product = (factors: Factors): number => factors.reduce((p, x) => p * x, 1);

function carefully(over: Factors, under: Factors): number {
  const [p, q] = [nearOne(over), nearOne(under)];
  return timesPowerOfTwo(p.re / q.re, p.up - q.up);
}

function nearOne(factors: Factors): { readonly re: number; readonly up: number } {
  const scaled = factors.map((x) => near1({ re: x, im: 0 }));
  return { re: product(scaled.map(({ re }) => re)), up: scaled.reduce((sum, { up }) => sum + up, 0) };
}
