/**
 * The F distribution: how far the ratio of two variances goes by chance. It is the integral of its density, of which nothing
 * but the shape is needed: with tan²ψ = m/(n·F), for n degrees of freedom above the line and m below,
 *
 *     density of ψ ∝ cos(ψ)^(n − 1) · sin(ψ)^(m − 1) on (0, π/2), with its top at tan²ψ = (m − 1)/(n − 1)
 *
 * Large ratios are small angles, so that the tail that is asked for keeps its digits.
 *
 * Accuracy: 1e-13 relative for probabilities from 1e-6, up to a thousand degrees of freedom, against 50-digit values; what is
 * below 1e-280 is 0.
 * @source Abramowitz and Stegun 26.6.1, 26.6.2
 */
import { integral } from "../base/quadrature.js";

/** The probability of a ratio above the given one, 0 or more. */
export function ratioTail(ratio: number, [upper, lower]: readonly [number, number]): number {
  const logarithm = (angle: number): number => power(upper - 1, Math.cos(angle)) + power(lower - 1, Math.sin(angle));
  const top = Math.atan2(Math.sqrt(lower - 1), Math.sqrt(upper - 1));
  const highest = logarithm(top);
  const area = stretched((angle) => Math.exp(logarithm(angle) - highest), 1 / Math.sqrt(upper + lower));
  const at = Math.atan2(Math.sqrt(lower), Math.sqrt(upper * ratio));
  const [rising, falling] = [area(top, 0), area(top, Math.PI / 2)];
  const above = at < top ? area(at, 0) : rising + area(top, at);
  return Math.min(1, above / (rising + falling));
}

const power = (exponent: number, base: number): number => exponent * Math.log(base);

/** Densities below it are as good as none: what is left there would be lost, and numbers so small lose their digits. */
const NOTHING = 1e-280;

/** The area under a density that falls from one place to another in stretches that double. */
const stretched =
  (density: (x: number) => number, width: number) =>
  (from: number, to: number): number => {
    const distance = Math.abs(to - from);
    const towards = Math.sign(to - from);
    const along = (way: number): number => density(from + towards * way);
    let [sum, done] = [0, 0];
    for (let stretch = width; done < distance && along(done) > Math.max(NOTHING, 1e-17 * sum); stretch *= 2) {
      const next = Math.min(done + stretch, distance);
      sum += integral(along, done, next);
      done = next;
    }
    return sum;
  };
