/** Functions to search at, with the memory that real ones have, and searches over grids that are counted in whole units. */
import fc from "fast-check";
import { type PickupAnswer, type PickupSearch, seekPickup, type Trial } from "tripwright/timeline";
import { textOf } from "../support/arbitraries.js";

const PLACES = 4;

/** The double of so many units of 10^−4, read from the text that a person types. */
export const typed = (units: number): number => Number(textOf(BigInt(units), PLACES));

/** A function that operates at its pickup and holds until it is past its dropout; rest resets it. */
export interface Threshold {
  readonly side: "over" | "under";
  readonly pickup: number;
  readonly dropout: number;
}

/** The function itself: it keeps from trial to trial what a relay would. */
export function functionAt({ side, pickup, dropout }: Threshold): (trial: Trial) => boolean {
  const reaches = (level: number, limit: number) => (side === "over" ? level >= limit : level <= limit);
  let operated = false;
  return ({ level, from }) => {
    if (from === "rest") operated = false;
    operated = reaches(level, pickup) || (operated && reaches(level, dropout));
    return operated;
  };
}

/** What a search asked, what it was told, and what it came to. */
export interface Driven {
  readonly trials: readonly Trial[];
  readonly answers: readonly boolean[];
  readonly result: PickupAnswer;
}

export function drive(search: PickupSearch, respond: (trial: Trial) => boolean): Driven {
  const trials: Trial[] = [];
  const answers: boolean[] = [];
  const running = seekPickup(search);
  let turn = running.next();
  while (!turn.done) {
    trials.push(turn.value);
    answers.push(respond(turn.value));
    turn = running.next(answers.at(-1) as boolean);
  }
  return { trials, answers, result: turn.value };
}

/** "1 r, 1.25 p": the levels of the trials, from rest and from the previous one. */
export const said = (trials: readonly Trial[]): string =>
  trials.map(({ level, from }) => `${level} ${from[0]}`).join(", ");

export const methods = ["linear", "halving", "coarse-then-fine"] as const;

/** Whole units from 10 to 20, in coarse steps of 4 where there are any, unless told otherwise. */
export const tenToTwenty = (method: (typeof methods)[number], rest: Partial<PickupSearch> = {}): PickupSearch =>
  ({
    method,
    from: 10,
    to: 20,
    step: 1,
    hold: 1,
    ...(method === "coarse-then-fine" && { coarseStep: 4 }),
    ...rest,
  }) as PickupSearch;

/** A search, and the levels that it must look at in units of 10^−4: from the quiet end, and beyond it on the way back. */
export interface Case {
  readonly search: PickupSearch;
  readonly side: "over" | "under";
  /** From `from` to `to`. */
  readonly out: readonly number[];
  /** Behind `from`, away from `to`. */
  readonly beyond: readonly number[];
}

/** Searches by every method, up and down, on even and uneven ranges, with and without a way back. */
export const cases: fc.Arbitrary<Case> = fc
  .record({
    method: fc.constantFrom(...methods),
    start: fc.integer({ min: -100_000, max: 100_000 }),
    stride: fc.integer({ min: 1, max: 5000 }),
    whole: fc.integer({ min: 1, max: 60 }),
    rest: fc.integer({ min: 0, max: 4999 }),
    sign: fc.constantFrom(1, -1),
    coarse: fc.integer({ min: 2, max: 70 }),
    hold: fc.constantFrom(0.04, 0.2, 1),
    back: fc.integer({ min: 0, max: 20 }),
    dropout: fc.constantFrom(undefined, false, true, "to"),
    confirm: fc.constantFrom(undefined, 0, 1, 2),
  })
  .map(({ method, start, stride, whole, rest, sign, coarse, hold, back, dropout, confirm }) => {
    const short = rest % stride;
    const out = Array.from({ length: whole + 1 }, (_, i) => start + sign * i * stride);
    if (short > 0) out.push(start + sign * (whole * stride + short));
    const beyond = Array.from({ length: back }, (_, i) => start - sign * (i + 1) * stride);
    if (short > 0) beyond.push(start - sign * (back * stride + short));
    const search = {
      from: typed(start),
      to: typed(out.at(-1) as number),
      step: typed(stride),
      hold,
      ...(dropout !== undefined && {
        dropout: dropout === "to" ? { to: typed(beyond.at(-1) ?? start) } : dropout,
      }),
      ...(confirm !== undefined && { confirm }),
      ...(method === "coarse-then-fine"
        ? { method, coarseStep: typed(coarse * stride) }
        : { method: method as "linear" | "halving" }),
    } as PickupSearch;
    return { search, side: sign > 0 ? "over" : "under", out, beyond: dropout === "to" ? beyond : [] };
  });

/**
 * A search with a function whose pickup lies on its range: at a level of the grid, or between two. The function lets go
 * anywhere from just behind its pickup to beyond the end of the way back.
 */
export const casesWithin = fc
  .record({ given: cases, share: fc.double({ min: 0, max: 1, noNaN: true }), between: fc.boolean(), lets: fc.nat() })
  .map(({ given, share, between, lets }) => {
    const { out, beyond, side } = given;
    const sign = side === "over" ? 1 : -1;
    const place = 1 + Math.floor(share * (out.length - 1.000001));
    const [quiet, operated] = out.slice(place - 1, place + 1) as [number, number];
    // One unit behind the quiet level lies between the two, unless they are one unit apart: then it is the level itself.
    const pickup = between ? quiet + sign : operated;
    const furthest = [...out, ...beyond].reduce((a, b) => (sign * (b - a) < 0 ? b : a));
    const dropout = pickup - sign * (lets % (sign * (pickup - furthest) + 3));
    return { ...given, threshold: { side, pickup: typed(pickup), dropout: typed(dropout) }, pickup, dropout };
  });

/** Where the levels on either side of the turn lie, found by looking at every level of the way in turn. */
export function firstTurn(
  way: readonly number[],
  turned: (level: number) => boolean,
): { readonly before: number; readonly at: number } | undefined {
  const place = way.findIndex(turned);
  return place < 1 ? undefined : { before: way[place - 1] as number, at: way[place] as number };
}
