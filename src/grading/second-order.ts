/** What a measurement function bends within the uncertainties of its inputs. */

interface Values {
  readonly [name: string]: number;
}

type Uncertain = readonly (readonly [name: string, standard: number])[];

/**
 * The second-order terms of the variance of f about a center:
 *
 *     Σᵢⱼ [½·fᵢⱼ² + fᵢ·fᵢⱼⱼ]·uᵢ²·uⱼ²
 *
 * by differences over an eighth and a sixteenth of the standard uncertainties, extrapolated to none.
 *
 * Accuracy: 1e-6 relative where the terms count beside those of first order.
 * @source JCGM 100:2008 5.1.2, note
 */
export function secondOrderTerms(f: (values: Values) => number, center: Values, uncertainties: Uncertain): number {
  const uncertain = uncertainties.filter(([, standard]) => standard > 0);
  const [wide, narrow] = [1 / 8, 1 / 16].map((share) => {
    const shrunk = uncertain.map(([name, standard]) => [name, share * standard] as const);
    return termsOver(f, center, shrunk) / share ** 4;
  }) as [number, number];
  return (4 * narrow - wide) / 3;
}

/** The terms by differences over the steps themselves, in which the uncertainties cancel. */
function termsOver(f: (values: Values) => number, center: Values, uncertain: Uncertain): number {
  /** f with some inputs moved by so many of their steps. */
  const at = (...moves: readonly (readonly [input: number, by: number])[]): number => {
    const moved: { [name: string]: number } = { ...center };
    for (const [input, by] of moves) {
      const [name, step] = uncertain[input] as readonly [string, number];
      moved[name] = (moved[name] as number) + by * step;
    }
    return f(moved);
  };
  let sum = 0;
  for (const i of uncertain.keys()) {
    const first = (at([i, 1]) - at([i, -1])) / 2;
    for (const j of uncertain.keys()) {
      // Moving an input twice adds up, so that i = j needs no case of its own.
      const second = (at([i, 1], [j, 1]) - at([i, 1], [j, -1]) - at([i, -1], [j, 1]) + at([i, -1], [j, -1])) / 4;
      const bend = (by: number): number => at([i, by], [j, 1]) - 2 * at([i, by]) + at([i, by], [j, -1]);
      sum += 0.5 * second * second + (first * (bend(1) - bend(-1))) / 2;
    }
  }
  return sum;
}
