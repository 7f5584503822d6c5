import { above, atLeast, options } from "../base/check.js";
import type { Hertz } from "../base/units.js";
import { type FillPowers, firstPowers, otherPowers, secondPowers } from "./batch-power.js";
import type { CurveSetting, InverseCurve } from "./curve.js";
import type { OperateInstant } from "./operate-instant.js";
import { type ReadySetting, readySetting } from "./ready.js";
import { type Release, readyRelease } from "./reset.js";
import { toDoubles } from "./to-doubles.js";
import { advanced } from "./travel.js";
import type { TravelState } from "./travel-state.js";

/** How often a multiple was sampled. */
export interface Sampling {
  readonly sampleRate: Hertz;
}

const BLOCK = 256;

/**
 * When a function operates on a record of multiples, each held until the next: {@link operateInstant} of as many pieces,
 * at a small part of the time for inverse curves. A record of a million samples is one call.
 *
 * @param multiples - Samples of the multiple (of the rms value, not of the wave), each 0 or more.
 * @throws A {@link InputError} with the place of a bad sample (`multiples[7]`), for a rate that is not above 0 Hz, and as
 * {@link operateInstant} does for the setting.
 * Accuracy: the crossing within 1e-13 of the record's length of that of {@link operateInstant}.
 * @source IEEE C37.112-2018 (integral equation)
 *
 * @example
 * import { operateInstantOfSamples } from "tripwright/curve";
 * const multiples = new Float64Array(5_000).fill(3);
 * operateInstantOfSamples({ curve: "iec-very-inverse", multiplier: 0.2 }, multiples, { sampleRate: 1_000 }).operatedAt?.toFixed(9); // → "1.350000000"
 */
export function operateInstantOfSamples(
  setting: CurveSetting,
  multiples: ArrayLike<number>,
  sampling: Sampling,
): OperateInstant {
  const ready = readySetting(setting);
  const release = readyRelease(setting, ready);
  const rate = above(options(sampling, ["sampleRate"]).sampleRate, 0, "sampleRate", "a sampling rate", "Hz");
  const record: Recorded = { ready, release, dt: 1 / rate, multiples: toDoubles(multiples) };
  const { curve } = ready;
  const last =
    curve.form === "inverse" ? overBlocks(record, curve) : overSamples(record, AT_REST, 0, record.multiples.length);
  return last.operatedAt === undefined ? { travel: last.travel } : { operatedAt: last.operatedAt, travel: last.travel };
}

const AT_REST: TravelState = { elapsed: 0, travel: 0 };

interface Recorded {
  readonly ready: ReadySetting;
  readonly release: Release;
  readonly dt: number;
  readonly multiples: Float64Array;
}

/** The plain way, sample by sample; it ends where the function operates. */
function overSamples(
  { ready, release, dt, multiples }: Recorded,
  state: TravelState,
  first: number,
  end: number,
): TravelState {
  let now = state;
  for (let i = first; i < end && now.operatedAt === undefined; i++) {
    const multiple = atLeast(multiples[i] as number, 0, `multiples[${i}]`, "a multiple of the setting");
    now = advanced(ready, release, { ...now, elapsed: i * dt }, { duration: dt, from: multiple, to: multiple });
  }
  return now;
}

/**
 * Block by block: a block that is started throughout and does not fill the travel only adds its sum of rates; any other
 * is gone through sample by sample.
 */
function overBlocks(record: Recorded, { k, alpha, c }: InverseCurve): TravelState {
  const { ready, dt, multiples } = record;
  const range = Float64Array.of(ready.startRatio, ready.ceilingMultiple);
  const law = Float64Array.of(ready.multiplier * k, ready.multiplier * c);
  const scratch = new Float64Array(BLOCK);
  const fill = alpha === 1 ? firstPowers : alpha === 2 ? secondPowers : otherPowers(alpha, multiples.length);
  let state = AT_REST;
  let lost = 0; // what rounding took from the travel, given back with the next block
  for (let first = 0; first < multiples.length && state.operatedAt === undefined; first += BLOCK) {
    const end = Math.min(first + BLOCK, multiples.length);
    const gained = dt * sumOfRates(multiples, first, end, { fill, range, law, scratch }) + lost;
    const travel = state.travel + gained;
    if (travel < 1) {
      lost = gained - (travel - state.travel);
      state = { elapsed: end * dt, travel, started: (state.started ?? 0) + (end - first) * dt };
    } else {
      state = overSamples(record, { ...state, travel: state.travel + lost }, first, end);
      lost = 0;
    }
  }
  return state;
}

interface Kernel {
  readonly fill: FillPowers;
  readonly range: Float64Array;
  readonly law: Float64Array;
  readonly scratch: Float64Array;
}

/** Σ 1/t(M) of a block; NaN where it is not started throughout, or not all good. */
function sumOfRates(
  multiples: Float64Array,
  first: number,
  end: number,
  { fill, range, law, scratch }: Kernel,
): number {
  const block = multiples.subarray(first, end);
  if (fill(block, scratch, 0, block.length, range) >= 0) return Number.NaN;
  return sumOfPowers(scratch, block.length, law);
}

/** rate = P/(k + c·P), P = M^alpha − 1; without c no division is needed until the end. */
function sumOfPowers(filled: Float64Array, count: number, law: Float64Array): number {
  const [k, c] = [law[0] as number, law[1] as number];
  let [sum, least] = [0, Number.POSITIVE_INFINITY];
  for (let i = 0; i < count; i++) {
    const power = filled[i] as number;
    if (power < least) least = power;
    sum += c === 0 ? power : power / (k + c * power);
  }
  if (least === 0) return Number.NaN;
  return c === 0 ? sum / k : sum;
}
