/** The value of one free number that leaves the least misfit. */
import type { Free } from "./situation.js";

const LOOKS = 16;
const CLOSER = 22;
const GOLDEN = 0.6180339887498949;

/** What was found, and what it leaves. */
export interface Fitted {
  readonly x: number;
  readonly misfit: number;
}

/**
 * Looks at even places of the range (by ratio, where it spans more than a factor of ten), closes in on the best of them by
 * the golden section, and goes to the nearest step of the setting that leaves less.
 *
 * Accuracy: 3e-6 of the range; where there are several bottoms, the one nearest to the best look.
 * @source J. Kiefer, Sequential minimax search for a maximum, Proc. Amer. Math. Soc. 4 (1953)
 */
export function leastMisfit(misfitAt: (x: number) => number, { from, to, step }: Free): Fitted {
  const isByRatio = from > 0 && to / from > 10;
  const place = (share: number) => (isByRatio ? from * (to / from) ** share : from + (to - from) * share);
  const looks = Array.from({ length: LOOKS + 1 }, (_, i) => misfitAt(place(i / LOOKS)));
  const best = looks.indexOf(Math.min(...looks));
  let [a, b] = [Math.max(0, best - 1) / LOOKS, Math.min(LOOKS, best + 1) / LOOKS];
  let [left, right] = [b - GOLDEN * (b - a), a + GOLDEN * (b - a)];
  let [atLeft, atRight] = [misfitAt(place(left)), misfitAt(place(right))];
  for (let i = 0; i < CLOSER; i++) {
    if (atLeft <= atRight) {
      [b, right, atRight] = [right, left, atLeft];
      left = b - GOLDEN * (b - a);
      atLeft = misfitAt(place(left));
    } else {
      [a, left, atLeft] = [left, right, atRight];
      right = a + GOLDEN * (b - a);
      atRight = misfitAt(place(right));
    }
  }
  const x = place((a + b) / 2);
  if (step === undefined) return { x, misfit: misfitAt(x) };
  const steps = [Math.floor(x / step), Math.ceil(x / step)].map((n) => Number((n * step).toPrecision(12)));
  const fitted = steps.filter((at) => at > 0).map((at): Fitted => ({ x: at, misfit: misfitAt(at) }));
  return fitted.reduce(
    (one, other) => (other.misfit < one.misfit ? other : one),
    fitted[0] ?? { x, misfit: misfitAt(x) },
  );
}
