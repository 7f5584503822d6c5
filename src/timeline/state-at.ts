import { fail, finite } from "../base/check.js";
import { signedAngle } from "../base/degrees.js";
import { type Decimal, decimal, isBelow, toNumber } from "../base/exact.js";
import type { ChannelState, Segment, Timeline } from "../base/sequence.js";
import type { Degrees, Hertz, Seconds } from "../base/units.js";
import type { Sinusoid } from "../base/waveform.js";
import { checkTimeline } from "./check.js";

/** What one channel puts out at an instant. */
export interface ChannelAt extends Sinusoid {
  /** 360 · ∫ frequency dt since the start of the timeline + angle, in (−180, 180]: where in its cycle the channel is. */
  readonly phase: Degrees;
}

/** What a source puts out at an instant. */
export interface StateAt {
  /** The name of the state and its place in the timeline, from 0. */
  readonly segment: string;
  readonly index: number;
  /** Seconds since that state began. */
  readonly since: Seconds;
  /** Every wired channel; one that is off has rms 0. */
  readonly channels: { readonly [channel: string]: ChannelAt };
}

/**
 * The time that a whole sequence takes when no contact ends a state early.
 *
 * @throws A {@link InputError} for a timeline that is not valid, with the path of what is wrong.
 * Accuracy: the double nearest to the exact sum of the decimal durations.
 * @source definition
 *
 * @example
 * import { ramp, staircase, totalTime } from "tripwright/timeline";
 * const pieces = staircase({ from: 1, to: 2, step: 0.1, dwell: 0.1 });
 * const wiring = { i: { quantity: "current", feeds: { ia: 1 } } } as const;
 * totalTime(ramp({ base: { i: { rms: 0, frequency: 50 } }, lever: { i: { rms: 1 } }, pieces, wiring })); // → 1.1
 */
export function totalTime(timeline: Timeline): Seconds {
  checkTimeline(timeline, "timeline");
  const sum = timeline.segments.reduce(
    (total, { duration }) => total.plus(decimal(duration, "duration")),
    decimal(0, ""),
  );
  return toNumber(sum, "timeline");
}

/**
 * What every channel puts out at an instant, with its phase. At the boundary of two states the later one holds; at the
 * very end the last one does.
 *
 * A change of frequency never jumps: the phase is 360 · ∫ f dt since the start + angle, and only a change of a given
 * angle or rms moves it at once. A channel that is off runs on unseen at the frequency it had last (before its first
 * state, at the frequency of that state), so that it comes back in step with the others.
 *
 * @param t - Seconds since the start, from 0 to {@link totalTime}.
 * @throws A {@link InputError} for a time outside the timeline and for a timeline that is not valid.
 * Accuracy: 1e-9° of phase within a million cycles.
 * @source phase reference of IEC/IEEE 60255-118-1
 *
 * @example
 * import { faultSequence, stateAt } from "tripwright/timeline";
 * const timeline = faultSequence({
 *   before: { v: { rms: 63.5, frequency: 50 } },
 *   fault: { v: { rms: 63.5, frequency: 51 } },
 *   settleFor: 0.105,
 *   giveUpAfter: 0.2,
 *   wiring: { v: { quantity: "voltage", feeds: { va: 1 } } },
 * });
 * stateAt(timeline, 0.105).channels.v?.phase; // → 90
 */
export function stateAt(timeline: Timeline, t: Seconds): StateAt {
  const total = totalTime(timeline);
  if (!(finite(t, "t", "a time in seconds") >= 0 && t <= total)) {
    fail("out-of-range", "t", `a time from 0 to ${total} s`, t);
  }
  const instant = locate(timeline, t);
  const segment = timeline.segments[instant.index] as Segment;
  const channels = Object.keys(timeline.wiring).map((name) => [name, channelAt(timeline, name, instant)] as const);
  return {
    segment: segment.name,
    index: instant.index,
    since: toNumber(instant.since, "t"),
    channels: Object.fromEntries(channels),
  };
}

interface Instant {
  readonly index: number;
  /** Seconds since the state began, exactly. */
  readonly since: Decimal;
}

/** Boundaries are sums of exact decimals, so that a state begins at the instant a person would name. */
function locate({ segments }: Timeline, t: Seconds): Instant {
  const instant = decimal(t, "t");
  let [index, start] = [0, decimal(0, "")];
  for (const { duration } of segments.slice(0, -1)) {
    const end = start.plus(decimal(duration, "duration"));
    if (isBelow(instant, end)) break;
    [index, start] = [index + 1, end];
  }
  const since = instant.minus(start);
  return { index, since: isBelow(start, instant) ? since : decimal(0, "") };
}

function channelAt(timeline: Timeline, name: string, { index, since }: Instant): ChannelAt {
  const { cycles, frequency: running } = passed(timeline, name, { index, since });
  const state = timeline.segments[index]?.channels[name];
  if (state === undefined) return { rms: 0, frequency: running, phase: turn(cycles, 0) };
  const { slope, ...constant } = state;
  const after = toNumber(since, "t");
  // A state that ends on 0 may fall a rounding below it; anything more was refused when the timeline was checked.
  const rms = Math.max(0, state.rms + (slope?.rms ?? 0) * after);
  const frequency = Math.max(0, state.frequency + (slope?.frequency ?? 0) * after);
  const angle = (state.angle ?? 0) + (slope?.angle ?? 0) * after;
  return { ...constant, rms, frequency, angle, phase: turn(cycles, angle) };
}

/**
 * ∫ f dt since the start in exact decimals, so that no digit is lost with time; whole cycles are dropped at the end. A
 * channel that is off runs on at the frequency it had last, before its first state at the frequency of that state.
 */
function passed({ segments }: Timeline, name: string, { index, since }: Instant): { cycles: number; frequency: Hertz } {
  let cycles = decimal(0, "");
  let running = segments.find(({ channels }) => channels[name] !== undefined)?.channels[name]?.frequency ?? 0;
  for (const [i, { duration, channels }] of segments.slice(0, index + 1).entries()) {
    const time = i === index ? since : decimal(duration, "duration");
    const state = channels[name];
    cycles = cycles.plus(cyclesOf(state ?? { frequency: running }, time));
    if (state !== undefined) running = state.frequency + (state.slope?.frequency ?? 0) * duration;
  }
  return { cycles: toNumber(cycles.mod(1), "t"), frequency: running };
}

/** ∫ f dt over a state in which the frequency stands still or moves evenly. */
function cyclesOf({ frequency, slope }: Pick<ChannelState, "frequency" | "slope">, time: Decimal): Decimal {
  const even = decimal(frequency, "frequency").times(time);
  const rate = slope?.frequency ?? 0;
  return rate === 0 ? even : even.plus(decimal(rate, "frequency").div(2).times(time).times(time));
}

/** Cycles and degrees to one angle in (−180, 180]. */
const turn = (cycles: number, angle: Degrees): Degrees => signedAngle(signedAngle(cycles * 360) + signedAngle(angle));
