import { above, atLeast, fail, list, options, text } from "../base/check.js";
import type { ChannelStates, Segment, Timeline, Wiring } from "../base/sequence.js";
import type { Seconds } from "../base/units.js";
import { checkDriven, checkTimeline, checkWiring } from "./check-timeline.js";
import { bandOf, type ExpectedContact, giveUpAfter, inTurn, type TimeTolerance } from "./expected-contact.js";

/** A fault on a feeder that is reclosed, and how often it comes back. */
export interface RecloseCourse {
  readonly before: ChannelStates;
  readonly fault: ChannelStates;
  /** The breaker is open: no current, voltage where the transformers stand on the side that stays alive. */
  readonly dead: ChannelStates;
  readonly wiring: Wiring;
  /** The dead time before each shot, one or more, counted from where the breaker is open. Above 0 s. */
  readonly deadTimes: readonly Seconds[];
  /** How long it must stay healthy after a shot until the shots count from the first again. Above 0 s. */
  readonly reclaimTime: Seconds;
  /** How far dead times and the reclaim time may lie off. */
  readonly tolerance: TimeTolerance;
  /**
   * How long after each reclosing the fault comes back: `[]` for one that is gone (transient), `[0, 0]` for one that stands
   * on at two shots (permanent), `[5]` for one that comes back after 5 s.
   */
  readonly returns: readonly Seconds[];
  /** How long each fault waits for the trip contact. Above 0 s. */
  readonly tripWithin: Seconds;
  /** From the trip contact until the breaker is open, and from the reclose contact until it is closed. Default 0 s. */
  readonly openingTime?: Seconds;
  readonly closingTime?: Seconds;
  /** Default `trip` and `reclose`. */
  readonly contacts?: { readonly trip?: string; readonly reclose?: string };
}

/** How long a state has to be held at the least, and why. */
export interface HeldState {
  /** Its place in the timeline, from 0. */
  readonly index: number;
  readonly atLeast: Seconds;
  readonly why: string;
}

/** The states to inject, what the reclose contact has to do, and how long states have to be held. */
export interface RecloseSequence {
  readonly timeline: Timeline;
  readonly expected: readonly ExpectedContact[];
  readonly held: readonly HeldState[];
  readonly ends: "reclosed" | "lockout";
}

const FIELDS = [
  "before",
  "fault",
  "dead",
  "wiring",
  "deadTimes",
  "reclaimTime",
  "tolerance",
  "returns",
  "tripWithin",
  "openingTime",
  "closingTime",
  "contacts",
] as const;

/**
 * A sequence of faults, dead times and reclosings to the end: healthy again, or locked out after the last shot. Every fault
 * waits for the trip contact and every dead time for the reclose contact; each starts the clock.
 *
 * A fault that comes back within the reclaim time meets the next shot, one that comes back later the first again. The
 * pre-fault lasts the reclaim time, because the relay may have reclosed right before. Dead times end with the relay: what
 * has not run back by then (the disk of an inverse function) trips early on the next fault.
 *
 * @throws A {@link InputError} for times that are not above 0 s, returns in the tolerance of the reclaim time, where either
 * shot would be right, returns after the lockout, channels that are not wired, and unknown keys.
 * Accuracy: durations as given; limits are the doubles nearest to exact decimals.
 * @source common practice; IEEE C37.104 (automatic reclosing), from memory
 *
 * @example
 * import { recloseSequence } from "tripwright/timeline";
 * const amperes = (rms: number) => ({ i: { rms, frequency: 50 } });
 * const feeder = {
 *   before: amperes(1), fault: amperes(20), dead: amperes(0), wiring: { i: { quantity: "current", feeds: { ia: 1 } } },
 *   deadTimes: [0.5, 15], reclaimTime: 20, tolerance: { percent: 1, absolute: 0.05 }, tripWithin: 2,
 * } as const;
 * const transient = recloseSequence({ ...feeder, returns: [] });
 * transient.timeline.segments.map(({ name }) => name); // → ["pre-fault", "fault 1", "dead time 1", "reclosed"]
 * transient.expected[0]?.expect; // → { form: "band", unit: "s", band: { nominal: 0.5, low: 0.45, high: 0.55 } }
 * const permanent = recloseSequence({ ...feeder, returns: [0, 0] });
 * permanent.timeline.segments.map(({ name }) => name).slice(4); // → ["dead time 2", "fault 3", "lockout"]
 * permanent.ends; // → "lockout"
 */
export function recloseSequence(course: RecloseCourse): RecloseSequence {
  const relay = checked(course);
  const { before, dead, wiring, deadBands, reclaim, returns, closingTime } = relay;
  const built: Built = { segments: [], expected: [], held: [] };
  hold(built, reclaim.high, "the reclaim time, so that the first shot is the first");
  built.segments.push({ name: "pre-fault", duration: reclaim.high, channels: before });
  let shot = 0;
  for (let i = 0; i <= returns.length; i++) {
    addFault(built, i + 1, relay);
    if (shot === deadBands.length) {
      if (i < returns.length)
        fail("out-of-range", "returns", `at most ${i} returns, since it is locked out then`, returns);
      addLockout(built, relay);
      return ended(built, wiring, "lockout");
    }
    addDeadTime(built, { number: i + 1, shot }, relay);
    if (closingTime > 0)
      built.segments.push({ name: `breaker closes ${i + 1}`, duration: closingTime, channels: dead });
    const gap = returns[i];
    if (gap !== undefined && gap > 0)
      built.segments.push({ name: `reclosed ${i + 1}`, duration: gap, channels: before });
    shot = gap !== undefined && gap > reclaim.high ? 0 : shot + 1;
  }
  hold(built, reclaim.high, "the reclaim time, so that the shots count from the first again");
  built.segments.push({ name: "reclosed", duration: reclaim.high, channels: before });
  return ended(built, wiring, "reclosed");
}

