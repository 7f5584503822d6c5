import { fail, finite, object, options } from "../base/check.js";
import { checkSlope, MOVED } from "../base/check-channel.js";
import { joinPaths, within } from "../base/input-error.js";
import type { ChannelState, ChannelStates, Lever, Lift, Slope } from "../base/sequence.js";
import { checkChannels } from "./check-timeline.js";

/** A lever and how far it is pushed. */
export interface LeverAt {
  readonly lever: Lever;
  readonly level: number;
}

/**
 * The channel states at one level: each named quantity of each channel of the lever is base + slope · level.
 *
 * @param base - The states at level 0.
 * @throws A {@link InputError} for a lever on a channel that the base does not have, and where the level drives an rms
 * value or a frequency below 0.
 * Accuracy: one product and one sum in doubles.
 * @source definition
 *
 * @example
 * import { atLevel } from "tripwright/timeline";
 * const base = { i: { rms: 0, frequency: 50 } };
 * atLevel(base, { lever: { i: { rms: 1 } }, level: 4 }).i?.rms; // → 4
 */
export function atLevel(base: ChannelStates, at: LeverAt): ChannelStates {
  const { lever, level } = options(at, ["lever", "level"]);
  checkChannels(base, "base");
  checkLever(lever, base);
  finite(level, "level", "a level");
  const pushed = { ...base };
  for (const [channel, slope] of Object.entries(lever)) {
    pushed[channel] = within(joinPaths("lever", channel), () => push(base[channel] as ChannelState, slope, level));
  }
  return pushed;
}

function push(state: ChannelState, { frequencyRate, ...slope }: Lift, level: number): ChannelState {
  const moved: { -readonly [K in (typeof MOVED)[number]]?: number } = {};
  for (const name of MOVED) {
    const [from, by] = [state[name] ?? 0, slope[name]];
    if (by === undefined) continue;
    const to = from + by * level + 0;
    if (!Number.isFinite(to)) fail("out-of-range", name, `a level at which ${name} fits a double`, level);
    // A level that leads to 0 may fall a rounding below it.
    moved[name] = name !== "angle" && to < 0 && to > -1e-12 * from ? 0 : to;
  }
  if ((moved.rms ?? 0) < 0) fail("out-of-range", "rms", "a level that leads to an rms value of 0 or more", level);
  if ((moved.frequency ?? 0) < 0)
    fail("out-of-range", "frequency", "a level that leads to a frequency of 0 Hz or more", level);
  return {
    ...state,
    rms: state.rms + 0,
    frequency: state.frequency + 0,
    ...moved,
    ...(frequencyRate !== undefined && { slope: pushedSlope(state, frequencyRate, level) }),
  };
}

/** A level may itself be a rate of change of frequency. */
function pushedSlope({ slope = {} }: ChannelState, by: number, level: number): Slope {
  const frequency = (slope.frequency ?? 0) + by * level + 0;
  if (!Number.isFinite(frequency))
    fail("out-of-range", "frequencyRate", "a level at which the rate fits a double", level);
  return { ...slope, frequency };
}

/** Checks a lever against the channels that it moves. */
export function checkLever(lever: Lever, base: ChannelStates): void {
  object(lever, "lever", "a lever such as { i: { rms: 1 } }");
  for (const [channel, slope] of Object.entries(lever)) {
    const path = joinPaths("lever", channel);
    if (!Object.hasOwn(base, channel))
      fail("unknown-name", path, `one of the channels ${Object.keys(base).join(", ")}`, channel);
    checkLift(slope, path);
  }
}

function checkLift(lift: Lift, path: string): void {
  const { frequencyRate, ...slope } = object(lift, path, "what a level moves, such as { rms: 1 }");
  checkSlope(slope, path, "a change per level");
  if (frequencyRate !== undefined) finite(frequencyRate, `${path}.frequencyRate`, "a rate in Hz/s per level");
}
