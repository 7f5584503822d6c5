/** How a level is moved to find where a function starts or lets go: steps, holds and rests, in exact decimals. */
import type { Band } from "../base/band.js";
import { type Decimal, decimal, larger, smaller, toNumber } from "../base/exact.js";
import type { Piece } from "../base/sequence.js";
import type { Seconds } from "../base/units.js";
import { type Distance, definiteTimeOf, type ElementSetting, type LevelUnit } from "../element/index.js";
import { band } from "../grading/index.js";
import { type ChosenStaircase, chooseRamp, staircase, stepsWithRest } from "../timeline/index.js";
import type { Sweep } from "./check.js";

/** Settle at the end where the sweep begins; rest between pulses. */
const SETTLE: Seconds = 2;
export const REST: Seconds = 2;
export const MOST_STEPS = 2_000;

/** A sweep with its ends as exact as they are: as doubles they might be a rounding more or less than whole steps apart. */
export interface PlannedSweep extends Sweep {
  readonly exact: { readonly from: Decimal; readonly to: Decimal; readonly step: Decimal };
}

/** The doubles of a sweep, for the plan. */
export function asPlanned({ exact: _, ...sweep }: PlannedSweep): Sweep {
  return sweep;
}

/** A sweep between two exact levels. */
export function sweepBetween(
  exact: PlannedSweep["exact"],
  how: Pick<Sweep, "hold" | "rest" | "preFault">,
): PlannedSweep {
  const { from, to, step } = exact;
  return { from: toNumber(from, "from"), to: toNumber(to, "to"), step: toNumber(step, "step"), ...how, exact };
}

/** How a level is moved through a band. */
export interface Movement {
  /** The narrower half of the band. */
  readonly half: Decimal;
  readonly step: Decimal;
  readonly hold: Seconds;
}

/** Why a band says nothing: no limit is left of a tolerance on one side that is as wide as the setting. */
export const whyUnheld = ({ low, high }: Band): string | undefined =>
  low === undefined && high === undefined
    ? "the declared accuracy leaves no limit above 0 that a reading could be held against"
    : undefined;

/** Steps that take no more than a fifth of the narrower half of a band, each held longer than the answer takes. */
export function movementThrough(accepted: Band, answer: AnswerTime): Movement {
  const nominal = decimal(accepted.nominal, "nominal");
  const half = [accepted.low, accepted.high]
    .filter((limit) => limit !== undefined)
    .map((limit) => decimal(limit, "limit").minus(nominal).abs())
    .reduce(smaller);
  // There is one: a few steps, and no resolution that could be too coarse.
  const chosen = chooseRamp({ from: nominal, to: nominal.plus(half), tolerance: half, ...answer }) as ChosenStaircase;
  return { half, step: decimal(chosen.step, "step"), hold: chosen.dwell };
}

/** How many steps a sweep goes to either side: as far as practice says, at least twice the tolerance, never through zero but for angles. */
export function stepsAround(
  around: Distance,
  { at, unit }: { readonly at: Decimal; readonly unit: LevelUnit },
  { half, step }: Movement,
): Decimal {
  const usual = "ratio" in around ? at.times(around.ratio) : decimal(around.difference, "around");
  const wanted = larger(usual, half.times(2)).div(step).ceil();
  return unit === "°" ? wanted : smaller(wanted, at.div(step).floor());
}

/** From the crossing to the contact, and how much longer than that a level is held. */
export interface AnswerTime {
  readonly operateDelay: Seconds;
  /** Default: as long as `operateDelay`. */
  readonly margin?: Seconds;
}

/** When the start shows: after the measuring delay, and the time delay where only the trip contact is watched. */
export function startShows({ startContact, law, measuringDelay, accuracy }: ElementSetting): AnswerTime {
  const delay = definiteTimeOf(law);
  if (startContact !== undefined || delay === undefined) return { operateDelay: measuringDelay };
  const { nominal, high = nominal } = band(delay, accuracy.time);
  return { operateDelay: high + measuringDelay, margin: Math.max(measuringDelay, 0.01) };
}

/** Up to whole 10 ms, at least 50 ms. */
export const toTenMilliseconds = (time: Seconds): Seconds => Math.max(5, Math.ceil(time * 100 - 1e-9)) / 100;

/** The levels over time: settle where the sweep begins, then step by step; or pulses with rest before each. */
export function piecesOf({ hold, rest, exact }: PlannedSweep, settle: Seconds = SETTLE): Piece[] {
  const { from, to, step } = exact;
  if (rest !== undefined) return stepsWithRest({ rest: rest.level, restTime: rest.time, from, to, step, hold });
  const first = toNumber(from, "from");
  return [{ duration: settle, from: first, to: first }, ...staircase({ from, to, step, dwell: hold })];
}
