import { options } from "../base/check.js";
import type { ChannelStates, Segment, Timeline, Wiring } from "../base/sequence.js";
import type { Seconds } from "../base/units.js";
import { checkTimeline } from "./check.js";

/** A healthy state, a step to the fault, and what follows. */
export interface FaultSequence {
  readonly before: ChannelStates;
  readonly fault: ChannelStates;
  /** How long the healthy state lasts: the relay is at rest and its filters have settled. Above 0 s. */
  readonly settleFor: Seconds;
  /** How long the fault lasts where nothing operates. Above 0 s. */
  readonly giveUpAfter: Seconds;
  /** The contact that ends the fault; without it the fault lasts its whole time. */
  readonly endsOn?: { readonly contact: string; readonly to: "closed" | "open" };
  /** What follows the fault, and for how long. */
  readonly afterwards?: { readonly channels: ChannelStates; readonly duration: Seconds };
  readonly wiring: Wiring;
}

/**
 * Pre-fault, fault and, where asked, what follows. The clock starts at the fault, never at the pre-fault state.
 *
 * @throws A {@link InputError} for times that are not above 0 s, for channels that are not wired and for unknown keys.
 * @source common practice
 *
 * @example
 * import { faultSequence, stateAt } from "tripwright/timeline";
 * const timeline = faultSequence({
 *   before: { i: { rms: 1, frequency: 50 } },
 *   fault: { i: { rms: 20, frequency: 50 } },
 *   settleFor: 2,
 *   giveUpAfter: 1.5,
 *   endsOn: { contact: "trip", to: "closed" },
 *   wiring: { i: { quantity: "current", feeds: { ia: 1 } } },
 * });
 * timeline.segments.map((segment) => segment.name); // → ["pre-fault", "fault"]
 * stateAt(timeline, 2).channels.i?.rms; // → 20
 */
export function faultSequence(sequence: FaultSequence): Timeline {
  const { before, fault, settleFor, giveUpAfter, endsOn, afterwards, wiring } = options(sequence, [
    "before",
    "fault",
    "settleFor",
    "giveUpAfter",
    "endsOn",
    "afterwards",
    "wiring",
  ]);
  const segments: Segment[] = [
    { name: "pre-fault", duration: settleFor, channels: before },
    { name: "fault", duration: giveUpAfter, clock: "starts", ...(endsOn && { endsOn }), channels: fault },
  ];
  if (afterwards !== undefined) {
    segments.push({ name: "afterwards", ...options(afterwards, ["channels", "duration"], "afterwards") });
  }
  return checkTimeline({ wiring, segments });
}
