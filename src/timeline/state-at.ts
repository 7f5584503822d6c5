import { fail, finite } from "../base/check.js";
import { type Decimal, decimal, isBelow, toNumber } from "../base/exact.js";
import type { Segment, Timeline } from "../base/sequence.js";
import type { Degrees, Seconds } from "../base/units.js";
import type { Harmonic, Sinusoid } from "../base/waveform.js";
import { atStart, type Running, runOn, stateOf, turn } from "./channel-phase.js";
import { checkTimeline } from "./check-timeline.js";

/** A harmonic at an instant. */
export interface HarmonicAt extends Harmonic {
  /** order · 360 · ∫ frequency dt since the start of the timeline + angle, in (−180, 180]. */
  readonly phase: Degrees;
}

/** What one channel puts out at an instant. */
export interface ChannelAt extends Sinusoid {
  /** 360 · ∫ frequency dt since the start of the timeline + angle, in (−180, 180]: where in its cycle the channel is. */
  readonly phase: Degrees;
  readonly harmonics?: readonly HarmonicAt[];
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
  checkTimeline(timeline);
  const sum = timeline.segments.reduce(
    (total, { duration }) => total.plus(decimal(duration, "duration")),
    decimal(0, ""),
  );
  return toNumber(sum, "");
}

/**
 * What every channel puts out at an instant, with its phase. At the boundary of two states the later one holds; at the
 * very end the last one does.
 *
 * A change of frequency never jumps: the phase is 360 · ∫ f dt since the start + angle, and only a change of a given
 * angle or rms moves it at once. A channel that is off runs on unseen at the frequency it had last (before its first
 * state, at the frequency of that state), so that it comes back in step with the others.
 *
 * With θ = 360 · ∫ f dt since the start, a harmonic is √2 · rms · cos(order · θ + angle): its crest keeps its place on the
 * fundamental at any frequency, its `angle` is given back as it was written and its `phase` is order · θ + angle. A
 * decaying part counts from the beginning of its state; what is given back has decayed to
 * initial · exp(−since/tau), and goes on from there.
 *
 * @param t - Seconds since the start, from 0 to {@link totalTime}.
 * @throws A {@link InputError} for a time outside the timeline and for a timeline that is not valid.
 * Accuracy: rms, frequency and angle are the doubles nearest to the exact decimals; phases 1e-9° within a million cycles,
 * those of harmonics too; a decaying part 4e-16 of its initial value.
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
  const path = `segments[${index}].channels.${name}`;
  const running = passed(timeline, name, { index, since });
  const { cycles } = running;
  const frequency = Math.max(0, toNumber(running.frequency, `${path}.slope.frequency`));
  const state = stateOf(timeline.segments[index] as Segment, name);
  if (state === undefined) return { rms: 0, frequency, phase: turn(cycles, 0) };
  const { slope, decay, harmonics, ...constant } = state;
  const after = toNumber(since, "t");
  /** Where a quantity is that moves evenly, or stands still. */
  const moved = (quantity: "rms" | "angle"): number => {
    const gained = decimal(slope?.[quantity] ?? 0, quantity).times(since);
    return toNumber(decimal(state[quantity] ?? 0, quantity).plus(gained), `${path}.slope.${quantity}`);
  };
  const angle = moved("angle");
  return {
    ...constant,
    // A state that ends on 0 may fall a rounding below it; anything more was refused when the timeline was checked.
    rms: Math.max(0, moved("rms")),
    frequency,
    angle,
    phase: turn(cycles, angle),
    ...(decay && { decay: { ...decay, initial: decay.initial * Math.exp(-after / decay.tau) + 0 } }),
    ...(harmonics && { harmonics: harmonics.map((harmonic) => harmonicAt(harmonic, cycles)) }),
  };
}

const harmonicAt = (harmonic: Harmonic, cycles: Decimal): HarmonicAt => ({
  ...harmonic,
  phase: turn(cycles.times(harmonic.order), harmonic.angle ?? 0),
});

/** ∫ f dt since the start, and the frequency then; see {@link runOn} for a channel that is off. */
function passed({ segments }: Timeline, name: string, { index, since }: Instant): Running {
  let running = atStart(segments, name);
  for (const [i, segment] of segments.slice(0, index + 1).entries()) {
    const time = i === index ? since : decimal(segment.duration, "duration");
    running = runOn(running, stateOf(segment, name), time);
  }
  return running;
}
