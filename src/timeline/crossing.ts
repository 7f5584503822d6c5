/** When a quantity of a channel last crossed a threshold, in exact decimals. */
import { finite, nameIn, options } from "../base/check.js";
import { type Decimal, decimal, isBelow, larger, signedDegrees, smaller } from "../base/exact.js";
import type { Wiring } from "../base/sequence.js";
import { stateOf } from "./channel-phase.js";
import type { Run } from "./run-through.js";

/** The level at which the time of a ramp starts to count. */
export interface Threshold {
  readonly channel: string;
  readonly quantity: "rms" | "frequency" | "angle";
  readonly level: number;
  /** Default: a crossing in either direction counts. */
  readonly direction?: "rising" | "falling";
}

/** Refuses a threshold that no channel can cross. */
export function checkThreshold(threshold: Threshold, wiring: Wiring): void {
  const { channel, quantity, level, direction } = options(
    threshold,
    ["channel", "quantity", "level", "direction"],
    "threshold",
  );
  nameIn(channel, wiring, "threshold.channel");
  nameIn(quantity, { rms: 1, frequency: 1, angle: 1 }, "threshold.quantity");
  finite(level, "threshold.level", "a level");
  if (direction !== undefined) nameIn(direction, { rising: 1, falling: 1 }, "threshold.direction");
}

/** A quantity on its way from one value to another, evenly or (where it takes no time) at once. */
interface Move {
  readonly from: Decimal;
  readonly to: Decimal;
  readonly start: Decimal;
  readonly end: Decimal;
  /** 1 up, −1 down. */
  readonly sense: number;
}

/** The movements of the quantity of a threshold. */
export interface Path {
  readonly threshold: Threshold;
  readonly moves: readonly Move[];
  /**
   * Values no further apart are the same. Slopes are doubles: a ramp may end a rounding beside the level that it was made
   * for, where the next state begins.
   */
  readonly hair: Decimal;
}

/**
 * How the quantity moved. While a channel is off, and before the run, its rms value is 0, and its frequency and angle are
 * not seen.
 */
export function pathOf(runs: readonly Run[], threshold: Threshold): Path {
  const { channel, quantity } = threshold;
  const moves: Move[] = [];
  let previous = quantity === "rms" ? decimal(0, "") : undefined;
  for (const { segment, start, end } of runs) {
    const state = stateOf(segment, channel);
    if (!isBelow(start, end) || (state === undefined && quantity !== "rms")) continue;
    const from = decimal(state?.[quantity] ?? 0, quantity);
    if (previous !== undefined) {
      const step = quantity === "angle" ? signedDegrees(from.minus(previous)) : from.minus(previous);
      moves.push(moveOf(previous, previous.plus(step), [start, start]));
    }
    const to = from.plus(decimal(state?.slope?.[quantity] ?? 0, quantity).times(end.minus(start)));
    moves.push(moveOf(from, to, [start, end]));
    previous = to;
  }
  const largest = moves.reduce((most, { from, to }) => larger(most, larger(from.abs(), to.abs())), decimal(0, ""));
  const hair = largest.times("1e-12");
  return { threshold, moves: moves.filter(({ from, to }) => to.minus(from).abs().gt(hair)), hair };
}

const moveOf = (from: Decimal, to: Decimal, [start, end]: readonly [Decimal, Decimal]): Move => ({
  from,
  to,
  start,
  end,
  sense: to.gt(from) ? 1 : -1,
});

/**
 * The last instant, from `since` on and before `until`, at which the quantity went beyond the threshold: by a ramp, or by
 * a step at the boundary of two states. To reach the level and turn back is no crossing; to rest on it and go on is one, at
 * the instant when it goes on.
 */
export function lastCrossing(
  path: Path,
  { since, until }: { readonly since: Decimal; readonly until: Decimal },
): Decimal | undefined {
  const { direction } = path.threshold;
  const wanted = direction && (direction === "rising" ? 1 : -1);
  // From the end of a record that may hold thousands of operations, each of which asks.
  for (let i = begunBefore(path.moves, until) - 1; i >= 0; i--) {
    const move = path.moves[i] as Move;
    if (isBelow(move.end, since)) return undefined;
    const instant = (wanted ?? move.sense) === move.sense ? crossingIn(path, i, until) : undefined;
    if (instant !== undefined && !isBelow(instant, since)) return instant;
  }
  return undefined;
}

/** How many of the moves, which stand in the order of time, begin before an instant. */
function begunBefore(moves: readonly Move[], until: Decimal): number {
  let [low, high] = [0, moves.length];
  while (low < high) {
    const middle = (low + high) >> 1;
    if (isBelow((moves[middle] as Move).start, until)) low = middle + 1;
    else high = middle;
  }
  return low;
}

function crossingIn({ threshold, moves, hair }: Path, i: number, until: Decimal): Decimal | undefined {
  const move = moves[i] as Move;
  const { from, to, start, end, sense } = move;
  const turnsBack = moves[i - 1]?.sense === -sense;
  const instantOf = (level: Decimal) =>
    larger(start, start.plus(level.minus(from).div(to.minus(from)).times(end.minus(start))));
  return levelsOf(move, threshold, until)
    .filter((level) => {
      const [passed, left] = [level.minus(from).times(sense), to.minus(level).times(sense)];
      // A movement that begins at the level crosses it, unless it goes back to where the quantity came from.
      return left.gt(hair) && (passed.gt(hair) || (passed.gte(hair.neg()) && !turnsBack));
    })
    .map(instantOf)
    .find((instant) => isBelow(instant, until));
}

/** The levels that may have been the last to be crossed; an angle meets its level again with every turn. */
function levelsOf({ from, to, start, end, sense }: Move, { quantity, level }: Threshold, until: Decimal): Decimal[] {
  const first = decimal(level, "threshold.level");
  if (quantity !== "angle") return [first];
  const share = end.eq(start) ? 1 : smaller(until, end).minus(start).div(end.minus(start));
  const reached = from.plus(to.minus(from).times(share));
  const turns = reached.minus(first).times(sense).div(360).floor();
  return [1, 0, -1].map((more) => first.plus(turns.plus(more).times(360 * sense)));
}
