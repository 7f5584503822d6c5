/** The ways of a search: along a row of levels, where does the function turn? */
import type { Seconds } from "../base/units.js";

/** What a search asks for next: put out this level, hold it, and say whether the function stands operated at the end. */
export interface Trial {
  readonly level: number;
  /**
   * `rest`: let the function reset first, then go to the level in one step. `previous`: straight from the level of the
   * trial before, without a gap, so that the function keeps what it remembers.
   */
  readonly from: "rest" | "previous";
  readonly hold: Seconds;
}

/** Levels in the order in which they are passed; the search is for the first at which the function has turned. */
export interface Way {
  readonly levels: readonly number[];
  readonly hold: Seconds;
  /** How many levels a coarse step passes. */
  readonly stride: number;
  /**
   * How the function stands at the first level, which was seen before the search begins. Where it is `operated`, a trial
   * that starts from rest must make it operate anew, at that level.
   */
  readonly begins: "quiet" | "operated";
}

/** A search under way: it yields trials, is sent what the function did, and returns what it found. */
export type Searching<T> = Generator<Trial, T, boolean>;

/** The place of the level at which the function has turned, or why there is none. */
type Turn = number | "never" | "not-repeatable";

interface Method {
  readonly seek: (way: Way) => Searching<Turn>;
  /** The largest number of trials for so many levels behind the first. */
  readonly most: (steps: number, way: Omit<Way, "levels">) => number;
}

/** The methods by name. */
export const METHODS = {
  linear: {
    *seek(way) {
      return (yield* stepped(way, { after: 0, upTo: way.levels.length - 1, by: 1 })) ?? "never";
    },
    most: (steps) => steps,
  },

  // Every trial starts from rest: a function that keeps hold below its pickup would otherwise draw the bracket down.
  halving: {
    *seek(way) {
      let [before, turned] = [0, way.levels.length - 1];
      const atEnd = yield* afresh(way, turned);
      if (atEnd !== "turned") return atEnd === "not-repeatable" ? atEnd : "never";
      while (turned - before > 1) {
        const middle = (before + turned) >> 1;
        const found = yield* afresh(way, middle);
        if (found === "not-repeatable") return found;
        if (found === "turned") turned = middle;
        else before = middle;
      }
      return turned;
    },
    most: (steps, { begins }) => (1 + halvings(steps)) * (begins === "quiet" ? 1 : 2),
  },

  "coarse-then-fine": {
    *seek(way) {
      const coarse = yield* stepped(way, { after: 0, upTo: way.levels.length - 1, by: way.stride });
      if (coarse === undefined) return "never";
      // The last coarse step may be a short one.
      const before = Math.floor((coarse - 1) / way.stride) * way.stride;
      if ((yield* afresh(way, before)) !== "not-turned") return "not-repeatable";
      return (yield* stepped(way, { after: before, upTo: coarse, by: 1 })) ?? "not-repeatable";
    },
    // The last whole coarse step is the worst to find the turn in: a short one behind it is at least one fine step shorter.
    most: (steps, { stride, begins }) => Math.floor(steps / stride) + (begins === "quiet" ? 1 : 2) + stride,
  },
} satisfies Record<string, Method>;

/** Steps along the way, each from the level before, until the function turns. */
function* stepped(way: Way, { after, upTo, by }: Stretch): Searching<number | undefined> {
  for (let place = after; place < upTo; ) {
    place = Math.min(place + by, upTo);
    if ((yield* tried(way, { place, from: "previous" })) === "turned") return place;
  }
  return undefined;
}

interface Stretch {
  readonly after: number;
  readonly upTo: number;
  readonly by: number;
}

/** A trial that starts from rest; one on the way back lets the function operate first, which it must do again. */
function* afresh(way: Way, place: number): Searching<"turned" | "not-turned" | "not-repeatable"> {
  if (way.begins === "quiet") return yield* tried(way, { place, from: "rest" });
  if ((yield* tried(way, { place: 0, from: "rest" })) === "turned") return "not-repeatable";
  return place === 0 ? "not-turned" : yield* tried(way, { place, from: "previous" });
}

/** One trial, and whether the function has turned in it. */
function* tried(
  { levels, hold, begins }: Way,
  { place, from }: { readonly place: number; readonly from: Trial["from"] },
): Searching<"turned" | "not-turned"> {
  const operated = yield { level: levels[place] as number, from, hold };
  return operated === (begins === "quiet") ? "turned" : "not-turned";
}

/** ⌈log₂ n⌉ without a rounded logarithm, for n from 1: how often a bracket of n steps is halved until one is left. */
const halvings = (n: number): number => 32 - Math.clz32(n - 1);
