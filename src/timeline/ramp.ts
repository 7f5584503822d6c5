import { above, fail, finite, object, options } from "../base/check.js";
import { readEach } from "../base/read-each.js";
import {
  type ChannelState,
  type ChannelStates,
  eachChannel,
  type Lever,
  type Lift,
  type Piece,
  type Segment,
  type Timeline,
  type Wiring,
} from "../base/sequence.js";
import { atLevel, checkLever } from "./at-level.js";
import { checkChannels, checkTimeline, checkWiring } from "./check-timeline.js";

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
  const isMoved = pieces.some(({ from, to }) => from !== to);
  for (const [channel, { frequencyRate }] of Object.entries(lever)) {
    if (frequencyRate !== undefined && isMoved)
      fail(
        "not-applicable",
        `lever.${channel}.frequencyRate`,
        "pieces that stand still, since a rate of change is held, not moved",
        frequencyRate,
      );
  }
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
  return { name, duration, channels: eachChannel(channels, (state, channel) => sloped(state, lever[channel], rate)) };
}

function sloped(state: ChannelState, lift: Lift | undefined, rate: number): ChannelState {
  if (lift === undefined) return state;
  const { frequencyRate: _, ...slope } = lift;
  return { ...state, slope: Object.fromEntries(Object.entries(slope).map(([name, by]) => [name, by * rate + 0])) };
}
