import { atLeast } from "../base/check.js";
import { doubles, room } from "../base/doubles.js";
import type { Seconds } from "../base/units.js";
import { type BatchLaw, batchLaw, fillSingly, fillTimes } from "./batch-law.js";
import type { CurveSetting } from "./curve.js";
import { isStarted, type ReadySetting, readySetting, travelTime } from "./ready.js";

/**
 * The operate times at many constant multiples: {@link operateTime} of each, at several times its speed for inverse
 * curves.
 *
 * @param multiples - Each 0 or more and finite.
 * @param out - Filled and returned where given; exactly as long as the multiples, and may be the same array.
 * @returns Seconds; `Infinity` where the function does not operate.
 * @throws A {@link InputError} with the place of a bad multiple (`multiples[7]`), for an `out` of another length, and
 * as {@link operateTime} does for the setting.
 * Accuracy: within 4 units in the last place, up to M = 100; the last digit can depend on what stands beside a multiple.
 * @source as {@link operateTime}
 *
 * @example
 * import { operateTimes } from "tripwright/curve";
 * Array.from(operateTimes({ curve: "iec-very-inverse", multiplier: 0.2 }, [1, 3, 10])); // → [Infinity, 1.35, 0.3]
 */
export function operateTimes(setting: CurveSetting, multiples: ArrayLike<number>, out?: Float64Array): Float64Array {
  const ready = readySetting(setting);
  const source = doubles(multiples, "multiples", WHAT);
  const times = room(out, source.length);
  const { curve } = ready;
  const law = curve.form === "inverse" ? batchLaw(ready, curve, source.length) : undefined;
  if (law !== undefined) byBlocks(ready, law, { source, times });
  else for (let i = 0; i < times.length; i++) times[i] = one(ready, checked(source, i));
  return times;
}

const WHAT = "a multiple of the setting";

function checked(multiples: Float64Array, i: number): number {
  const multiple = multiples[i] as number;
  if (multiple >= 0 && multiple < Number.POSITIVE_INFINITY) return multiple;
  return atLeast(multiple, 0, `multiples[${i}]`, WHAT);
}

function one(ready: ReadySetting, multiple: number): Seconds {
  if (!isStarted(ready, multiple)) return Number.POSITIVE_INFINITY;
  return Math.max(travelTime(ready, multiple), ready.minimumTime) + ready.addedTime;
}

interface Batch {
  readonly source: Float64Array;
  readonly times: Float64Array;
}

/** Small enough to stay in the cache. */
const BLOCK = 8_192;

/**
 * Block by block: straight from the multiples as long as all are beyond a start at 1 and nothing holds them; else from a
 * copy in which the start and the ceiling have been seen to, and each multiple checked.
 */
function byBlocks(ready: ReadySetting, law: BatchLaw, { source, times }: Batch): void {
  const { startRatio, ceilingMultiple, minimumTime, addedTime } = ready;
  const straight = startRatio === 1 && ceilingMultiple === Number.POSITIVE_INFINITY && source.buffer !== times.buffer;
  const copy = new Float64Array(Math.min(BLOCK, times.length));
  for (let first = 0; first < times.length; first += BLOCK) {
    const block = times.subarray(first, first + BLOCK);
    const multiples = source.subarray(first, first + BLOCK);
    if (!(straight && fillTimes(multiples, block, law))) {
      for (let i = 0; i < block.length; i++) {
        const multiple = checked(source, first + i);
        copy[i] = multiple > startRatio ? Math.min(multiple, ceilingMultiple) : 1;
      }
      const held = copy.subarray(0, block.length);
      if (!fillTimes(held, block, law)) fillSingly(held, block, law.numbers, 0);
    }
    if (minimumTime > 0 || addedTime > 0) addTo(block, minimumTime, addedTime);
  }
}

function addTo(times: Float64Array, minimumTime: Seconds, addedTime: Seconds): void {
  for (let i = 0; i < times.length; i++) times[i] = Math.max(times[i] as number, minimumTime) + addedTime;
}
