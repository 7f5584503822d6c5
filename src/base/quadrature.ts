/** Integrals of smooth rates by Gauss–Legendre panels. */

/** Nodes on (0, 1) and weights of the ten-point rule, one half; the other half mirrors it. */
const NODES = [
  0.01304673574141414, 0.06746831665550775, 0.1602952158504878, 0.2833023029353764, 0.4255628305091844,
] as const;
const WEIGHTS = [
  0.03333567215434407, 0.0747256745752903, 0.10954318125799102, 0.13463335965499817, 0.14776211235737644,
] as const;

/** ∫ f over one panel [a, b]; exact for polynomials up to degree 19. */
export function panel(f: (x: number) => number, a: number, b: number): number {
  const width = b - a;
  let sum = 0;
  for (let i = 0; i < NODES.length; i++) {
    const offset = (NODES[i] as number) * width;
    sum += (WEIGHTS[i] as number) * (f(a + offset) + f(b - offset));
  }
  return sum * width;
}

/** Halves agree with their panel to this share of the whole integral, or the panel is halved again. */
const AGREEMENT = 1e-14;
const DEEPEST = 30;

/** ∫ f over [a, b] of a function that is smooth, or nearly so up to its ends: panels are halved until they agree. */
export function integral(f: (x: number) => number, a: number, b: number): number {
  const whole = panel(f, a, b);
  return refined(f, [a, b, whole], AGREEMENT * Math.abs(whole), DEEPEST);
}

type Panel = readonly [low: number, high: number, value: number];

/** The tolerance is that of the whole, so that the rounding of a small panel does not ask for ever smaller ones. */
function refined(f: (x: number) => number, [a, b, value]: Panel, tolerance: number, depth: number): number {
  const middle = 0.5 * (a + b);
  const [left, right] = [panel(f, a, middle), panel(f, middle, b)];
  if (depth === 0 || !(Math.abs(left + right - value) > tolerance)) return left + right;
  return refined(f, [a, middle, left], tolerance, depth - 1) + refined(f, [middle, b, right], tolerance, depth - 1);
}
