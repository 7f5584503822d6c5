/** The values less the straight line that fits them best: an offset that creeps is no wave. */
export function withoutLine(values: Float64Array): Float64Array {
  const middle = (values.length - 1) / 2;
  let [sum, moment, square] = [0, 0, 0];
  for (let i = 0; i < values.length; i++) {
    sum += values[i]!;
    moment += (i - middle) * values[i]!;
    square += (i - middle) ** 2;
  }
  const [mean, slope] = [sum / values.length, moment / square];
  return values.map((x, i) => x - mean - slope * (i - middle));
}

/** Σ x² over the values before each one, and over all; a spike counts for no more than twice the mean size. */
export function energyAlong(values: Float64Array): Float64Array {
  const most = (2 * values.reduce((sum, x) => sum + Math.abs(x), 0)) / values.length;
  const sums = new Float64Array(values.length + 1);
  for (let i = 0; i < values.length; i++) sums[i + 1] = sums[i]! + Math.min(Math.abs(values[i]!), most) ** 2;
  return sums;
}

/** Where the piece of so many samples begins that holds most, to an eighth of its length. */
export function liveliest(energy: Float64Array, reach: number): number {
  const hop = Math.max(1, reach >> 3);
  let best = 0;
  for (let from = hop; from < energy.length - reach; from += hop)
    if (held(energy, reach, from) > held(energy, reach, best)) best = from;
  return best;
}

/**
 * The same, but the middle of the record, unless that holds less than half as much: a fault, a dip or a dead stretch may
 * lie there.
 */
export function lively(energy: Float64Array, reach: number): number {
  const middle = (energy.length - 1 - reach) >> 1;
  const best = liveliest(energy, reach);
  return held(energy, reach, middle) < held(energy, reach, best) / 2 ? best : middle;
}

const held = (energy: Float64Array, reach: number, from: number): number => energy[from + reach]! - energy[from]!;
