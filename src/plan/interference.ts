/** Which other functions could operate during a check. */

import { type Decimal, decimal, toNumber } from "../base/exact.js";
import { type ChannelStates, eachChannel, type Segment, type Timeline, type Wiring } from "../base/sequence.js";
import type { Degrees, Seconds } from "../base/units.js";
import { dropoutLevel, type ElementSetting, inputsOf, operateTimeOf, type RelayInputs } from "../element/index.js";
import { band, type Tolerance } from "../grading/index.js";
import { saysSomethingAt } from "./nominal-time.js";
import { definition, isInverse, isStartedBy, startOf } from "./started.js";

/**
 * The ids of the other elements that could operate somewhere in a timeline, so that they must be blocked for it. Each is
 * taken at the edges of its published accuracy: a relay that is right may start early, let go late and operate there.
 *
 * Travel adds up state by state. A definite time runs on between start and dropout, and starts anew after a state in which
 * the function has let go. How fast an inverse one resets is not on the sheet, so that its travel is taken to stay: short
 * pulses with rest between may add up to a trip.
 */
export function interferers(
  checked: ElementSetting,
  all: readonly ElementSetting[],
  { timeline, contact }: { readonly timeline: Timeline; readonly contact: string },
): string[] {
  const stretches = timeline.segments.flatMap((segment) => stretchesOf(segment, timeline.wiring));
  const disturbs = (other: ElementSetting) => {
    const early = atEarlyPickup(other);
    const steps = stepsSeenBy(other, timeline);
    return (
      mayOperate(early, other, stretches) ||
      steps.some((step) => mayOperate(early, other, [step])) ||
      (other.startContact === contact && mayStart(early, [...stretches, ...steps]))
    );
  };
  return all.filter((other) => other.id !== checked.id && disturbs(other)).map(({ id }) => id);
}

/** What stands on the relay's inputs, and for how long. */
interface Stretch {
  readonly duration: Seconds;
  readonly inputs: RelayInputs;
}

/** A state that moves is taken in parts, each as it ends: what is crossed on the way counts. */
const PARTS = 16;

function stretchesOf({ channels, duration }: Segment, wiring: Wiring): Stretch[] {
  const moves = Object.values(channels).some(({ slope = {} }) => Object.values(slope).some((rate) => rate));
  if (!moves) {
    const turning = turningOf(channels);
    if (turning > 0) return turned(channels, { duration, turning }, wiring);
    return [{ duration, inputs: inputsOf(channels, wiring) }];
  }
  return Array.from({ length: PARTS }, (_, i) => ({
    duration: duration / PARTS,
    inputs: inputsOf(channelsAfter((duration * (i + 1)) / PARTS, channels), wiring),
  }));
}

/**
 * A frequency that jumps has no rate, but a relay that measures one sees the step over the window in which it measures: as
 * so many hertz in the time of its measuring delay. One without any measures no rate.
 */
function stepsSeenBy(other: ElementSetting, { segments, wiring }: Timeline): Stretch[] {
  const window = other.measuringDelay;
  if (definition(other).unit !== "Hz/s" || window === 0) return [];
  return segments.slice(1).map(({ channels }, i) => {
    const before = (segments[i] as Segment).channels;
    const moving = eachChannel(channels, (state, name) => {
      const was = before[name];
      const ended = was && was.frequency + (was.slope?.frequency ?? 0) * (segments[i] as Segment).duration;
      return { ...state, slope: { frequency: ended === undefined ? 0 : (state.frequency - ended) / window } };
    });
    return { duration: window, inputs: inputsOf(moving, wiring) };
  });
}

/** Between two looks channels turn no further against each other. */
const TURN: Degrees = 1;

/** How fast channels of different frequencies turn against each other, in degrees a second. */
function turningOf(channels: ChannelStates): number {
  const frequencies = Object.values(channels).flatMap(({ rms, frequency }) => (rms > 0 ? [frequency] : []));
  return frequencies.length === 0 ? 0 : 360 * (Math.max(...frequencies) - Math.min(...frequencies));
}

