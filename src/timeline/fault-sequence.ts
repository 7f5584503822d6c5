import { above, options } from "../base/check.js";
import { within } from "../base/input-error.js";
import type { ChannelStates, ContactChange, Segment, Timeline, Wiring } from "../base/sequence.js";
import type { Seconds } from "../base/units.js";
import { checkChange, checkDriven, checkTimeline, checkWiring } from "./check-timeline.js";
import { type Inception, untilInception } from "./inception.js";

/** A healthy state, a step to the fault, and what follows. */
export interface FaultSequence {
  readonly before: ChannelStates;
  readonly fault: ChannelStates;
  /** How long the healthy state lasts: the relay is at rest and its filters have settled. Above 0 s. */
  readonly settleFor: Seconds;
  /** How long the fault lasts where nothing operates. Above 0 s. */
  readonly giveUpAfter: Seconds;
  /** Where on the wave the fault begins; without it, when `settleFor` is over. */
  readonly inception?: Inception;
  /** The contact that ends the fault; without it the fault lasts its whole time. */
  readonly endsOn?: ContactChange;
  /** What follows the fault, and for how long. */
  readonly afterwards?: { readonly channels: ChannelStates; readonly duration: Seconds };
  readonly wiring: Wiring;
}

/**
 * Pre-fault, fault and, where asked, what follows. The clock starts at the fault, never at the pre-fault state.
 *
 * With an `inception` the healthy state goes on beyond `settleFor`, for less than one cycle of the channel that is named,
 * until the phase of that channel is the angle that is given (from the crest: −90 is the zero crossing upward, which is
 * 0 in the `inception` of `offsetSinusoid`). The phase is the one that the channel has in the healthy state: a fault
 * strikes the wave that is there, and an angle that the fault brings with it is a jump from that point. Angles of a fault
 * are counted like all the others, from the start of the timeline; a current with a decaying part, which is to begin with
 * the angle that it was computed for, is turned back by what the healthy wave has turned meanwhile: see the second example.
 *
 * @throws A {@link InputError} for times that are not above 0 s, for channels that are not wired and for unknown keys; with
 * an inception, for a channel that is off, without frequency or not wired, and for a healthy state that moves.
 * Accuracy: the healthy state lasts the double nearest to the exact time, so that the phase at the fault is the inception within
 * 8e-14° for each cycle of it: 8e-12° after 2 s at 50 Hz, 1e-9° after 12,500 cycles.
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
 *
 * @example
 * import { offsetSinusoid, valueAt } from "tripwright/sinusoid";
 * import { faultSequence, stateAt } from "tripwright/timeline";
 * // The fault strikes as the voltage crosses zero upward: 0 there, −90 from the crest.
 * const current = offsetSinusoid({ rms: 20, frequency: 50, inception: 0, xOverR: 14 });
 * const [healthy, struck] = [30, -90];
 * const timeline = faultSequence({
 *   before: { v: { rms: 63.5, frequency: 50, angle: healthy } },
 *   fault: {
 *     v: { rms: 20, frequency: 50, angle: healthy },
 *     i: { ...current, angle: (current.angle ?? 0) + healthy - struck },
 *   },
 *   settleFor: 1,
 *   giveUpAfter: 1.5,
 *   inception: { channel: "v", angle: struck },
 *   wiring: {
 *     v: { quantity: "voltage", feeds: { va: 1 } },
 *     i: { quantity: "current", feeds: { ia: 1 } },
 *   },
 * });
 * const start = timeline.segments[0]?.duration ?? 0;
 * start.toFixed(6); // → "1.013333"
 * const { v, i } = stateAt(timeline, start).channels;
 * v?.phase.toFixed(6); // → "-90.000000"
 * i?.phase.toFixed(6); // → "-175.914383"
 */
export function faultSequence(sequence: FaultSequence): Timeline {
  const { before, fault, settleFor, giveUpAfter, inception, endsOn, afterwards, wiring } = options(sequence, [
    "before",
    "fault",
    "settleFor",
    "giveUpAfter",
    "inception",
    "endsOn",
    "afterwards",
    "wiring",
  ]);
  checkWiring(wiring, "wiring");
  above(settleFor, 0, "settleFor", "a time", "s");
  above(giveUpAfter, 0, "giveUpAfter", "a time", "s");
  checkDriven(before, { wiring, lasts: settleFor }, "before");
  checkDriven(fault, { wiring, lasts: giveUpAfter }, "fault");
  if (endsOn !== undefined) within("endsOn", () => checkChange(endsOn));
  const healthy: Segment = { name: "pre-fault", duration: settleFor, channels: before };
  const segments: Segment[] = [
    { name: "fault", duration: giveUpAfter, clock: "starts", ...(endsOn !== undefined && { endsOn }), channels: fault },
  ];
  if (afterwards !== undefined) {
    const { channels, duration } = options(afterwards, ["channels", "duration"], "afterwards");
    above(duration, 0, "afterwards.duration", "a time", "s");
    checkDriven(channels, { wiring, lasts: duration }, "afterwards.channels");
    segments.push({ name: "afterwards", channels, duration });
  }
  const timeline = checkTimeline({ wiring, segments: [healthy, ...segments] });
  if (inception === undefined) return timeline;
  return { wiring, segments: [{ ...healthy, duration: untilInception(healthy, inception) }, ...segments] };
}
