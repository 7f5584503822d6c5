/** Which state of a sequence is which: where the clock starts, and the levels of a sweep. */
import type { Segment, Timeline } from "./sequence.js";
import type { Seconds } from "./units.js";

type States = Pick<Timeline, "segments">;

/** The state from whose beginning an operate time is counted. */
export const clockState = ({ segments }: States): Segment | undefined =>
  segments.find(({ clock }) => clock === "starts");

/** The state in which an element is asked: the fault, or the end of a sweep. */
export const askedState = (timeline: States): Segment | undefined => clockState(timeline) ?? timeline.segments.at(-1);

/** What a sweep has beside its levels. */
export interface BesideLevels {
  /** How long the healthy system stands before all else, in a state of its own. */
  readonly preFault?: Seconds;
  /** Present where each level begins from rest. */
  readonly rest?: object;
}

/**
 * Where the levels of a sweep stand among its states, counted from 0: behind the healthy system, where it begins with that,
 * and behind a state in which everything settles at the first level, one after the other; or each behind a state of rest.
 */
export const levelPlaces = ({ preFault, rest }: BesideLevels): { readonly first: number; readonly every: number } => ({
  first: preFault === undefined ? 1 : 2,
  every: rest === undefined ? 1 : 2,
});

/** The states of a sweep. */
export interface SweepStates {
  /** The first level, until everything has settled; none between rests. */
  readonly settling: Segment | undefined;
  readonly levels: readonly Segment[];
}

/** Those of a sequence that sweeps. */
export function sweepStates({ segments }: States, beside: BesideLevels): SweepStates {
  const { first, every } = levelPlaces(beside);
  return {
    settling: every === 1 ? segments[first - 1] : undefined,
    levels: segments.filter((_, i) => i >= first && (i - first) % every === 0),
  };
}
