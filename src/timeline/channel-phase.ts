/** How far a channel has turned, state by state, in exact decimals so that no digit is lost with time. */
import { signedAngle } from "../base/degrees.js";
import { type Decimal, decimal, toNumber } from "../base/exact.js";
import type { ChannelState, Segment } from "../base/sequence.js";
import type { Degrees } from "../base/units.js";

/** ∫ frequency dt since the start of the timeline, and the frequency at that instant. */
export interface Running {
  readonly cycles: Decimal;
  readonly frequency: Decimal;
}

/** The state of a channel; absent where it is off. */
export const stateOf = ({ channels }: Segment, name: string): ChannelState | undefined =>
  Object.hasOwn(channels, name) ? channels[name] : undefined;

/** Before its first state a channel is off, and runs at the frequency of that state. */
export function atStart(segments: readonly Segment[], name: string): Running {
  const first = segments.find((segment) => stateOf(segment, name) !== undefined);
  const frequency = first === undefined ? 0 : (stateOf(first, name)?.frequency ?? 0);
  return { cycles: decimal(0, ""), frequency: decimal(frequency, "frequency") };
}

/** Further by so many seconds of a state; a channel that is off runs on at the frequency it had last. */
export function runOn({ cycles, frequency }: Running, state: ChannelState | undefined, time: Decimal): Running {
  const start = state === undefined ? frequency : decimal(state.frequency, "frequency");
  const end = start.plus(decimal(state?.slope?.frequency ?? 0, "frequency").times(time));
  // A frequency that stands still or moves evenly counts with its mean.
  return { cycles: cycles.plus(start.plus(end).div(2).times(time)), frequency: end };
}

/** Cycles, of which whole ones are dropped, and degrees to one angle in (−180, 180]. */
export const turn = (cycles: Decimal, angle: Degrees): Degrees =>
  signedAngle(signedAngle(toNumber(cycles.mod(1), "t") * 360) + signedAngle(angle));
