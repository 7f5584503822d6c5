import { fail } from "../base/check.js";
import type { Seconds } from "../base/units.js";
import type { Sinusoid } from "../base/waveform.js";
import { cyclesToSeconds, inRange } from "./cycles.js";
import { type Part, partsOf, sumAt, total, turned } from "./parts.js";

/** The greatest magnitude of a sinusoid, and when it comes. */
export interface Peak {
  /** The magnitude. */
  readonly peak: number;
  readonly time: Seconds;
}

/** Beyond this order the search would take seconds. */
const HIGHEST = 1000;
/** What counts as equal, as a share of the sum of all peaks. */
const SLACK = 1e-14;

/**
 * The greatest magnitude of a sinusoid in its first cycle, t from 0 to 1/frequency, with offset, decaying part and
 * harmonics: its first peak where it is a fault current. Of several that are equal the earliest counts.
 *
 * It is searched by Newton's method from 64 instants in each cycle of the fastest part.
 *
 * @param sinusoid - As for {@link valueAt}, with a frequency above 0 Hz and harmonics of an order up to 1000.
 * @throws A {@link InputError} as {@link valueAt} does, and for a frequency of 0 or a higher order.
 * Accuracy: the peak within 2e-14 of the sum of the peaks of all parts, and of a fault current within 4 units in the last
 * place; the time of a fault current within 1e-14 of a cycle.
 * @source definition
 *
 * @example
 * import { firstPeak, offsetSinusoid } from "tripwright/sinusoid";
 * const { peak, time } = firstPeak(offsetSinusoid({ rms: 1, frequency: 50, angle: 180, tau: 0.045 }));
 * peak.toFixed(4); // → "2.5489"
 * time.toFixed(6); // → "0.009819"
 */
export function firstPeak(sinusoid: Sinusoid): Peak {
  const parts = partsOf(sinusoid);
  const { rms, frequency } = sinusoid;
  const cycle = cyclesToSeconds(1, { frequency });
  const order = Math.max(...parts.map(({ hertz }) => hertz / frequency));
  if (order >= HIGHEST + 1) fail("out-of-range", "harmonics", `orders up to ${HIGHEST}`, order);
  const step = cycle / order / 64;
  const size = total(parts, ({ re, im }) => Math.hypot(re, im));
  const slack = SLACK * size;
  let [peak, time] = [-1, 0];
  const offer = (t: Seconds, least = peak + slack): number => {
    const found = Math.abs(sumAt(parts, t));
    if (found > least) [peak, time] = [found, t];
    return found;
  };
  const near = (t: Seconds): Seconds => stationary(parts, t, [Math.max(t - step, 0), Math.min(t + step, cycle)]);
  for (let t = 0; t < cycle; t += step) {
    // Half a step from a crest less than a hundredth of the size is lost.
    if (offer(t) > peak - 0.01 * size) offer(near(t));
  }
  offer(cycle);
  // The first that came within the slack of the peak may lie a little beside it.
  offer(near(time), peak - slack);
  return { peak: inRange(Math.abs(sumAt(parts, time)), "rms", rms), time };
}

/** Where the sinusoid neither rises nor falls, from t by Newton's method within a range. */
function stationary(parts: readonly Part[], t: Seconds, [low, high]: readonly [Seconds, Seconds]): Seconds {
  const unit = high - low;
  for (let round = 0; round < 10; round++) {
    let [slope, bend] = [0, 0];
    for (const part of parts) {
      const { re, im } = turned(part, t);
      const [x, y] = [-part.rate * unit, 2 * Math.PI * part.hertz * unit];
      slope += x * re - y * im;
      // No part both turns and shrinks.
      bend += (x * x - y * y) * re;
    }
    const next = Math.min(Math.max(t - (unit * slope) / bend, low), high);
    if (next === t) break;
    t = next;
  }
  return t;
}
