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

/** Panels whose distance from a singular point grows by no more than this converge to the last digits. */
const GROWTH = 2;
const MOST_PANELS = 64;

/**
 * ∫ f over [a, b], a < b, of a function that is smooth except possibly at `singular`, which is outside (a, b): panels
 * grow geometrically away from it.
 */
export function integral(f: (x: number) => number, [a, b]: readonly [number, number], singular: number): number {
  let sum = 0;
  let far = b;
  for (let i = 0; i < MOST_PANELS && singular <= a; i++) {
    const near = singular + (far - singular) / GROWTH;
    if (near <= a) return sum + panel(f, a, far);
    sum += panel(f, near, far);
    far = near;
  }
  return sum + panel(f, a, far);
}
