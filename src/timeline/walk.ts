import { atLeast, nameIn, options, text } from "../base/check.js";
import { decimal, toNumber } from "../base/exact.js";
import type { ContactChange, Timeline } from "../base/sequence.js";
import type { Seconds } from "../base/units.js";
import { checkTimeline } from "./check-timeline.js";
import { type ContactEvent, edgesOf } from "./contacts.js";
import { checkThreshold, pathOf, type Threshold } from "./crossing.js";
import { type Operation, operationsOf, placed } from "./operations.js";
import { isBefore, putOut, runThrough } from "./run-through.js";

/** How contacts are read, and what counts as the operation. */
export interface WalkOptions {
  /** Changes of a contact that follow one another within this time are one, at the first of them. Default 0 s. */
  readonly debounce?: Seconds;
  /** The time counts from the last crossing of this level before the operation, in place of the start of a state. */
  readonly threshold?: Threshold;
  /**
   * The change that counts as the operation; what it does not name may be any: `{ contact: "trip" }` is its first change, to
   * either position. Default: the one that ended a state; where no state waits for a contact, the first contact that closes.
   */
  readonly operation?: Partial<ContactChange>;
}

/** One state as it came to pass. */
export interface WalkedState {
  readonly name: string;
  /** Its place in the timeline, from 0. */
  readonly index: number;
  readonly startedAt: Seconds;
  readonly endedAt: Seconds;
  readonly endedBy: "time" | "contact";
}

/** A sequence as it came to pass; of several operations, the first is told at the top. */
export interface Walk {
  readonly states: readonly WalkedState[];
  /** What was really put out, with the durations as they came to pass; a state that ended as it began is not in it. */
  readonly ran: Timeline;
  readonly endedAt: Seconds;
  /** From the start of the state that caused it, or from the threshold; absent where nothing operated. */
  readonly operateTime?: Seconds;
  /** The change of a contact that counts as the operation. */
  readonly operatedOn?: ContactEvent;
  /** Seconds from the start of the run to the operation; to its end where nothing operated. */
  readonly elapsed: Seconds;
  /** One for each start of the clock at most. */
  readonly operations: readonly Operation[];
  /** Changes in pre-fault: before the first start of the clock, and in the state right before each later one. */
  readonly before: readonly ContactEvent[];
  /** Changes after the end of the run. */
  readonly after: readonly ContactEvent[];
}

/**
 * What became of a sequence, given what the contacts did: which state ended when and why, and how long the relay took.
 *
 * A state that waits for a contact ends at the instant of that change, or when its duration is over; a change exactly then
 * still counts as the contact. Any other change at a boundary belongs to the state that begins there. One change ends one
 * state. A change, not a position: a contact that is closed already must open before it can close.
 *
 * **Clock.** The operate time runs from the state with `clock: "starts"` that began last, at or before the operation. In
 * a timeline without any it runs from the start of the state in which the operation fell. With a `threshold` it runs from
 * the last instant, since the clock started, at which the channel went beyond that level, by a ramp or by a step; where
 * that did not happen before the operation there is no operate time. `elapsed` counts from the start of the run, so that
 * pre-fault time never hides in a trip time.
 *
 * **Operation.** After each start of the clock one change may be the operation: the first that ended a state; where none of
 * these states waits for a contact, the first contact that closes; with `operation`, the first change that fits all it names,
 * whatever the states wait for. What happens before the first start of the clock, or in the state right before a later one, is `before`, and never an operation.
 *
 * **Contacts.** Events may come in any order, and those of one instant count in the order of the list. One at 0 or before
 * says how a contact stood at the start, and has no part in bounce; one that repeats how the contact stands is no change. Changes of a contact that follow
 * one another within `debounce` are one, taken at the first; where they leave the contact as it was, the last of them counts
 * as well, since a contact that closed and opened again did so.
 *
 * @param timeline - The sequence as it was planned.
 * @param contactEvents - What the contacts did, in seconds since the start of what was really injected.
 * @throws A {@link InputError} for a timeline that is not valid, for events that are not { contact, at, to }, for a
 * threshold on a channel that is not wired, and for unknown keys of the options.
 * Accuracy: instants and times are the doubles nearest to the exact decimals, at 60 Hz too; from a threshold on a ramp they
 * are as good as its slope, a double: 1e-15 of the time in the state.
 * @source common practice
 *
 * @example
 * import { faultSequence, walk } from "tripwright/timeline";
 * const timeline = faultSequence({
 *   before: { i: { rms: 1, frequency: 50 } },
 *   fault: { i: { rms: 20, frequency: 50 } },
 *   settleFor: 2,
 *   giveUpAfter: 1.5,
 *   endsOn: { contact: "trip", to: "closed" },
 *   wiring: { i: { quantity: "current", feeds: { ia: 1 } } },
 * });
 * const walked = walk(timeline, [
 *   { contact: "trip", at: 2.312, to: "closed" },
 *   { contact: "trip", at: 2.313, to: "open" },
 *   { contact: "trip", at: 2.315, to: "closed" },
 * ], { debounce: 0.005 });
 * walked.operateTime; // → 0.312
 * walked.elapsed; // → 2.312
 * walked.states.map(({ name, endedBy }) => `${name}: ${endedBy}`); // → ["pre-fault: time", "fault: contact"]
 * walked.ran.segments.map(({ duration }) => duration); // → [2, 0.312]
 */
export function walk(timeline: Timeline, contactEvents: readonly ContactEvent[], how: WalkOptions = {}): Walk {
  const { debounce = 0, threshold, operation } = options(how, ["debounce", "threshold", "operation"]);
  checkTimeline(timeline);
  atLeast(debounce, 0, "debounce", "a time", "s");
  if (threshold !== undefined) checkThreshold(threshold, timeline.wiring);
  if (operation !== undefined) checkOperation(operation);

  const zero = decimal(0, "");
  const edges = edgesOf(contactEvents, decimal(debounce, "debounce"));
  const runs = runThrough(timeline.segments, edges);
  const end = runs.at(-1)?.end ?? zero;
  const [during, after] = [edges.filter(({ at }) => !isBefore(end, at)), edges.filter(({ at }) => isBefore(end, at))];
  const path = threshold && pathOf(runs, threshold);
  const { operations, before } = operationsOf(placed(during, runs), { runs, operation, path });

  const endedAt = toNumber(end, "");
  const [first] = operations;
  return {
    states: runs.map((run, index) => ({
      name: run.segment.name,
      index,
      startedAt: toNumber(run.start, ""),
      endedAt: toNumber(run.end, ""),
      endedBy: run.endedBy === undefined ? "time" : "contact",
    })),
    ran: putOut(timeline, runs),
    endedAt,
    ...(first?.operateTime !== undefined && { operateTime: first.operateTime }),
    ...(first !== undefined && { operatedOn: first.operatedOn }),
    elapsed: first?.elapsed ?? endedAt,
    operations,
    before,
    after: after.map(({ event }) => event),
  };
}

function checkOperation(operation: Partial<ContactChange>): void {
  const { contact, to } = options(operation, ["contact", "to"], "operation");
  if (contact !== undefined) text(contact, "operation.contact", "the name of a contact");
  if (to !== undefined) nameIn(to, { closed: true, open: true }, "operation.to");
}
