import { above, fail, finite, object, options } from "../base/check.js";
import { joinPaths, within } from "../base/input-error.js";
import { readEach } from "../base/read-each.js";
import type {
  ChannelState,
  ChannelStates,
  Lever,
  Lift,
  Piece,
  Segment,
  Slope,
  Timeline,
  Wiring,
} from "../base/sequence.js";
import { checkChannels, checkSlope, checkTimeline, checkWiring, MOVED } from "./check-timeline.js";

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

/** What a ramp moves, along which pieces of level. */
export interface Ramp {
  /** The channel states at level 0. */
  readonly base: ChannelStates;
  readonly lever: Lever;
  /** Levels over time: from `staircase`, `linearRamp` or `stepsWithRest`, or written by hand. */
  readonly pieces: readonly Piece[];
  readonly wiring: Wiring;
}

/**
 * A test sequence in which one level moves through its pieces, and the lever carries it to the channels.
 *
 * @returns One state for each piece, named by its level; the clock of none of them is started.
 * @throws A {@link InputError} for pieces without duration, and as {@link atLevel} does.
 * Accuracy: that of the pieces.
 * @source common practice
 *
 * @example
 * import { ramp, staircase, totalTime } from "tripwright/timeline";
 * const timeline = ramp({
 *   base: { i: { rms: 0, frequency: 50 } },
 *   lever: { i: { rms: 1 } },
 *   pieces: staircase({ from: 3.6, to: 4.4, step: 0.04, dwell: 0.5 }),
 *   wiring: { i: { quantity: "current", feeds: { ia: 1 } } },
 * });
 * timeline.segments.length; // → 21
 * totalTime(timeline); // → 10.5
 */
export function ramp(moved: Ramp): Timeline {
  const { base, lever, pieces, wiring } = options(moved, ["base", "lever", "pieces", "wiring"]);
  checkWiring(wiring, "wiring");
  checkChannels(base, "base");
  for (const [channel, { slope }] of Object.entries(base)) {
    if (slope !== undefined)
      fail("not-applicable", `base.${channel}.slope`, "no slope, since the pieces move the level", slope);
  }
  checkLever(lever, base);
  const segments = readEach(
    pieces,
    "pieces",
    "a list of one piece or more",
    (piece) => segmentOf(piece, base, lever),
    1,
  );
  return checkTimeline({ wiring, segments });
}

function segmentOf(piece: Piece, base: ChannelStates, lever: Lever): Segment {
  const { duration, from, to } = object(piece, "", "a piece { duration, from, to }");
  above(duration, 0, "duration", "a time", "s");
  finite(from, "from", "a level");
  finite(to, "to", "a level");
  const name = from === to ? `level ${from}` : `level ${from} to ${to}`;
  const channels = atLevel(base, { lever, level: from });
  if (from === to) return { name, duration, channels };
  const rate = (to - from) / duration;
  return { name, duration, channels: mapChannels(channels, (state, channel) => sloped(state, lever[channel], rate)) };
}

function sloped(state: ChannelState, lift: Lift | undefined, rate: number): ChannelState {
  if (lift === undefined) return state;
  const { frequencyRate, ...slope } = lift;
  if (frequencyRate !== undefined)
    fail("not-applicable", "frequencyRate", "levels that stand still, since a rate of change is held, not moved", rate);
  return { ...state, slope: Object.fromEntries(Object.entries(slope).map(([name, by]) => [name, by * rate + 0])) };
}

function mapChannels(
  channels: ChannelStates,
  f: (state: ChannelState, channel: string) => ChannelState,
): ChannelStates {
  return Object.fromEntries(Object.entries(channels).map(([channel, state]) => [channel, f(state, channel)]));
}

function checkLever(lever: Lever, base: ChannelStates): void {
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
