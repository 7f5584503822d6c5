/** What a double stands for that a person typed or a quotient left: 2.2 is 11/5, 0.18333333333333332 is 11/60. */

const LARGEST_DENOMINATOR = 10_000;

/**
 * The simplest fraction that rounds to the double x, by continued fractions: a fraction so much nearer to x than
 * 1/(2q²) is always one of its convergents.
 */
export function simplestFraction(x: number): readonly [number, number] | undefined {
  let [p0, q0, p1, q1] = [0, 1, 1, 0];
  let rest = x;
  while (Number.isFinite(rest)) {
    const whole = Math.floor(rest);
    [p0, q0, p1, q1] = [p1, q1, whole * p1 + p0, whole * q1 + q0];
    if (q1 > LARGEST_DENOMINATOR || !Number.isSafeInteger(p1)) return undefined;
    if (p1 / q1 === x) return [p1, q1];
    rest = 1 / (rest - whole);
  }
  return undefined;
}

/**
 * a · b, or a / b, of what the doubles stand for, rounded once: 2.2/50 is 0.044, where the quotient of the doubles lies a
 * unit in the last place beside it. Numbers that no simple fraction stands for are taken as they are.
 */
export function exactly(a: number, sign: "·" | "/", b: number): number {
  const plain = sign === "·" ? a * b : a / b;
  const [one, other] = [fractionOf(a), fractionOf(b)];
  if (one === undefined || other === undefined) return plain;
  const [p, q] = sign === "·" ? other : [other[1], other[0]];
  const [over, under] = [one[0] * p, one[1] * q];
  return Number.isSafeInteger(over) && Number.isSafeInteger(under) ? over / under : plain;
}

/** The simplest fraction, or else the decimal of up to nine places. */
function fractionOf(x: number): readonly [number, number] | undefined {
  const simplest = simplestFraction(x);
  for (let under = 1; simplest === undefined && under <= 1e9; under *= 10) {
    const over = Math.round(x * under);
    if (Number.isSafeInteger(over) && over / under === x) return [over, under];
  }
  return simplest;
}
