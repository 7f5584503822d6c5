import { above, atLeast, fail, options } from "../base/check.js";
import { doubles } from "../base/doubles.js";
import type { Hertz } from "../base/units.js";
import { type BatchLaw, batchLaw, sumOfRates } from "./batch-law.js";
import type { CurveSetting } from "./curve.js";
import { type OperateInstant, operateInstantFrom } from "./operate-instant.js";
import { type ReadySetting, readySetting } from "./ready.js";
import { type Release, readyRelease } from "./reset.js";
import { advanced } from "./travel.js";
import type { Underway } from "./travel-state.js";

/** How often a multiple was sampled. */
export interface Sampling {
  readonly sampleRate: Hertz;
}

/**
 * When a function operates on a record of multiples, each held until the next: {@link operateInstant} of as many pieces,
 * at a small part of the time for inverse curves. A record of a million samples is one call.
 *
 * @param multiples - Samples of the multiple (of the rms value, not of the wave), each 0 or more.
 * @throws A {@link InputError} with the place of a bad sample (`multiples[7]`), for a rate that is not above 0 Hz, and as
 * {@link operateInstant} does for the setting.
 * Accuracy: the crossing within 1e-13 of the record's length, also of ten million samples; a thermal image as in
 * {@link operateInstant}, each sample a piece.
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
  const samples = doubles(multiples, "multiples", WHAT);
  if (!Number.isFinite(samples.length / rate))
    fail("out-of-range", "sampleRate", "a sampling rate at which the record fits a double", rate);
  const record: Recorded = { ready, release, dt: 1 / rate, multiples: samples };
  const { curve } = ready;
  const law = curve.form === "inverse" ? batchLaw(ready, curve, samples.length) : undefined;
  const last = law === undefined ? overSamples(record, AT_REST, 0, samples.length) : overBlocks(record, law);
  return operateInstantFrom(last, "multiples");
}

const WHAT = "a multiple of the setting";
const AT_REST: Underway = { elapsed: 0, travel: 0 };

interface Recorded {
  readonly ready: ReadySetting;
  readonly release: Release;
  readonly dt: number;
  readonly multiples: Float64Array;
}

/** The plain way, sample by sample; it ends where the function operates. */
function overSamples(
  { ready, release, dt, multiples }: Recorded,
  state: Underway,
  first: number,
  end: number,
): Underway {
  let now = state;
  for (let i = first; i < end && now.operatedAt === undefined; i++) {
    const multiple = atLeast(multiples[i], 0, `multiples[${i}]`, WHAT);
    now = advanced(ready, release, { ...now, elapsed: i * dt }, { duration: dt, from: multiple, to: multiple });
  }
  return now;
}

/** Samples in a block; in a smaller one, few enough to be gone through one by one. */
const BLOCK = 2_048;
const SMALL = 32;

/**
 * Block by block: a block that is started throughout and does not fill the travel only adds its sum of rates; any other
 * is gone through in smaller ones, and a small one sample by sample.
 */
function overBlocks(record: Recorded, law: BatchLaw): Underway {
  const scratch = new Float64Array(BLOCK);
  const over = (from: Underway, first: number, last: number, size: number): Underway => {
    let state = from;
    for (let begin = first; begin < last && state.operatedAt === undefined; begin += size) {
      const end = Math.min(begin + size, last);
      const gained = record.dt * sumOfRates(started(record, begin, end), scratch, law) + (state.lost ?? 0);
      const travel = state.travel + gained;
      if (travel < 1) {
        const lost = gained - (travel - state.travel); // given back with the next block
        state = { elapsed: end * record.dt, travel, started: (state.started ?? 0) + (end - begin) * record.dt, lost };
      } else {
        state = size > SMALL ? over(state, begin, end, SMALL) : overSamples(record, state, begin, end);
      }
    }
    return state;
  };
  return over(AT_REST, 0, record.multiples.length, BLOCK);
}

/** The multiples of a block, held at the ceiling. Those not started or not finite become 0, which makes its sum of rates NaN. */
function started({ ready, multiples }: Recorded, first: number, end: number): Float64Array {
  const { startRatio, ceilingMultiple } = ready;
  const block = multiples.subarray(first, end);
  if (startRatio === 1 && ceilingMultiple === Number.POSITIVE_INFINITY) return block;
  return block.map((multiple) => {
    return multiple > startRatio && multiple < Number.POSITIVE_INFINITY ? Math.min(multiple, ceilingMultiple) : 0;
  });
}
