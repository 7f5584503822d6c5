/**
 * Sums of two doubles: about 32 digits, for tables that must be right to the last bit of a double. A number is a pair
 * [high, low] with |low| at most half a unit in the last place of high.
 *
 * @source T. J. Dekker, A floating-point technique for extending the available precision, Numerische Mathematik 18 (1971)
 */
export type Double2 = readonly [number, number];

/** The exact sum of two doubles. */
function sum(a: number, b: number): Double2 {
  const s = a + b;
  const bb = s - a;
  return [s, a - (s - bb) + (b - bb)];
}

const SPLITTER = 134217729; // 2^27 + 1

/** The exact product of two doubles. */
function product(a: number, b: number): Double2 {
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

const LN2: Double2 = [Math.LN2, 2.3190468138462996e-17];

/** The natural logarithm of a double above 0, by 2·artanh((m − 1)/(m + 1)) of its mantissa m. */
export function logarithm(x: number): Double2 {
  let exponent = Math.round(Math.log2(x));
  let m = x / 2 ** exponent;
  if (m > Math.SQRT2) [m, exponent] = [m / 2, exponent + 1];
  const z = divide([m - 1, 0], sum(m, 1));
  const square = multiply(z, z);
  let [term, total]: [Double2, Double2] = [z, z];
  for (let n = 3; Math.abs(term[0]) > 1e-34; n += 2) {
    term = multiply(term, square);
    total = add(total, divide(term, [n, 0]));
  }
  return add(multiply([exponent, 0], LN2), multiply([2, 0], total));
}

/** e^x − 1 by its series at x/2^s, then s doublings: e^2y − 1 = (e^y − 1)² + 2(e^y − 1). */
export function exponentialMinusOne(x: Double2): Double2 {
  const halvings = Math.max(0, Math.ceil(Math.log2(Math.abs(x[0]) || 1)) + 4);
  const small: Double2 = [x[0] / 2 ** halvings, x[1] / 2 ** halvings];
  let [term, total]: [Double2, Double2] = [small, small];
  for (let n = 2; Math.abs(term[0]) > 1e-36; n++) {
    term = divide(multiply(term, small), [n, 0]);
    total = add(total, term);
  }
  for (let i = 0; i < halvings; i++) total = add(multiply(total, total), add(total, total));
  return total;
}
