import { above, fail, nameIn, object, options, whole } from "../base/check.js";
import { countSteps, decimal, type Exact } from "../base/exact.js";
import type { Seconds } from "../base/units.js";
import { levels } from "./levels.js";
import { METHODS, type Way } from "./search-way.js";

/** What a search for a pickup needs to know; plain data, so that it can be saved beside the answers. */
export type PickupSearch = {
  /** The quiet end: here the function does not operate. */
  readonly from: Exact;
  /** The end at which it operates: above `from` for an over function, below it for an under function. */
  readonly to: Exact;
  /** The resolution of the search, above 0; it looks at no level but those of {@link levels}. */
  readonly step: Exact;
  /** For how long each level is held: longer than the function takes to respond. Above 0 s. */
  readonly hold: Seconds;
  /**
   * Whether to look for the dropout level too, and how far back: to `from`, or to a level beyond it. Default: false.
   */
  readonly dropout?: boolean | { readonly to: Exact };
  /**
   * How often each end of the bracket is tried again, from rest. Default: 1. 0 where a step from rest to just below pickup
   * makes the function overreach.
   */
  readonly confirm?: number;
} & (
  | { readonly method: "linear" | "halving"; readonly coarseStep?: never }
  | {
      readonly method: "coarse-then-fine";
      /** A whole multiple of the step, twice or more. */
      readonly coarseStep: Exact;
    }
);

/** A search that has been read. */
export interface ReadSearch {
  readonly method: keyof typeof METHODS;
  /** From the quiet end to the operated one. */
  readonly out: Way;
  /** The levels of the way back that lie beyond the quiet end; absent where no dropout is looked for. */
  readonly beyond?: readonly number[];
  readonly confirm: number;
}

const OPTIONS = ["method", "from", "to", "step", "coarseStep", "hold", "dropout", "confirm"];

/** Reads the options of a search; every problem is raised before the first trial. */
export function readSearch(search: PickupSearch): ReadSearch {
  options(search, OPTIONS);
  const { from, to, step, hold, dropout = false, confirm = 1 } = search;
  const method = nameIn(search.method, METHODS, "method");
  const grid = levels({ from, to, step });
  if (grid.length < 2) fail("out-of-range", "to", "a level other than from", to);
  return {
    method,
    out: {
      levels: grid,
      hold: above(hold, 0, "hold", "a time", "s"),
      stride: strideOf(search, grid.length - 1),
      begins: "quiet",
    },
    ...(dropout !== false && { beyond: beyondRest(search, dropout) }),
    confirm: whole(confirm, [0, 100], "confirm", "a number of repetitions"),
  };
}

/** Fine steps in a coarse one, so that every coarse level is a fine one too; never more than there are. */
function strideOf({ method, coarseStep, step }: PickupSearch, steps: number): number {
  if (method !== "coarse-then-fine") {
    if (coarseStep !== undefined) fail("not-applicable", "coarseStep", `nothing, the search is ${method}`, coarseStep);
    return 1;
  }
  const what = "a whole multiple of the step, twice or more";
  const size = decimal(coarseStep, "coarseStep", what);
  const { whole: times, even } = countSteps(size.abs(), decimal(step, "step"));
  if (!even || size.isNegative() || times.lt(2)) fail("out-of-range", "coarseStep", what, coarseStep);
  return Math.min(times.toNumber(), steps);
}

/** The grid goes on behind `from` where the function may have to be brought back further than that to let go. */
function beyondRest({ from, to, step }: PickupSearch, dropout: true | { readonly to: Exact }): number[] {
  if (dropout === true) return [];
  object(dropout, "dropout", "true, false or an object with to");
  options(dropout, ["to"], "dropout");
  const rest = decimal(from, "from");
  const end = decimal(dropout.to, "dropout.to", "a level");
  const isOver = decimal(to, "to").gt(rest);
  if (isOver ? end.gt(rest) : end.lt(rest)) {
    fail("out-of-range", "dropout.to", "the level from, or one beyond it as seen from to", dropout.to);
  }
  return levels({ from, to: dropout.to, step }).slice(1);
}
