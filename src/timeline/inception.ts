import { fail, finite, options } from "../base/check.js";
import { ceiling, decimal, toNumber } from "../base/exact.js";
import { within } from "../base/input-error.js";
import type { Segment } from "../base/sequence.js";
import type { Degrees, Seconds } from "../base/units.js";
import { stateOf } from "./channel-phase.js";

/**
 * Where on the wave of a channel something begins, by the phase of that channel. The `inception` of `offsetSinusoid` is
 * another angle: that of the source voltage, from its zero crossing upward.
 */
export interface Inception {
  readonly channel: string;
  /** From the crest: 0 is the crest, −90 the zero crossing upward, 90 the one downward. */
  readonly angle: Degrees;
}

/**
 * How long a state that stands still lasts until its channel has the phase: the shortest (n + turn)/frequency that is not
 * below its duration, where turn is (inception − angle)/360 without whole turns, in exact decimals.
 */
export function untilInception(state: Segment, inception: Inception): Seconds {
  const { channel, angle } = options(inception, ["channel", "angle"], "inception");
  const target = decimal(finite(angle, "inception.angle", "an angle in degrees"), "inception.angle");
  const { frequency, angle: given = 0 } = running(state, channel);
  const circle = decimal(360, "");
  const turn = target.minus(decimal(given, "angle")).mod(circle).plus(circle).mod(circle).div(circle);
  const hertz = decimal(frequency, "frequency");
  // One turn more keeps the count above 0, so that a state that is just long enough is seen to be, whatever it is.
  const ahead = hertz.times(decimal(state.duration, "duration")).plus(1).minus(turn);
  const cycles = ceiling(ahead).minus(1).plus(turn);
  return within("inception", () => toNumber(cycles.div(hertz), ""));
}

/** The state of a channel that is on, has a frequency, and stands still like all the others. */
function running(before: Segment, channel: string): { readonly frequency: number; readonly angle?: number } {
  const state = stateOf(before, channel);
  if (state === undefined || !(state.rms > 0 && state.frequency > 0)) {
    return fail(
      "not-applicable",
      "inception.channel",
      "a channel that is on and has a frequency before the fault",
      channel,
    );
  }
  for (const [name, { slope }] of Object.entries(before.channels)) {
    if (slope !== undefined)
      fail("not-applicable", `before.${name}.slope`, "no slope, since the state is prolonged to the inception", slope);
  }
  return state;
}
