import { fail } from "../base/check.js";
import { add, productOver } from "./arithmetic.js";
import { PAIRS, PHASES, type PhasePairs, type Phases, three } from "./phases.js";
import { checkPhasor, nonzero, type Phasor } from "./phasor.js";

/**
 * The wye that stands for a delta of impedances: the product of the neighbours over the sum.
 *
 *     a = ab·ca/(ab + bc + ca),  b = bc·ab/(ab + bc + ca),  c = ca·bc/(ab + bc + ca)
 *
 * @param delta - Ohms, or any other unit; the answer is in the same.
 * @throws A {@link InputError} for impedances whose sum is 0 or its rounding (a delta in resonance has no wye), for
 * phasors that are not finite and for results beyond the range of a double.
 * Accuracy: 1e-15 of each magnitude, times (|ab| + |bc| + |ca|)/|ab + bc + ca|.
 * @source A. E. Kennelly, Electrical World and Engineer 34 (1899)
 *
 * @example
 * import { deltaToWyeImpedance } from "tripwright/phasor";
 * deltaToWyeImpedance({ ab: { re: 10, im: 0 }, bc: { re: 20, im: 0 }, ca: { re: 30, im: 0 } }).c; // → { re: 10, im: 0 }
 */
export function deltaToWyeImpedance(delta: PhasePairs): Phases {
  const [ab, bc, ca] = three(delta, PAIRS, checkPhasor);
  const sum = add(add(ab, bc), ca);
  const noise = 2 * Number.EPSILON * Math.max(...[ab, bc, ca].map(largestPart));
  if (largestPart(sum) <= noise) fail("out-of-range", "", "a sum other than 0", delta);
  return { a: productOver(ab, ca, sum), b: productOver(bc, ab, sum), c: productOver(ca, bc, sum) };
}

/**
 * The delta that stands for a wye of impedances; undoes {@link deltaToWyeImpedance}.
 *
 *     ab = a + b + a·b/c,  bc = b + c + b·c/a,  ca = c + a + c·a/b
 *
 * @param wye - Ohms, or any other unit; the answer is in the same.
 * @throws A {@link InputError} for an impedance of 0 (the one across from it has no bounds), for phasors that are not
 * finite and for results beyond the range of a double.
 * Accuracy: 1e-15 of the sum of the magnitudes of the three terms.
 * @source A. E. Kennelly, Electrical World and Engineer 34 (1899)
 *
 * @example
 * import { wyeToDeltaImpedance } from "tripwright/phasor";
 * const z = { re: 0, im: 10 };
 * wyeToDeltaImpedance({ a: z, b: z, c: z }).ab; // → { re: 0, im: 30 }
 */
export function wyeToDeltaImpedance(wye: Phases): PhasePairs {
  const [a, b, c] = three(wye, PHASES, checkPhasor);
  const across = (p: Phasor, q: Phasor, far: Phasor, path: string): Phasor =>
    add(add(p, q), productOver(p, q, nonzero(far, path)));
  return { ab: across(a, b, c, "c"), bc: across(b, c, a, "a"), ca: across(c, a, b, "b") };
}

const largestPart = ({ re, im }: Phasor): number => Math.max(Math.abs(re), Math.abs(im));
