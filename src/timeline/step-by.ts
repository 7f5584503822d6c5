import { fail, options, whole } from "../base/check.js";
import { countSteps, type Decimal, decimal, type Exact, isBelow, toNumber } from "../base/exact.js";
import { positive } from "../base/positive.js";

/** How a person steps a value by hand, as with a knob. */
export interface StepBy {
  /** Above 0. */
  readonly step: Exact;
  /** How many steps, negative downwards. Default 1. */
  readonly count?: number;
  readonly minimum?: Exact;
  readonly maximum?: Exact;
  /** 360 for an angle that goes round: the value stays in [0, 360), and the turns are counted. */
  readonly wrap?: 360;
}

/** Where a value came to. */
export interface Stepped {
  readonly value: number;
  /** Whole turns made on the way, negative downwards; 0 without `wrap`. */
  readonly turns: number;
  /** Which limit stopped it, where one did. */
  readonly limited?: "minimum" | "maximum";
}

/**
 * A value stepped by hand: value + count · step in exact decimals, so that as many steps back lead to where it was, as long
 * as a double holds the digits on the way. A limit stops it and is said; an angle goes round, and its turns are counted.
 *
 * @param value - As it stands; text is read exactly.
 * @throws A {@link InputError} for a step that is not above 0, a count that is not whole, a value beyond its limits, limits
 * out of order, and limits beside `wrap`.
 * Accuracy: the double nearest to the exact decimal.
 * @source common practice
 *
 * @example
 * import { stepBy } from "tripwright/timeline";
 * stepBy(0.1, { step: 0.1, count: 2 }); // → { value: 0.3, turns: 0 }
 * stepBy(4.95, { step: 0.1, maximum: 5 }); // → { value: 5, turns: 0, limited: "maximum" }
 * stepBy(350, { step: 15, count: 2, wrap: 360 }); // → { value: 20, turns: 1 }
 */
export function stepBy(value: Exact, given: StepBy): Stepped {
  const { step, count = 1, minimum, maximum, wrap } = options(given, ["step", "count", "minimum", "maximum", "wrap"]);
  const size = positive(step, "step", "a step");
  whole(count, [-1e9, 1e9], "count", "a number of steps");
  const from = decimal(value, "value");
  const to = from.plus(size.times(count));
  if (wrap === undefined) return limitedTo(from, to, { minimum, maximum });
  if (wrap !== 360) fail("out-of-range", "wrap", "360, or none where it is no angle", wrap);
  if (minimum !== undefined || maximum !== undefined)
    fail("conflict", "wrap", "limits or an angle that goes round, not both", wrap);
  const [before, after] = [onCircle(from), onCircle(to)];
  return { value: after.angle, turns: toNumber(after.turns.minus(before.turns), "value") };
}

/** An angle in [0, 360) and the turns that were taken off; seven sevenths of a turn, rounded as they are, count as one. */
function onCircle(angle: Decimal): { readonly angle: number; readonly turns: Decimal } {
  const { whole: turns, even } = countSteps(angle.abs(), decimal(360, "wrap"));
  const signed = angle.isNegative() ? turns.neg() : turns;
  if (even) return { angle: 0, turns: signed };
  const down = angle.isNegative() ? signed.minus(1) : signed;
  const rest = toNumber(angle.minus(down.times(360)), "value");
  // A hair below a whole turn is that turn, where no double lies between.
  return rest < 360 ? { angle: rest, turns: down } : { angle: 0, turns: down.plus(1) };
}

interface Limits {
  readonly minimum: Exact | undefined;
  readonly maximum: Exact | undefined;
}

function limitedTo(from: Decimal, to: Decimal, { minimum, maximum }: Limits): Stepped {
  const low = minimum === undefined ? undefined : decimal(minimum, "minimum");
  const high = maximum === undefined ? undefined : decimal(maximum, "maximum");
  if (low && high && isBelow(high, low)) fail("out-of-range", "maximum", "a maximum of at least the minimum", maximum);
  if ((low && isBelow(from, low)) || (high && isBelow(high, from)))
    fail("out-of-range", "value", "a value within its limits", toNumber(from, "value"));
  if (low && isBelow(to, low)) return { value: toNumber(low, "minimum"), turns: 0, limited: "minimum" };
  if (high && isBelow(high, to)) return { value: toNumber(high, "maximum"), turns: 0, limited: "maximum" };
  return { value: toNumber(to, "value"), turns: 0 };
}