/** What has been put together so far. */
interface Built {
  readonly segments: Segment[];
  readonly expected: ExpectedContact[];
  readonly held: HeldState[];
}

function ended({ segments, expected, held }: Built, wiring: Wiring, ends: RecloseSequence["ends"]): RecloseSequence {
  return { timeline: checkTimeline({ wiring, segments }), expected, held, ends };
}

/** Says how long the state that comes next has to be held. */
const hold = ({ segments, held }: Built, atLeastSeconds: Seconds, why: string): void =>
  void held.push({ index: segments.length, atLeast: atLeastSeconds, why });

type Checked = ReturnType<typeof checked>;

function addFault({ segments }: Built, number: number, { fault, tripWithin, openingTime, trip }: Checked): void {
  segments.push({
    name: `fault ${number}`,
    duration: tripWithin,
    endsOn: { contact: trip, to: "closed" },
    clock: "starts",
    channels: fault,
  });
  if (openingTime > 0) segments.push({ name: `breaker opens ${number}`, duration: openingTime, channels: fault });
}

function addDeadTime(
  built: Built,
  { number, shot }: { readonly number: number; readonly shot: number },
  { dead, deadBands, reclose }: Checked,
): void {
  const band = deadBands[shot] as Checked["reclaim"];
  built.expected.push({
    index: built.segments.length,
    contact: reclose,
    expect: { form: "band", unit: "s", band },
  });
  const duration = giveUpAfter(band.high, `deadTimes[${shot}]`);
  hold(built, duration, "longer than the latest reclosing, so that none is seen to be none");
  built.segments.push({
    name: `dead time ${number}`,
    duration,
    endsOn: { contact: reclose, to: "closed" },
    clock: "starts",
    channels: dead,
  });
}

/** Nothing recloses after the last shot, however long the dead time of any shot is. */
function addLockout(built: Built, { dead, deadBands, reclose }: Checked): void {
  const held = giveUpAfter(Math.max(...deadBands.map(({ high }) => high)), "deadTimes");
  built.expected.push({ index: built.segments.length, contact: reclose, expect: { form: "stays-quiet", held } });
  hold(built, held, "longer than the longest dead time: nothing may reclose");
  built.segments.push({ name: "lockout", duration: held, clock: "starts", channels: dead });
}

function checked(course: RecloseCourse) {
  const { deadTimes, reclaimTime, tolerance, returns, contacts = {}, ...rest } = options(course, FIELDS);
  const { openingTime = 0, closingTime = 0 } = rest;
  const { before, fault, dead, wiring, tripWithin } = rest;
  checkWiring(wiring, "wiring");
  above(tripWithin, 0, "tripWithin", "a time", "s");
  above(reclaimTime, 0, "reclaimTime", "a time", "s");
  atLeast(openingTime, 0, "openingTime", "a time", "s");
  atLeast(closingTime, 0, "closingTime", "a time", "s");
  const times = list(deadTimes, "deadTimes", "a list of dead times, one for each shot", 1);
  // Not forEach, which would pass over holes.
  for (const [i, time] of times.entries()) above(time, 0, `deadTimes[${i}]`, "a dead time", "s");
  const reclaim = bandOf(reclaimTime, tolerance);
  const back = list(returns, "returns", "a list of times after reclosing at which the fault comes back");
  for (const [i, gap] of back.entries()) {
    atLeast(gap, 0, `returns[${i}]`, "a time after reclosing", "s");
    // Whether the reclaim time counts from the command or from the closed breaker must not decide either.
    if (inTurn(gap, closingTime, `returns[${i}]`) >= reclaim.low && gap <= reclaim.high)
      fail(
        "conflict",
        `returns[${i}]`,
        `a time well within or beyond the reclaim time (${reclaim.low} to ${reclaim.high} s), so that one shot alone is right`,
        gap,
      );
  }
  const { trip = "trip", reclose = "reclose" } = options(contacts, ["trip", "reclose"], "contacts");
  text(trip, "contacts.trip", "the name of a contact");
  text(reclose, "contacts.reclose", "the name of a contact");
  const deadBands = times.map((time) => bandOf(time, tolerance));
  const longest = Math.max(...deadBands.map(({ high }, i) => giveUpAfter(high, `deadTimes[${i}]`)), closingTime);
  checkDriven(before, { wiring, lasts: Math.max(reclaim.high, ...back) }, "before");
  checkDriven(fault, { wiring, lasts: Math.max(tripWithin, openingTime) }, "fault");
  checkDriven(dead, { wiring, lasts: longest }, "dead");
  return { ...rest, openingTime, closingTime, deadBands, reclaim, returns: back, trip, reclose };
}
