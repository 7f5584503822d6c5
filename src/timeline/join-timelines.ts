import { fail, options, whole } from "../base/check.js";
import { joinPaths, within } from "../base/input-error.js";
import type { Channel, ChannelStates, Segment, Timeline, Wiring } from "../base/sequence.js";
import type { Seconds } from "../base/units.js";
import { checkSegment, checkTimeline } from "./check-timeline.js";

/** More states than anybody runs: a million repetitions are refused with the count, not attempted. */
const MOST_STATES = 100_000;

/**
 * Sequences one after the other as a single one: the states in their order, the channels of all of them. The phase of
 * every channel runs through, and the clock starts wherever it starts in a part; {@link walk} times each stretch on its own.
 *
 * @throws A {@link InputError} for a channel that two parts wire differently, for no part at all, for a part that is not
 * valid, and with the count for more than 100,000 states.
 * Accuracy: exact, the states are those of the parts.
 * @source definition
 *
 * @example
 * import { joinTimelines, linearRamp, ramp, staircase, totalTime } from "tripwright/timeline";
 * const part = {
 *   base: { i: { rms: 0, frequency: 50 } },
 *   lever: { i: { rms: 1 } },
 *   wiring: { i: { quantity: "current", feeds: { ia: 1 } } },
 * } as const;
 * const up = ramp({ ...part, pieces: staircase({ from: 1, to: 1.2, step: 0.1, dwell: 0.5 }) });
 * const down = ramp({ ...part, pieces: linearRamp({ from: 1.2, to: 1, rate: 0.1 }) });
 * const both = joinTimelines(up, down);
 * both.segments.map((segment) => segment.name); // → ["level 1", "level 1.1", "level 1.2", "level 1.2 to 1"]
 * totalTime(both); // → 3.5
 */
export function joinTimelines(...timelines: readonly Timeline[]): Timeline {
  if (timelines.length === 0) fail("wrong-length", "timelines", "one timeline or more", timelines);
  let wiring: Wiring = {};
  for (const [i, timeline] of timelines.entries()) {
    const path = `timelines[${i}]`;
    checkTimeline(timeline, path);
    wiring = within(joinPaths(path, "wiring"), () => merged(wiring, timeline.wiring));
  }
  const segments = timelines.flatMap((timeline) => timeline.segments);
  limited(segments.length, "timelines");
  return { wiring, segments };
}

/** How often, and what is put out between. */
export interface Repetition {
  /** 1 is the sequence itself. */
  readonly times: number;
  /** A state of rest between two runs, not after the last; every channel is off where none is named. */
  readonly rest?: { readonly duration: Seconds; readonly channels?: ChannelStates };
}

/**
 * A sequence several times over, with rest between where asked: inputs cool, a disk or a thermal image returns.
 *
 * @throws A {@link InputError} for a number of times that is not whole or below 1, for a rest that is no valid state, and
 * with the count for more than 100,000 states.
 * Accuracy: exact, the states are those of the sequence.
 * @source common practice
 *
 * @example
 * import { faultSequence, repeatTimeline, totalTime } from "tripwright/timeline";
 * const once = faultSequence({
 *   before: { i: { rms: 1, frequency: 50 } },
 *   fault: { i: { rms: 20, frequency: 50 } },
 *   settleFor: 2,
 *   giveUpAfter: 1.5,
 *   wiring: { i: { quantity: "current", feeds: { ia: 1 } } },
 * });
 * const fiveTimes = repeatTimeline(once, { times: 5, rest: { duration: 10 } });
 * fiveTimes.segments.length; // → 14
 * totalTime(fiveTimes); // → 57.5
 */
export function repeatTimeline(timeline: Timeline, repetition: Repetition): Timeline {
  checkTimeline(timeline);
  const { wiring, segments } = timeline;
  const { times, rest } = options(repetition, ["times", "rest"]);
  whole(times, [1, MOST_STATES], "times", "how often");
  const between = rest === undefined ? [] : [within("rest", () => resting(rest, wiring))];
  limited(times * (segments.length + between.length) - between.length, "times");
  const later = Array.from({ length: times - 1 }, () => [...between, ...segments]);
  return { wiring, segments: [...segments, ...later.flat()] };
}

function resting(rest: NonNullable<Repetition["rest"]>, wiring: Wiring): Segment {
  const { duration, channels = {} } = options(rest, ["duration", "channels"]);
  const state = { name: "rest", duration, channels };
  checkSegment(state, wiring);
  return state;
}

function limited(count: number, path: string): void {
  if (count > MOST_STATES) fail("too-many", path, `at most ${MOST_STATES} states in all`, `${count} states`);
}

function merged(wiring: Wiring, further: Wiring): Wiring {
  for (const [name, channel] of Object.entries(further)) {
    const known = Object.hasOwn(wiring, name) ? wiring[name] : undefined;
    if (known !== undefined && !isSame(known, channel)) {
      fail("conflict", name, `the wiring of the timelines before it, ${JSON.stringify(known)}`, channel);
    }
  }
  return { ...wiring, ...further };
}

function isSame(a: Channel, b: Channel): boolean {
  const inputs = Object.entries(a.feeds);
  return (
    a.quantity === b.quantity &&
    inputs.length === Object.keys(b.feeds).length &&
    inputs.every(([input, factor]) => Object.hasOwn(b.feeds, input) && b.feeds[input] === factor)
  );
}
