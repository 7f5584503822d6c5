/**
 * Times and rates of an inverse curve for a block of multiples. The loops are apart, take numbers from an array, and take
 * several multiples at a time: fewer divisions, fewer additions that wait for one another, and engines compile them best
 * that way.
 */
import { PLACES } from "../base/places.js";
import { fillByPowers } from "./batch-power.js";
import type { InverseCurve } from "./curve.js";
import { powerMinusOne } from "./power.js";
import type { ReadySetting } from "./ready.js";

/** Enough multiples to pay for a table of powers; alpha 1 and 2 need none. */
const WORTH_A_TABLE = 10_000;
/** Up to here the eight terms of the table's polynomial suffice. */
const STEEPEST = 4;
/** Within these nothing that is multiplied or divided for alpha 1 and 2 leaves the range of doubles. */
const SMALLEST_K = 1e-50;
const LARGEST_K = 1e50;
const LARGEST_PRODUCT = 1e250;

export interface BatchLaw {
  readonly alpha: number;
  /** Whether alpha is 1 or 2, so that P = M^alpha − 1 is (M − 1) · (slope · M + 1) with a slope of 0 or 1. */
  readonly isPlain: boolean;
  /** [k, c, slope] of t = k/P + c, the multiplier within k and c. */
  readonly numbers: Float64Array;
}

/** The law of a batch of `count`, where it is faster than going one by one. */
export function batchLaw({ multiplier }: ReadySetting, curve: InverseCurve, count: number): BatchLaw | undefined {
  const { alpha } = curve;
  const k = multiplier * curve.k;
  const isPlain = alpha === 1 || alpha === 2;
  const fits = isPlain ? k > SMALLEST_K && k < LARGEST_K : count >= WORTH_A_TABLE && alpha <= STEEPEST;
  return fits ? { alpha, isPlain, numbers: Float64Array.of(k, multiplier * curve.c, alpha - 1) } : undefined;
}

/**
 * Fills `times`, another array as long as `multiples`; false, with the times unfinished, where a multiple is below 1 or not
 * finite, and for alpha 1 and 2 where one is 1 or immense, which {@link fillSingly} takes.
 */
export function fillTimes(multiples: Float64Array, times: Float64Array, law: BatchLaw): boolean {
  const { alpha, isPlain, numbers } = law;
  return isPlain ? fillByPairs(multiples, times, numbers) : fillByPowers(multiples, times, alpha, numbers);
}

/** One division for two: k/p = k/(p · q) · q. */
function fillByPairs(multiples: Float64Array, times: Float64Array, numbers: Float64Array): boolean {
  const k = numbers[0] as number;
  const c = numbers[1] as number;
  const slope = numbers[2] as number;
  const end = Math.min(multiples.length, PLACES) & ~3;
  let products = 0; // immense if one of them is
  for (let i = 0; i < end; i += 4) {
    const m = multiples[i] as number;
    const n = multiples[i + 1] as number;
    const v = multiples[i + 2] as number;
    const w = multiples[i + 3] as number;
    if (!(m > 1 && n > 1 && v > 1 && w > 1)) return false;
    const p = (m - 1) * (slope * m + 1);
    const q = (n - 1) * (slope * n + 1);
    const x = (v - 1) * (slope * v + 1);
    const y = (w - 1) * (slope * w + 1);
    const pq = p * q;
    const xy = x * y;
    products += pq + xy;
    const r = k / pq;
    const s = k / xy;
    times[i] = r * q + c;
    times[i + 1] = r * p + c;
    times[i + 2] = s * y + c;
    times[i + 3] = s * x + c;
  }
  return fillSingly(multiples, times, numbers, end) && products < LARGEST_PRODUCT;
}

/**
 * For alpha 1 and 2 from `first` on, one by one; whether all of these are beyond 1 and finite. M = 1 stands for what is not
 * started: its time is infinite.
 */
export function fillSingly(
  multiples: Float64Array,
  times: Float64Array,
  numbers: Float64Array,
  first: number,
): boolean {
  const k = numbers[0] as number;
  const c = numbers[1] as number;
  const slope = numbers[2] as number;
  let started = true;
  for (let i = first; i < multiples.length; i++) {
    const m = multiples[i] as number;
    if (!(m > 1 && m < Number.POSITIVE_INFINITY)) started = false;
    times[i] = k / ((m - 1) * (slope * m + 1)) + c;
  }
  return started;
}

/**
 * Σ 1/t(M); NaN where a multiple is 1 or less or not a number, not finite where one is not. `scratch` is as long as the
 * multiples or longer.
 */
export function sumOfRates(multiples: Float64Array, scratch: Float64Array, law: BatchLaw): number {
  const { isPlain, numbers } = law;
  const [k, c] = [numbers[0] as number, numbers[1] as number];
  const pairs = multiples.length >> 1;
  const rest = multiples.length % 2 === 0 ? 0 : rateOf(multiples[2 * pairs] as number, law);
  if (!isPlain) return fillTimes(multiples, scratch, law) ? sumOfInverses(scratch, pairs) + rest : Number.NaN;
  return rest + (c === 0 ? sumOfPowers(multiples, pairs, numbers) / k : sumOfQuotients(multiples, pairs, numbers));
}

/** The plain formula, for a multiple without another beside it. */
function rateOf(multiple: number, { alpha, numbers }: BatchLaw): number {
  const [k, c] = [numbers[0] as number, numbers[1] as number];
  return multiple > 1 && multiple < Number.POSITIVE_INFINITY
    ? 1 / (k / powerMinusOne(multiple, alpha) + c)
    : Number.NaN;
}

/** Σ 1/t as (t + u)/(t · u); an infinite time makes it NaN. */
function sumOfInverses(times: Float64Array, pairs: number): number {
  let sum = 0;
  for (let i = 0; i < 2 * pairs; i += 2) {
    const t = times[i] as number;
    const u = times[i + 1] as number;
    sum += (t + u) / (t * u);
  }
  return sum;
}

/** Σ P: the rates up to their factor where c is 0, so that no division is needed. */
function sumOfPowers(multiples: Float64Array, pairs: number, numbers: Float64Array): number {
  const slope = numbers[2] as number;
  let even = 0;
  let odd = 0;
  let started = true;
  for (let i = 0; i < 2 * pairs; i += 2) {
    const m = multiples[i] as number;
    const n = multiples[i + 1] as number;
    if (!(m > 1 && n > 1)) started = false;
    even += (m - 1) * (slope * m + 1);
    odd += (n - 1) * (slope * n + 1);
  }
  return started ? even + odd : Number.NaN;
}

/** Σ P/(k + c·P), as p/u + q/v = (p·v + q·u)/(u·v). */
function sumOfQuotients(multiples: Float64Array, pairs: number, numbers: Float64Array): number {
  const k = numbers[0] as number;
  const c = numbers[1] as number;
  const slope = numbers[2] as number;
  let sum = 0;
  let products = 0; // infinite if one of them was
  let started = true;
  for (let i = 0; i < 2 * pairs; i += 2) {
    const m = multiples[i] as number;
    const n = multiples[i + 1] as number;
    if (!(m > 1 && n > 1)) started = false;
    const p = (m - 1) * (slope * m + 1);
    const q = (n - 1) * (slope * n + 1);
    const u = k + c * p;
    const v = k + c * q;
    const product = u * v;
    products += product;
    sum += (p * v + q * u) / product;
  }
  return started && products < Number.POSITIVE_INFINITY ? sum : Number.NaN;
}
