/**
 * Times and rates of an inverse curve for a block of multiples from 1 up, M = 1 standing for what is not started: its
 * power P = M^alpha − 1 is 0, its time infinite. The loops are apart and take numbers from an array, because engines
 * compile them best that way.
 */
import { fillPowers } from "./batch-power.js";
import type { InverseCurve } from "./curve.js";
import type { ReadySetting } from "./ready.js";

/** Enough multiples to pay for a table of powers; alpha 1 and 2 need none. */
const WORTH_A_TABLE = 10_000;
/** Up to here the eight terms of the table's polynomial suffice. */
const STEEPEST = 4;

export interface BatchLaw {
  readonly alpha: number;
  readonly hasTable: boolean;
  /**
   * [shift, slope, k, c]: the loops read P = (v − shift) · (slope · v + 1), which is M − 1 or (M − 1)(M + 1) of the
   * multiple v = M, or the power v = P itself; then t = k/P + c, the multiplier within both constants.
   */
  readonly numbers: Float64Array;
}

/** The law of a batch of `count`, where it is faster than going one by one. */
export function batchLaw({ multiplier }: ReadySetting, curve: InverseCurve, count: number): BatchLaw | undefined {
  const { k, alpha, c } = curve;
  const hasTable = alpha !== 1 && alpha !== 2;
  if (hasTable && (count < WORTH_A_TABLE || alpha > STEEPEST)) return undefined;
  const [shift, slope] = hasTable ? [0, 0] : [1, alpha - 1];
  return { alpha, hasTable, numbers: Float64Array.of(shift, slope, multiplier * k, multiplier * c) };
}

/** Fills `times`, another array; false, with the times unfinished, where a multiple is below 1 or not finite. */
export function fillTimes(multiples: Float64Array, times: Float64Array, law: BatchLaw): boolean {
  if (!law.hasTable) return timesOf(multiples, times, law.numbers);
  return fillPowers(multiples, times, law.alpha) && timesOf(times, times, law.numbers);
}

/**
 * Σ 1/t(M); NaN where a multiple is 1 or less or not a number, not finite where one is not. `powers` is scratch, as
 * long or longer.
 */
export function sumOfRates(multiples: Float64Array, powers: Float64Array, law: BatchLaw): number {
  if (law.hasTable && !fillPowers(multiples, powers, law.alpha)) return Number.NaN;
  const values = law.hasTable ? powers : multiples;
  const [k, c] = [law.numbers[2] as number, law.numbers[3] as number];
  const count = multiples.length;
  return c === 0 ? sumOfPowers(values, count, law.numbers) / k : sumOfQuotients(values, count, law.numbers);
}

function timesOf(values: Float64Array, times: Float64Array, numbers: Float64Array): boolean {
  const shift = numbers[0] as number;
  const slope = numbers[1] as number;
  const k = numbers[2] as number;
  const c = numbers[3] as number;
  let below = 0; // 0 as long as nothing is below the shift, NaN after what is not finite; a branch would take longer
  for (let i = 0; i < values.length; i++) {
    const v = values[i] as number;
    const d = v - shift;
    below += Math.abs(d) - d;
    times[i] = k / (d * (slope * v + 1)) + c;
  }
  return below === 0;
}

/**
 * Σ P: the rates up to their factor where c is 0, so that no division is needed. Two sums, since each addition waits for
 * the one before; where their count is odd the last one is in neither.
 */
function sumOfPowers(values: Float64Array, count: number, numbers: Float64Array): number {
  const shift = numbers[0] as number;
  const slope = numbers[1] as number;
  const pairs = count - 1;
  let even = 0;
  let odd = 0;
  let started = true;
  for (let i = 0; i < pairs; i += 2) {
    const v = values[i] as number;
    const w = values[i + 1] as number;
    const d = v - shift;
    const e = w - shift;
    if (!(d > 0 && e > 0)) started = false;
    even += d * (slope * v + 1);
    odd += e * (slope * w + 1);
  }
  if (count % 2 === 1) {
    const v = values[pairs] as number;
    if (!(v > shift)) started = false;
    even += (v - shift) * (slope * v + 1);
  }
  return started ? even + odd : Number.NaN;
}

/** Σ P/(k + c·P). */
function sumOfQuotients(values: Float64Array, count: number, numbers: Float64Array): number {
  const shift = numbers[0] as number;
  const slope = numbers[1] as number;
  const k = numbers[2] as number;
  const c = numbers[3] as number;
  let sum = 0;
  let started = true;
  for (let i = 0; i < count; i++) {
    const v = values[i] as number;
    const d = v - shift;
    if (!(d > 0)) started = false;
    const power = d * (slope * v + 1);
    sum += power / (k + c * power);
  }
  return started ? sum : Number.NaN;
}
