import { fail, options } from "../base/check.js";
import { MOVED } from "../base/check-channel.js";
import { toNumber } from "../base/exact.js";
import type { Segment, Timeline } from "../base/sequence.js";
import type { Seconds } from "../base/units.js";
import { beyondLimits, type Found, type SourceLimit } from "./beyond-limits.js";
import { stateOf } from "./channel-phase.js";
import { checkTimeline } from "./check-timeline.js";
import { drivenStates } from "./driven-states.js";
import { openPaths, rulesOf } from "./rules.js";
import { type ChannelLimits, type ReadLimits, readLimits, type SourceLimits } from "./source-limits.js";

/** Where a channel is asked for more than its source can make. */
export interface SourceExceedance {
  readonly limit: SourceLimit;
  readonly channel: string;
  /** The name of the state in which it begins, and its place in the timeline, from 0. */
  readonly segment: string;
  readonly index: number;
  /** When it begins, in seconds since the start of the timeline. */
  readonly at: Seconds;
  /** How long it lasts, through as many states as it takes. */
  readonly lasts: Seconds;
  /** The worst value; of a resolution the value that is asked for, of a duty the seconds above the level. */
  readonly amount: number;
  /** The limit; of a resolution the nearest value that the source can make. */
  readonly allowed: number;
  /** Of both. */
  readonly unit: "A" | "V" | "VA" | "Hz" | "°" | "s";
  /** Of a duty: the level, in A or V. */
  readonly above?: number;
}

/** Whether a source can make a timeline. */
export interface SourceCheck {
  /** In order of time; none where the source can make the timeline, as far as was checked. */
  readonly exceedances: readonly SourceExceedance[];
  /**
   * What was not checked because nobody said how much there may be, by the path where it would stand: `current.power` for
   * all current channels, `channels.i2.power` for one of them, `current.burden` where power or compliance wait for it.
   */
  readonly notChecked: readonly string[];
}

/**
 * Whether a test source can put out a timeline, every state at its full duration: where it is asked for more than its
 * limits, how long and how much.
 *
 * The rms value at an instant is that of all parts, √(rms² + Σ rms_h² + (offset + initial · exp(−since/tau))²), and a peak
 * is √2 · (rms + Σ rms_h) + |offset + initial · exp(−since/tau)|, which bounds what harmonics can add up to. A current puts
 * rms² · burden into its burden, a voltage rms²/burden; compliance is rms · burden. Along a ramp the instant is found at
 * which a limit is passed; what is just at a limit does not exceed it. A duty counts the time above its level, through
 * states and ramps. What stands still must stand on the grid of the resolution. The frequency of a channel that puts out
 * nothing does not matter; a frequency of 0 makes a direct value of √2 · rms · cos(phase).
 *
 * A source is not all: mind what the relay's inputs stand (see {@link checkInput}), and never open a CT secondary.
 *
 * @param limits - In A, V, VA, Ω, Hz, degrees and s, by quantity; `channels` by name in place of those, limit by limit.
 * Channels that the timeline does not have may be among them.
 * @throws A {@link InputError} for a timeline or limits that are not valid, with the path of what is wrong, and for
 * amounts beyond the range of a double.
 * Accuracy: verdicts, amounts and instants of constant states, and of ramps without a decaying part, are exact decimals
 * rounded once; ramps may end 1e-12 of a limit above it. Instants along a decay are 2 units in the last place of the time
 * in their state.
 * @source common practice; the rms value of an asymmetrical current at an instant: IEEE C37.010
 *
 * @example
 * import { checkSource, faultSequence } from "tripwright/timeline";
 * const timeline = faultSequence({
 *   before: { i: { rms: 1, frequency: 50 } },
 *   fault: { i: { rms: 40, frequency: 50 } },
 *   settleFor: 2,
 *   giveUpAfter: 1.5,
 *   wiring: { i: { quantity: "current", feeds: { ia: 1 } } },
 * });
 * const { exceedances, notChecked } = checkSource(timeline, {
 *   current: { rms: 32, burden: 0.1, power: 200, duty: [{ above: 20, atMost: 1 }] },
 * });
 * const told = exceedances.map(({ limit, segment, at, amount }) => [limit, segment, at, amount]);
 * told; // → [["rms", "fault", 2, 40], ["duty", "fault", 3, 1.5]]
 * notChecked.slice(0, 3); // → ["current.peak", "current.compliance", "current.frequency"]
 */
export function checkSource(timeline: Timeline, limits: SourceLimits): SourceCheck {
  checkTimeline(timeline);
  const { wiring, segments } = timeline;
  const limitsOf = readSource(options(limits, ["current", "voltage", "channels"]), timeline);
  const channels = Object.entries(wiring)
    .map(([name, { quantity }]) => ({ name, quantity }))
    .filter(({ name }) => segments.some((segment) => stateOf(segment, name) !== undefined));
  const all = channels.flatMap((channel) => {
    const states = drivenStates(timeline, new Map([[channel.name, 1]]));
    const beyond = beyondLimits(states, limitsOf(channel), channel.quantity);
    return beyond.map((found) => ({ found, channel: channel.name }));
  });
  all.sort((a, b) => a.found.from.cmp(b.found.from));
  return {
    exceedances: all.map(({ found, channel }) => exceedanceOf(found, channel, segments)),
    notChecked: openPaths(channels, "channels", (channel) => openLimits(limitsOf(channel), channel.quantity)),
  };
}

function readSource({ current, voltage, channels: single }: SourceLimits, { wiring }: Timeline) {
  const limitsOf = rulesOf({ current, voltage, place: "channels", single }, readLimits);
  if (voltage !== undefined) noCompliance(voltage, "voltage");
  for (const [name, limits] of Object.entries(single ?? {})) {
    if (Object.hasOwn(wiring, name) && wiring[name]?.quantity === "voltage") noCompliance(limits, `channels.${name}`);
  }
  return limitsOf;
}

function noCompliance({ compliance }: ChannelLimits, path: string): void {
  if (compliance === undefined) return;
  fail("not-applicable", `${path}.compliance`, "none, since only a current needs a voltage to drive it", compliance);
}

/** The limits that are not given, and the burden where it is missing. */
function openLimits(limits: ReadLimits, quantity: "current" | "voltage"): readonly string[] {
  const onBurden = quantity === "current" ? (["power", "compliance"] as const) : (["power"] as const);
  const waits = limits.burden === undefined && onBurden.some((name) => limits[name] !== undefined);
  return [
    ...(["rms", "peak", ...onBurden, "duty", "frequency"] as const).filter((name) => limits[name] === undefined),
    ...(waits ? ["burden"] : []),
    ...MOVED.filter((name) => limits.resolution?.[name] === undefined).map((name) => `resolution.${name}`),
  ];
}

function exceedanceOf(found: Found, channel: string, segments: readonly Segment[]): SourceExceedance {
  const { limit, index, unit, from, lasts, amount, allowed, above } = found;
  const number = (x: typeof from) => toNumber(x, "");
  return {
    limit,
    channel,
    segment: (segments[index] as Segment).name,
    index,
    at: number(from),
    lasts: number(lasts),
    amount: number(amount),
    allowed: number(allowed),
    unit,
    ...(above !== undefined && { above: number(above) }),
  };
}
