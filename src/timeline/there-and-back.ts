import { fail, options } from "../base/check.js";
import { countSteps, type Decimal, decimal, type Exact } from "../base/exact.js";
import type { Piece } from "../base/sequence.js";
import { apart, checkCount, type Grid, gridOf } from "./levels.js";
import { type LinearRamp, linearRamp, type Staircase, staircase } from "./pieces.js";

/** A range that is passed to its far end and back again: in steps, or evenly where it has no step. */
export type ThereAndBack = (Staircase | (LinearRamp & { readonly step?: never; readonly dwell?: never })) & {
  /** Where the way back ends: on the same side of `to` as `from`, before or beyond it. Default: `from`. */
  readonly backTo?: Exact;
};

/**
 * To the far end of a range and back: for the pickup on the way there and the dropout on the way back, upwards first for
 * over functions, downwards first for under functions. The far end is held once; the way back passes the same levels, and
 * goes on in the same steps where it ends beyond `from`. Without a step it is two ramps.
 *
 * @returns Pieces as {@link staircase} or {@link linearRamp} makes them, there and back.
 * @throws A {@link InputError} as {@link staircase} and {@link linearRamp} do, and for a `backTo` that does not lie on the
 * same side of `to` as `from`.
 * Accuracy: each level is the double nearest to the exact decimal.
 * @source common practice: back from pickup in the same steps until the contact releases
 *
 * @example
 * import { thereAndBack } from "tripwright/timeline";
 * thereAndBack({ from: 1, to: 1.2, step: 0.1, dwell: 0.5 }).map((piece) => piece.to); // → [1, 1.1, 1.2, 1.1, 1]
 * const further = thereAndBack({ from: 1, to: 1.15, step: 0.1, dwell: 0.5, backTo: 0.85 });
 * further.map((piece) => piece.to); // → [1, 1.1, 1.15, 1.1, 1, 0.9, 0.85]
 * thereAndBack({ from: 50, to: 48, rate: 0.5 }); // → [{ duration: 4, from: 50, to: 48 }, { duration: 4, from: 48, to: 50 }]
 */
export function thereAndBack(range: ThereAndBack): Piece[] {
  const { backTo, ...there } = options(range, ["from", "to", "step", "dwell", "rate", "backTo"]);
  const end = endOf(there, backTo);
  if (there.step === undefined && there.dwell === undefined) {
    const { from, to, rate } = there;
    if (rate === undefined) fail("missing", "rate", "a rate, or a step with its dwell or a rate", rate);
    return [...linearRamp({ from, to, rate }), ...linearRamp({ from: to, to: end, rate })];
  }
  const pieces = staircase(there as Staircase);
  const { duration } = pieces[0] as Piece;
  const back = wayBack(gridOf(there as Staircase), decimal(end, "backTo"));
  return [...pieces, ...apart(back, there.step as Exact).map((level) => ({ duration, from: level, to: level }))];
}

/** Where the way back ends; as text was given, as text it is handed on. */
function endOf({ from, to }: Omit<ThereAndBack, "backTo">, backTo: Exact | undefined): Exact {
  if (backTo === undefined) return from;
  const [far, near] = [decimal(to, "to"), decimal(from, "from")];
  const isBack = decimal(backTo, "backTo").minus(far);
  if (isBack.isZero() || isBack.times(near.minus(far)).lt(0))
    fail("out-of-range", "backTo", "a level on the same side of `to` as `from`", backTo);
  return backTo;
}

/** The levels behind the far end, the grid of the way there carried on to the end of the way back. */
function wayBack({ from, to, step: there, whole, even }: Grid, end: Decimal): Decimal[] {
  if (to.eq(end)) return [];
  // Between equal ends the way there has no direction of its own: it is against that of the way back.
  const step = to.eq(from) && end.gt(to) ? there.neg() : there;
  const { whole: steps, even: isOnGrid } = countSteps(end.minus(from).abs(), step.abs());
  const isBeyondFrom = end.minus(from).times(step).lt(0);
  const first = even ? whole.minus(1) : whole;
  // The last level of the grid before the end, counted from `from`; at most the first.
  const last = isBeyondFrom ? steps.neg().plus(isOnGrid ? 1 : 0) : steps.plus(1);
  const count = first.minus(last).plus(1);
  checkCount(count.plus(1));
  return [...Array.from({ length: count.toNumber() }, (_, i) => from.plus(step.times(first.minus(i)))), end];
}