/**
 * A state whose channels turn against each other, as the looks of one turn: further turns repeat it, so that each look is
 * stretched over its share of the whole state. An element may seem to be started for longer than it is; none is missed.
 */
function turned(
  channels: ChannelStates,
  { duration, turning }: { readonly duration: Seconds; readonly turning: number },
  wiring: Wiring,
): Stretch[] {
  const once = Math.min(duration, 360 / turning);
  const count = Math.ceil((once * turning) / TURN);
  const [reference = 0] = Object.values(channels).map(({ frequency }) => frequency);
  return Array.from({ length: count }, (_, i) => {
    const since = (once * (i + 1)) / count;
    const after = eachChannel(channels, (state) => {
      const ahead = 360 * (state.frequency - reference) * since;
      return { ...state, angle: (state.angle ?? 0) + ahead };
    });
    return { duration: duration / count, inputs: inputsOf(after, wiring) };
  });
}

const channelsAfter = (since: Seconds, channels: ChannelStates): ChannelStates =>
  eachChannel(channels, (state) => {
    const { rms = 0, frequency = 0, angle = 0 } = state.slope ?? {};
    return {
      ...state,
      rms: Math.max(0, state.rms + rms * since),
      frequency: Math.max(0, state.frequency + frequency * since),
      angle: (state.angle ?? 0) + angle * since,
    };
  });

/** A start contact that both elements drive shows nothing of the one under check while the other is started. */
const mayStart = (early: ElementSetting, stretches: readonly Stretch[]): boolean =>
  stretches.some(({ inputs }) => isStartedBy(early, inputs));

function mayOperate(early: ElementSetting, element: ElementSetting, stretches: readonly Stretch[]): boolean {
  const late = isInverse(element) ? undefined : atLateDropout(element);
  let travel = 0;
  for (const { duration, inputs } of stretches) {
    const runs = isStartedBy(early, inputs) ? early : travel > 0 ? late : undefined;
    if (runs === undefined || !isStartedBy(runs, inputs)) {
      if (late !== undefined) travel = 0;
      continue;
    }
    const time = earliest(timeOf(runs, inputs), element);
    if (time === 0) return true;
    travel += duration / time;
    if (travel >= 1) return true;
  }
  return false;
}

/** A drawn curve says nothing beyond its ends; who starts there may operate at once, for all that is known. */
function timeOf(element: ElementSetting, inputs: RelayInputs): number {
  if (!saysSomethingAt(element.law, definition(element).read(inputs, element).multiple)) return 0;
  return operateTimeOf(element, inputs);
}

/** The same function, starting at the early edge of its pickup. */
export const atEarlyPickup = (element: ElementSetting): ElementSetting =>
  startingAtEdge(element, startOf(element), element.accuracy.pickup);

/** The same function, starting where it lets go at the latest. */
const atLateDropout = (element: ElementSetting): ElementSetting =>
  startingAtEdge(
    element,
    decimal(dropoutLevel(element), "dropout"),
    element.accuracy.dropout ?? element.accuracy.pickup,
  );

/** Its setting moved so that it starts at a level, less what is allowed on the operating side. */
function startingAtEdge(element: ElementSetting, level: Decimal, allowed: Tolerance): ElementSetting {
  const { low, high, nominal } = band(level, allowed);
  const edge = definition(element).side === "over" ? low : high;
  const start = edge === undefined || edge <= 0 ? nominal : edge;
  return { ...element, pickup: (start / toNumber(startOf(element), "pickup")) * element.pickup };
}

/** The early edge of the time tolerance; where only an upper limit is declared, at once. */
function earliest(time: number, { accuracy }: ElementSetting): number {
  return Number.isFinite(time) ? Math.max(0, band(time, accuracy.time).low ?? 0) : time;
}
