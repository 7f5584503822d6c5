import { atLeast, fail } from "../base/check.js";
import type { Seconds } from "../base/units.js";
import { firstPowers, otherPowers, secondPowers } from "./batch-power.js";
import type { CurveSetting, InverseCurve } from "./curve.js";
import { isStarted, type ReadySetting, readySetting, travelTime } from "./ready.js";
import { toDoubles } from "./to-doubles.js";

const BLOCK = 2_048;

/**
 * The operate times at many constant multiples: {@link operateTime} of each, at several times its speed for inverse
 * curves.
 *
 * @param multiples - Each 0 or more and finite.
 * @param out - Filled and returned where given; exactly as long as the multiples, and may be the same array.
 * @returns Seconds; `Infinity` where the function does not operate.
 * @throws A {@link InputError} with the place of a bad multiple (`multiples[7]`), for an `out` of another length, and
 * as {@link operateTime} does for the setting.
 * Accuracy: within 4 units in the last place, up to M = 100.
 * @source as {@link operateTime}
 *
 * @example
 * import { operateTimes } from "tripwright/curve";
 * Array.from(operateTimes({ curve: "iec-very-inverse", multiplier: 0.2 }, [1, 3, 10])); // → [Infinity, 1.35, 0.3]
 */
export function operateTimes(setting: CurveSetting, multiples: ArrayLike<number>, out?: Float64Array): Float64Array {
  const ready = readySetting(setting);
  const source = toDoubles(multiples);
  const times = out ?? new Float64Array(source.length);
  if (times.length !== source.length) fail("wrong-length", "out", `an array of ${source.length} times`, times.length);
  const { curve } = ready;
  if (curve.form === "inverse") fill(ready, curve, { source, times });
  else for (let i = 0; i < times.length; i++) times[i] = one(ready, checked(source, i));
  return times;
}

interface Batch {
  readonly source: Float64Array;
  readonly times: Float64Array;
}

function checked(multiples: ArrayLike<number>, i: number): number {
  const multiple = multiples[i] as number;
  if (multiple >= 0 && multiple < Number.POSITIVE_INFINITY) return multiple;
  return atLeast(multiple, 0, `multiples[${i}]`, "a multiple of the setting");
}

function one(ready: ReadySetting, multiple: number): Seconds {
  if (!isStarted(ready, multiple)) return Number.POSITIVE_INFINITY;
  return Math.max(travelTime(ready, multiple), ready.minimumTime) + ready.addedTime;
}

/**
 * Block by block, so that it stays in the cache: first the powers into `times` (0 where the function is not started, so
 * that its time comes out infinite), then the times from them. Each place is read before it is written.
 */
function fill(ready: ReadySetting, { k, alpha, c }: InverseCurve, { source, times }: Batch): void {
  const { multiplier, startRatio, ceilingMultiple, minimumTime, addedTime } = ready;
  const range = Float64Array.of(startRatio, ceilingMultiple);
  const law = Float64Array.of(multiplier * k, multiplier * c, minimumTime, addedTime);
  const fillPowers = alpha === 1 ? firstPowers : alpha === 2 ? secondPowers : otherPowers(alpha, times.length);
  for (let first = 0; first < times.length; first += BLOCK) {
    const end = Math.min(first + BLOCK, times.length);
    const bad = fillPowers(source, times, first, end, range);
    if (bad >= 0) checked(source, bad);
    timesOfPowers(times, first, end, law);
  }
}

function timesOfPowers(times: Float64Array, first: number, end: number, law: Float64Array): void {
  const [k, c, minimumTime, addedTime] = [law[0] as number, law[1] as number, law[2] as number, law[3] as number];
  for (let i = first; i < end; i++) {
    const time = k / (times[i] as number) + c;
    times[i] = Math.max(time, minimumTime) + addedTime;
  }
}
