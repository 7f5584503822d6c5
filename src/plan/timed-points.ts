/** Where the time law of a function is measured. */

import { type Decimal, decimal, larger, smaller, toNumber } from "../base/exact.js";
import { plain } from "../base/written.js";
import type { Distance, ElementSetting } from "../element/index.js";
import { latestStart } from "./expect.js";
import { definition, isInverse, startOf } from "./started.js";

/** One injection at which an operate time is measured. */
export interface TimedPoint {
  /** Behind the name of the element: `time`, `time@3`. */
  readonly name: string;
  readonly level: number;
  /** Levels to take instead, where fewer neighbours are in the way than at the level itself. */
  readonly orElse?: readonly number[];
  /** The nearest level that is clear of the tolerance, where the level itself cannot be made or is blocked. */
  readonly nearest?: number;
}

/**
 * Where the time law is measured: an inverse curve at several multiples, since one point cannot tell two curves apart;
 * a definite time at one level clearly beyond the start.
 */
export function timedPoints(element: ElementSetting): TimedPoint[] {
  if (!isInverse(element)) return definitePoints(element);
  const pickup = decimal(element.pickup, "pickup");
  return definition(element).practice.multiples.map((multiple) => ({
    name: `time@${multiple}`,
    level: toNumber(pickup.times(multiple), "pickup"),
  }));
}

/** Clearly beyond the start and, for functions that are timed there too, just inside, unless that is within the tolerance. */
function definitePoints(element: ElementSetting): TimedPoint[] {
  const { inside, nearer } = definition(element).practice;
  const clear: TimedPoint = {
    name: "time",
    level: clearlyBeyond(element),
    nearest: toNumber(twiceTheTolerance(element), "pickup"),
    ...(nearer && { orElse: nearer.map((by) => beyondBy(by, element)) }),
  };
  if (inside === undefined) return [clear];
  const level = beyondBy(inside, element);
  const multiple = plain(level / element.pickup, 6);
  return isSurelyBeyond(level, element) ? [clear, { name: `time@${multiple}`, level }] : [clear];
}

/** Whether a relay that is right has started at a level. */
export const isSurelyBeyond = (level: number, element: ElementSetting): boolean =>
  definition(element).side === "over" ? level > latestStart(element) : level < latestStart(element);

/** As far beyond the latest start as that is beyond the start. */
const twiceTheTolerance = (element: ElementSetting): Decimal =>
  decimal(latestStart(element), "pickup").times(2).minus(startOf(element));

/** Where a definite time is measured: as far beyond the start as practice says, at least twice the tolerance of the pickup. */
export function clearlyBeyond(element: ElementSetting): number {
  const usual = beyondBy(definition(element).practice.beyond, element);
  const twice = twiceTheTolerance(element);
  if (definition(element).side === "over") return toNumber(larger(decimal(usual, "beyond"), twice), "pickup");
  // Never through zero: there, half of what the tolerance leaves.
  const furthest = twice.gt(0) ? twice : decimal(latestStart(element), "pickup").div(2);
  return toNumber(furthest.gt(0) ? smaller(decimal(usual, "beyond"), furthest) : decimal(usual, "beyond"), "pickup");
}

function beyondBy(by: Distance, element: ElementSetting): number {
  const { side } = definition(element);
  const start = startOf(element);
  const distance: Decimal = "ratio" in by ? start.times(by.ratio) : decimal(by.difference, "beyond");
  return toNumber(side === "over" ? start.plus(distance) : start.minus(distance), "pickup");
}
