/** One channel of a sequence, state by state. */
import { decimal, toNumber } from "../base/exact.js";
import type { ChannelState, Segment } from "../base/sequence.js";
import type { Seconds } from "../base/units.js";

/** One state of one channel, with when it begins. */
export interface Stand {
  readonly segment: Segment;
  readonly index: number;
  readonly start: Seconds;
  readonly state: ChannelState;
  readonly channel: string;
}

export function standsOf(segments: readonly Segment[], channel: string): Stand[] {
  let start = decimal(0, "");
  return segments.flatMap((segment, index) => {
    const begins = toNumber(start, "timeline");
    start = start.plus(decimal(segment.duration, "duration"));
    const state = segment.channels[channel];
    return state === undefined ? [] : [{ segment, index, start: begins, state, channel }];
  });
}

/** The rms value with harmonics and offset, some time into a state. */
export function rmsAfter({ rms, slope, harmonics = [], offset = 0 }: ChannelState, since: Seconds): number {
  const fundamental = rms + (slope?.rms ?? 0) * since;
  if (harmonics.length === 0 && offset === 0) return fundamental;
  const others = harmonics.reduce((sum, one) => sum + one.rms * one.rms, offset * offset);
  return Math.sqrt(fundamental * fundamental + others);
}

/** Where and when something is found. */
export const placeOf = ({ channel, segment, index, start }: Stand, since: Seconds) => ({
  channel,
  segment: segment.name,
  index,
  at: start + since,
});

/** When something that is so at the end of a state began to be so: at its beginning, or found by halving. */
export function passedAt(isSo: (since: Seconds) => boolean, duration: Seconds): Seconds {
  if (isSo(0)) return 0;
  let [low, high] = [0, duration];
  for (let middle = high / 2; middle > low && middle < high; middle = (low + high) / 2) {
    if (isSo(middle)) high = middle;
    else low = middle;
  }
  // What a ramp only passes at an instant is said at that instant, to twelve digits.
  return Number(high.toPrecision(12));
}
