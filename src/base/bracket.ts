/** Where an increasing function crosses zero. */

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
