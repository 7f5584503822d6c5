/**
 * Sums of two doubles: about 32 digits, where those of one would be lost on the way. A number is a pair [high, low] with
 * |low| at most half a unit in the last place of high.
 *
 * @source T. J. Dekker, A floating-point technique for extending the available precision, Numerische Mathematik 18 (1971)
 */
export type Double2 = readonly [number, number];

/** The exact sum of two doubles. */
export function sum(a: number, b: number): Double2 {
  const s = a + b;
  const bb = s - a;
  return [s, a - (s - bb) + (b - bb)];
}

const SPLITTER = 134217729; // 2^27 + 1

/** The exact product of two doubles. */
export function product(a: number, b: number): Double2 {
  const p = a * b;
  const ta = SPLITTER * a;
  const ah = ta - (ta - a);
  const al = a - ah;
  const tb = SPLITTER * b;
  const bh = tb - (tb - b);
  const bl = b - bh;
  return [p, ah * bh - p + ah * bl + al * bh + al * bl];
}

export function add([a, x]: Double2, [b, y]: Double2): Double2 {
  const [s, e] = sum(a, b);
  return sum(s, e + x + y);
}

export function multiply([a, x]: Double2, [b, y]: Double2): Double2 {
  const [p, e] = product(a, b);
  return sum(p, e + a * y + x * b);
}

export function divide(a: Double2, b: Double2): Double2 {
  const q = a[0] / b[0];
  const rest = add(a, multiply([-q, 0], b));
  return sum(q, rest[0] / b[0]);
}

/** What is left beside a whole number near it, as one double: within ±0.5, or half a unit of the last place of high beyond. */
export const fraction = ([high, low]: Double2): number => high - Math.round(high) + low;
