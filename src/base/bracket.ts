/** Where an increasing function crosses zero, and where a dip is deepest. */

const MOST_STEPS = 200;

/**
 * The root of a function that increases over [low, high] and changes sign there: Newton steps where they stay inside the
 * bracket, halving where they do not. It ends when the bracket or the step is down to the last bits.
 */
export function rootOfIncreasing(
  f: (x: number) => number,
  slope: (x: number) => number,
  [low, high]: readonly [number, number],
): number {
  let [a, b] = [low, high];
  let x = 0.5 * (a + b);
  for (let step = 0; step < MOST_STEPS; step++) {
    const value = f(x);
    if (value === 0) return x;
    if (value < 0) a = x;
    else b = x;
    const newton = x - value / slope(x);
    const next = newton > a && newton < b ? newton : 0.5 * (a + b);
    if (next === x || next <= a || next >= b) return next;
    if (Math.abs(next - x) <= Number.EPSILON * Math.abs(next)) return next;
    x = next;
  }
  return x;
}

/** (3 − √5)/2, the golden section: when the interval shrinks one inner place is kept, and only one new value is needed. */
const GOLDEN = 0.3819660112501051;

/**
 * Where a function with one dip between two places is least, by golden section: the middle of what the steps leave, of which
 * each leaves 0.618, and 60 leave 3e-13.
 *
 * @source J. Kiefer, Sequential minimax search for a maximum, Proc. Amer. Math. Soc. 4 (1953)
 */
export function bottomBetween(
  f: (x: number) => number,
  [low, high]: readonly [number, number],
  { steps = 60 }: { readonly steps?: number } = {},
): number {
  let [a, b] = [low, high];
  let [left, right] = [a + GOLDEN * (b - a), b - GOLDEN * (b - a)];
  let [atLeft, atRight] = [f(left), f(right)];
  for (let step = 0; step < steps; step++) {
    if (atLeft <= atRight) {
      [b, right, atRight] = [right, left, atLeft];
      left = a + GOLDEN * (b - a);
      atLeft = f(left);
    } else {
      [a, left, atLeft] = [left, right, atRight];
      right = b - GOLDEN * (b - a);
      atRight = f(right);
    }
  }
  return (a + b) / 2;
}
