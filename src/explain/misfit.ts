/** χ² of readings under a situation. */
import { InputError } from "../base/input-error.js";
import { gapOf } from "./predict.js";
import type { Situation } from "./situation.js";
import type { Taken } from "./taken.js";

/** Readings by check: repeats share the relay's own error. */
export function byCheck(taken: readonly Taken[]): Taken[][] {
  const groups = new Map<string, Taken[]>();
  for (const one of taken) groups.set(one.key.check, [...(groups.get(one.key.check) ?? []), one]);
  return [...groups.values()];
}

/**
 * χ² = Σ over checks of rᵀ·C⁻¹·r, where r is what was read less what is predicted and C the covariance of the repeats of
 * a check: the variance of the single readings on the diagonal, and that of the relay's own error everywhere, since all
 * repeats share it. C⁻¹ after Sherman and Morrison:
 *
 *     rᵀ·C⁻¹·r = Σ r²/s² − (Σ r/s²)² · u²/(1 + u²·Σ 1/s²)
 *
 * Words count with the square of how far they are off. `Infinity` where a situation has no answer, such as a multiple
 * outside a drawn curve.
 *
 * @source JCGM 100:2008 5.2.2 (correlated input quantities); J. Sherman, W. J. Morrison, Ann. Math. Stat. 21 (1950)
 */
export function misfitOf(groups: readonly (readonly Taken[])[], situation: Situation): number {
  try {
    return groups.reduce((sum, group) => sum + misfitOfCheck(group, situation), 0);
  } catch (error) {
    if (error instanceof InputError) return Number.POSITIVE_INFINITY;
    throw error;
  }
}

function misfitOfCheck(group: readonly Taken[], situation: Situation): number {
  let [words, squares, sum, weights] = [0, 0, 0, 0];
  let shared = 0;
  for (const taken of group) {
    const gap = gapOf(taken, situation);
    if ("off" in gap) {
      words += gap.off * gap.off;
      continue;
    }
    const { relay, single } = taken.uncertainty;
    const weight = 1 / (single * single);
    squares += gap.residual * gap.residual * weight;
    sum += gap.residual * weight;
    weights += weight;
    shared = relay * relay;
  }
  return words + squares - (sum * sum * shared) / (1 + shared * weights);
}
