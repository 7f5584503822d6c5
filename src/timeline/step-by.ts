import { fail, options, whole } from "../base/check.js";
import { type Decimal, decimal, type Exact, larger, smaller, toNumber } from "../base/exact.js";

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
 * A value stepped by hand: value + count · step in exact decimals, so that as many steps back lead to where it was. A limit
 * stops it and is said; an angle goes round, and its turns are counted.
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
  const size = decimal(step, "step");
  if (!size.gt(0)) fail("out-of-range", "step", "a step above 0", step);
  whole(count, [-1e9, 1e9], "count", "a number of steps");
  const from = decimal(value, "value");
  const to = from.plus(size.times(count));
  if (wrap === undefined) return limitedTo(from, to, { minimum, maximum });
  if (wrap !== 360) fail("out-of-range", "wrap", "360, or none where it is no angle", wrap);
  if (minimum !== undefined || maximum !== undefined)
    fail("conflict", "wrap", "limits or an angle that goes round, not both", wrap);
  const turns = to.div(360).floor();
  return {
    value: toNumber(to.minus(turns.times(360)), "value"),
    turns: toNumber(turns.minus(from.div(360).floor()), "turns"),
  };
}

interface Limits {
  readonly minimum: Exact | undefined;
  readonly maximum: Exact | undefined;
}

function limitedTo(from: Decimal, to: Decimal, { minimum, maximum }: Limits): Stepped {
  const low = minimum === undefined ? undefined : decimal(minimum, "minimum");
  const high = maximum === undefined ? undefined : decimal(maximum, "maximum");
  if (low !== undefined && high?.lt(low)) fail("out-of-range", "maximum", "a maximum of at least the minimum", maximum);
  if (low?.gt(from) || high?.lt(from))
    fail("out-of-range", "value", "a value within its limits", toNumber(from, "value"));
  const below = high === undefined ? to : smaller(to, high);
  const stopped = low === undefined ? below : larger(below, low);
  const at = { value: toNumber(stopped, "value"), turns: 0 };
  if (stopped.eq(to)) return at;
  return { ...at, limited: stopped.lt(to) ? "maximum" : "minimum" };
}
