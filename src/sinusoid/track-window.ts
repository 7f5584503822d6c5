import { above, fail, nameIn, options } from "../base/check.js";
import type { Hertz, Seconds } from "../base/units.js";
import { checkedRate } from "./trace.js";

/** Which instant of its window a phasor is for. */
export type TimeTag = "first" | "centre" | "last";

/** How phasors are taken from samples. */
export interface TrackOptions {
  readonly sampleRate: Hertz;
  /** The nominal frequency. */
  readonly frequency: Hertz;
  /** Default `"centre"`: the middle between the first and the last sample of the window. */
  readonly tag?: TimeTag;
}

/** What one phasor stands on. */
export interface TrackWindow {
  /** Samples in a window: a nominal cycle, to the nearest whole number. */
  readonly cycle: number;
  /** From the first sample of a window to the instant of its phasor. */
  readonly delay: Seconds;
}

const MOST = 2 ** 31;

const SHARE: Readonly<Record<TimeTag, number>> = { first: 0, centre: 0.5, last: 1 };

/**
 * How many samples a phasor of {@link phasorTrack} stands on, and which instant it is for: phasor i, counted from 0, is
 * for t = i/sampleRate + delay, with t = 0 at sample 0.
 *
 *     cycle = sampleRate/frequency, to the nearest whole number
 *     delay = 0 (first), (cycle − 1)/2/sampleRate (centre), (cycle − 1)/sampleRate (last)
 *
 * @throws A {@link InputError} for rates and frequencies that are not above 0 Hz, for fewer than 2.5 samples a cycle, for an
 * unknown tag.
 * Accuracy: correctly rounded.
 * @source definition
 *
 * @example
 * import { trackWindow } from "tripwright/sinusoid";
 * trackWindow({ sampleRate: 4000, frequency: 50 }); // → { cycle: 80, delay: 0.009875 }
 * trackWindow({ sampleRate: 4000, frequency: 60, tag: "first" }); // → { cycle: 67, delay: 0 }
 */
export function trackWindow(given: TrackOptions): TrackWindow {
  const { sampleRate, frequency, tag = "centre" } = options(given, ["sampleRate", "frequency", "tag"]);
  const cycle = Math.round(samplesPerCycle(given));
  if (!(cycle >= 3 && cycle <= MOST))
    fail(
      "out-of-range",
      "sampleRate",
      `a sample rate from ${2.5 * frequency} Hz, 2.5 samples a cycle, to ${MOST} samples a cycle`,
      sampleRate,
    );
  return { cycle, delay: (SHARE[nameIn(tag, SHARE, "tag")] * (cycle - 1)) / sampleRate };
}

/** Of the nominal frequency; may be no whole number. */
export const samplesPerCycle = ({ sampleRate, frequency }: TrackOptions): number =>
  checkedRate(sampleRate) / above(frequency, 0, "frequency", "a frequency", "Hz");
