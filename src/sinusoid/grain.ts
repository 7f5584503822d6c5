/** Of the grain found so far: what is left of a difference below it is rounding. */
const CLOSE = 0.02;
/** Of values within ±1: what is finer is rounding too. */
const NONE = 1e-9;

/**
 * The step from code to code of a converter: the largest of which all differences of neighbours are multiples, by Euclid's
 * algorithm from the smallest one on; 0 where there is none. Of values within ±1 that are not all equal.
 */
export function grainOf(values: Float64Array): number {
  const { length } = values;
  let grain = 2;
  for (let i = 1; i < length; i++) {
    const gap = Math.abs(values[i]! - values[i - 1]!);
    if (gap > 0 && gap < grain) grain = gap;
  }
  for (let i = 1; i < length && grain > NONE; i++) {
    let rest = beside(values[i]! - values[i - 1]!, grain);
    while (rest > CLOSE * grain) [grain, rest] = [rest, beside(grain, rest)];
  }
  return grain > NONE ? grain : 0;
}

/** How far from the nearest multiple. */
const beside = (x: number, grain: number): number => Math.abs(x - grain * Math.round(x / grain));
