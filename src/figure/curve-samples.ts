/** What a time characteristic looks like: its times, and the edges of its band, at many multiples. */
import type { Band } from "../base/band.js";
import { fail } from "../base/check.js";
import { InputError } from "../base/input-error.js";
import type { Seconds } from "../base/units.js";
import { type CurveSetting, errorFactors, operateTime, type TimeRule, timeBand } from "../curve/index.js";
import { band, type LopsidedTolerance, type Tolerance } from "../grading/index.js";
import { calledHere } from "./called-here.js";

/** What is accepted about a curve: what a relay declares of its times, or a tolerance on each time. */
export type AcceptedTimes = TimeRule | Tolerance | LopsidedTolerance;

/** A place on a curve. */
export interface CurvePoint {
  readonly multiple: number;
  readonly time: Seconds;
}

/** What is accepted at a multiple; a limit that is absent is none. */
export interface BandPoint {
  readonly multiple: number;
  readonly low?: Seconds;
  readonly high?: Seconds;
}

const COUNT = 160;

/** Evenly spaced multiples, on the axis on which they are drawn; the ends are exact. */
export function evenMultiples([from, to]: readonly [number, number], scale: "log" | "linear"): number[] {
  return Array.from({ length: COUNT + 1 }, (_, i) => {
    if (i === 0 || i === COUNT) return i === 0 ? from : to;
    const along = i / COUNT;
    return scale === "log" ? from * (to / from) ** along : from + along * (to - from);
  });
}

/** Multiples at which a curve or its band has a corner, each with its neighbours on both sides. */
export function cornersOf({ curve, ceilingMultiple }: CurveSetting, accepted: AcceptedTimes | undefined): number[] {
  const table = typeof curve === "object" && curve.form === "table" ? curve.points.map(({ multiple }) => multiple) : [];
  const steps =
    accepted !== undefined && "form" in accepted && accepted.form === "assigned-error"
      ? (accepted.factors ?? errorFactors).map(({ multiple }) => multiple)
      : [];
  const besides = steps.flatMap((multiple) => [multiple * (1 - 1e-9), multiple, multiple * (1 + 1e-9)]);
  return [...table, ...(ceilingMultiple === undefined ? [] : [ceilingMultiple]), ...besides];
}

/** The operate times at those multiples at which there is one. */
export function timesAt(setting: CurveSetting, multiples: readonly number[]): CurvePoint[] {
  return multiples.flatMap((multiple) => {
    const time = unlessMultiple(() => operateTime(setting, multiple));
    if (time === 0) fail("not-applicable", "", "times above 0 s, since the axis of times is logarithmic", time);
    return time === undefined || !Number.isFinite(time) ? [] : [{ multiple, time }];
  });
}

/** The edges of the band at those multiples at which an accuracy is declared. */
export function bandsAt(setting: CurveSetting, multiples: readonly number[], accepted: AcceptedTimes): BandPoint[] {
  return multiples.flatMap((multiple) => {
    const at = unlessMultiple(() => acceptedAt(setting, multiple, accepted));
    if (at === undefined) return [];
    const { low, high } = at;
    return [{ multiple, ...(low !== undefined && { low }), ...(high !== undefined && { high }) }];
  });
}

function acceptedAt(setting: CurveSetting, multiple: number, accepted: AcceptedTimes): Band | undefined {
  if ("form" in accepted) return calledHere({ rule: "" }, () => timeBand(setting, multiple, accepted));
  const time = operateTime(setting, multiple);
  return Number.isFinite(time) ? band(time, accepted) : undefined;
}

/** Outside a table, below a start, where nothing is declared: at such a multiple there is nothing to draw. */
function unlessMultiple<T>(work: () => T): T | undefined {
  try {
    return work();
  } catch (error) {
    if (error instanceof InputError && error.problems.every(({ path }) => path === "multiple")) return undefined;
    throw error;
  }
}
