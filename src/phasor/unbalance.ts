import { atLeast, fail, nameIn } from "../base/check.js";
import { checkComponents, type SequenceComponents } from "./components.js";
import { PAIRS, type PhasePairs, three } from "./phases.js";
import { exponentOf, timesPowerOfTwo } from "./phasor.js";
import { magnitude } from "./polar.js";

/** What each definition of unbalance is taken from. */
export interface UnbalanceInputs {
  /** Negative over positive sequence (clause 5.7); the rms values of the line-to-line voltages hold it too. */
  readonly "iec-61000-4-30-negative": SequenceComponents | PhasePairs<number>;
  /** Zero over positive sequence (clause 5.7). */
  readonly "iec-61000-4-30-zero": SequenceComponents;
  /** The largest deviation of a line-to-line rms value from their mean, over the mean (clause 14.36). */
  readonly "nema-mg-1": PhasePairs<number>;
}

/** A definition of unbalance, by the standard that gives it. */
export type UnbalanceDefinition = keyof UnbalanceInputs;

/** The place of a definition's numerator among the components. */
const DEFINITIONS = { "iec-61000-4-30-negative": 2, "iec-61000-4-30-zero": 0, "nema-mg-1": undefined } as const;

/**
 * The unbalance of three phases as a ratio, 0.02 for 2 %.
 *
 *     iec-61000-4-30-negative: |negative|/|positive|, or of line-to-line magnitudes U:
 *                              √((1 − √(3 − 6β))/(1 + √(3 − 6β))), β = ΣU⁴/(ΣU²)²
 *     iec-61000-4-30-zero:     |zero|/|positive|
 *     nema-mg-1:               the largest |U − mean|/mean
 *
 * Where they are small, the IEC ratio of line-to-line magnitudes is 1 to 2/√3 times the NEMA ratio.
 *
 * @param given - Components of {@link toComponents}, in the rotation of the system; or `{ ab, bc, ca }`, rms, 0 or more.
 * @throws A {@link InputError} for magnitudes that form no triangle, for a positive sequence that is 0 or lost in the
 * rounding of the others (as it is in the wrong rotation), for values that are not finite and for an unknown definition.
 * Accuracy: 2e-15 of the ratio, from balance to a single phase.
 * @source IEC 61000-4-30 clause 5.7, NEMA MG 1 clause 14.36 (both from memory)
 *
 * @example
 * import { toComponents, unbalance } from "tripwright/phasor";
 * unbalance({ ab: 460, bc: 467, ca: 450 }, "nema-mg-1").toFixed(4); // → "0.0196"
 * unbalance({ ab: 460, bc: 467, ca: 450 }, "iec-61000-4-30-negative").toFixed(4); // → "0.0215"
 * const phases = { a: { re: 60, im: 0 }, b: { re: 0, im: 0 }, c: { re: 0, im: 0 } };
 * unbalance(toComponents(phases), "iec-61000-4-30-zero"); // → 1
 */
export function unbalance<D extends UnbalanceDefinition>(given: UnbalanceInputs[D], definition: D): number {
  const place = DEFINITIONS[nameIn(definition, DEFINITIONS, "definition")];
  if (place === undefined || (place && "ab" in Object(given))) return ofSides(given as PhasePairs<number>, place);
  const sizes = checkComponents(given as SequenceComponents).map(magnitude) as [number, number, number];
  if (sizes[1] > NOISE * Math.max(...sizes)) return sizes[place] / sizes[1];
  return fail("out-of-range", "positive", "a positive sequence", given);
}

/** Up to this share of the largest nothing is told from rounding: neither a positive sequence, nor a gap in a triangle. */
const NOISE = 8.881784197001252e-16; // 4 · 2^-52

/**
 * Of line-to-line magnitudes U, without the cancellation of the formulas. With S = ΣU² and T = 4√3 · area the negative over
 * the positive sequence is √((S − T)/(S + T)) = √(S² − T²)/(S + T), where S² − T² is twice the sum of the squared differences
 * of the U², and the area comes from the sides in the order of W. Kahan.
 */
function ofSides(given: PhasePairs<number>, place: 2 | undefined): number {
  const sides = three(given, PAIRS, (side, path) => atLeast(side, 0, path, "a magnitude")).sort((p, q) => q - p);
  // Fourth powers count: a power of two brings the sides near 1, and rounds nothing.
  const exponent = exponentOf({ re: sides[0], im: 0 });
  const [a, b, c] = sides.map((side) => timesPowerOfTwo(side, -exponent)) as [number, number, number];
  const [x, y] = [a - b, b - c];
  // Of a flat triangle, typed decimals and computed magnitudes may miss it by their rounding.
  if (!(a > 0 && x - c <= NOISE * a)) fail("out-of-range", "", "sides of a triangle", given);
  // The side farthest from the mean is the largest or the smallest; three times its distance is a sum of differences.
  if (place === undefined) return (x + y + Math.max(x, y)) / (a + b + c);
  const [p, q] = [x * (a + b), y * (b + c)];
  const area = (a + (b + c)) * Math.max(c - x, 0) * (c + x) * (a + y);
  return (2 * Math.sqrt(p * p + p * q + q * q)) / (a * a + b * b + c * c + Math.sqrt(3 * area));
}
