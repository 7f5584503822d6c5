import { above, atLeast, nameIn, options, text } from "../base/check.js";
import type { ChannelStates, Segment, Timeline, Wiring } from "../base/sequence.js";
import type { Seconds } from "../base/units.js";
import { checkDriven, checkTimeline, checkWiring } from "./check-timeline.js";
import { bandOf, type ExpectedContact, giveUpAfter, inTurn, type TimeTolerance } from "./expected-contact.js";

/** A fault whose breaker opens, or does not. */
export interface BreakerFailureCourse {
  readonly breaker: "opens" | "fails";
  readonly before: ChannelStates;
  readonly fault: ChannelStates;
  /** What stands when the fault is cleared. */
  readonly cleared: ChannelStates;
  readonly wiring: Wiring;
  /** How long the healthy state lasts. Above 0 s. */
  readonly settleFor: Seconds;
  /** How long the fault waits for the trip contact. Above 0 s. */
  readonly tripWithin: Seconds;
  /** From the trip contact until a sound breaker has interrupted the current. Above 0 s. */
  readonly breakerTime: Seconds;
  /** The delay that is set, counted from the trip contact. Above 0 s. */
  readonly delay: Seconds;
  /** How far the breaker failure contact may lie off that. */
  readonly tolerance: TimeTolerance;
  /** From the breaker failure contact to the trip coils of the breakers around: a lockout relay, a channel; 0 s or more. Default 0 s. */
  readonly lockout?: Seconds;
  /** From there until the slowest of them has interrupted, 0 s or more. Default: as the breaker itself. */
  readonly backupBreakerTime?: Seconds;
  /** Default `trip` and `breaker failure`. */
  readonly contacts?: { readonly trip?: string; readonly failure?: string };
}

/** The states to inject, and what the breaker failure contact has to do. */
export interface BreakerFailureSequence {
  readonly timeline: Timeline;
  readonly expected: ExpectedContact;
}

const FIELDS = [
  "breaker",
  "before",
  "fault",
  "cleared",
  "wiring",
  "settleFor",
  "tripWithin",
  "breakerTime",
  "delay",
  "tolerance",
  "lockout",
  "backupBreakerTime",
  "contacts",
] as const;

/**
 * A fault that is tripped by a protection, and what comes of its breaker. Where it opens, the current stops and the
 * breaker failure contact stays open; where it fails, the current goes on until that contact, and then until the
 * breakers around have opened.
 *
 * The trip contact ends the fault and starts the clock anew: the breaker failure time counts from there, not from the
 * fault.
 *
 * @throws A {@link InputError} for times outside their domain, channels that are not wired, a tolerance that is none, and
 * unknown keys.
 * Accuracy: durations as given; limits are the doubles nearest to exact decimals.
 * @source common practice; IEEE C37.119 (breaker failure protection), from memory
 *
 * @example
 * import { breakerFailureSequence, walk } from "tripwright/timeline";
 * const off = { i: { rms: 0, frequency: 50 } };
 * const { timeline, expected } = breakerFailureSequence({
 *   breaker: "fails", before: { i: { rms: 1, frequency: 50 } }, fault: { i: { rms: 20, frequency: 50 } }, cleared: off,
 *   wiring: { i: { quantity: "current", feeds: { ia: 1 } } },
 *   settleFor: 2, tripWithin: 1, breakerTime: 0.06, delay: 0.15, tolerance: { absolute: 0.02 },
 * });
 * timeline.segments.map(({ name }) => name); // → ["pre-fault", "fault", "breaker fails", "breakers around open", "cleared"]
 * expected.expect; // → { form: "band", unit: "s", band: { nominal: 0.15, low: 0.13, high: 0.17 } }
 * const { operations } = walk(timeline, [
 *   { at: 2.04, contact: "trip", to: "closed" },
 *   { at: 2.195, contact: "breaker failure", to: "closed" },
 * ]);
 * operations.map(({ operateTime }) => operateTime?.toFixed(3)); // → ["0.040", "0.155"]
 */
export function breakerFailureSequence(course: BreakerFailureCourse): BreakerFailureSequence {
  const { breaker, before, fault, cleared, wiring, ...given } = options(course, FIELDS);
  nameIn(breaker, { opens: true, fails: true }, "breaker");
  const { settleFor, tripWithin, breakerTime, delay, lockout = 0, backupBreakerTime = breakerTime } = given;
  checkWiring(wiring, "wiring");
  above(settleFor, 0, "settleFor", "a time", "s");
  above(tripWithin, 0, "tripWithin", "a time", "s");
  above(breakerTime, 0, "breakerTime", "a time", "s");
  above(delay, 0, "delay", "a time", "s");
  atLeast(lockout, 0, "lockout", "a time", "s");
  atLeast(backupBreakerTime, 0, "backupBreakerTime", "a time", "s");
  const around = inTurn(lockout, backupBreakerTime, "backupBreakerTime");
  const { trip = "trip", failure = "breaker failure" } = options(given.contacts ?? {}, ["trip", "failure"], "contacts");
  text(trip, "contacts.trip", "the name of a contact");
  text(failure, "contacts.failure", "the name of a contact");
  const band = bandOf(delay, given.tolerance);
  const wait = giveUpAfter(band.high, "delay");
  checkDriven(before, { wiring, lasts: settleFor }, "before");
  const clearing = breaker === "opens" ? breakerTime : Math.max(wait, around);
  checkDriven(fault, { wiring, lasts: Math.max(tripWithin, clearing) }, "fault");
  checkDriven(cleared, { wiring, lasts: wait }, "cleared");
  const tripped: Segment[] = [
    { name: "pre-fault", duration: settleFor, channels: before },
    {
      name: "fault",
      duration: tripWithin,
      endsOn: { contact: trip, to: "closed" },
      clock: "starts",
      channels: fault,
    },
  ];
  const follows: Segment[] =
    breaker === "opens"
      ? [
          { name: "breaker opens", duration: breakerTime, clock: "starts", channels: fault },
          { name: "cleared", duration: wait, channels: cleared },
        ]
      : [
          {
            name: "breaker fails",
            duration: wait,
            endsOn: { contact: failure, to: "closed" },
            clock: "starts",
            channels: fault,
          },
          ...(around > 0 ? [{ name: "breakers around open", duration: around, channels: fault }] : []),
          { name: "cleared", duration: wait, channels: cleared },
        ];
  const timeline = checkTimeline({ wiring, segments: [...tripped, ...follows] });
  return {
    timeline,
    expected: {
      index: tripped.length,
      contact: failure,
      expect:
        breaker === "fails"
          ? { form: "band", unit: "s", band }
          : { form: "stays-quiet", held: inTurn(breakerTime, wait, "delay") },
    },
  };
}
