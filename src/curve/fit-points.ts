import { above, atLeast, fail, object } from "../base/check.js";
import { within } from "../base/input-error.js";
import type { Seconds } from "../base/units.js";

/** One timed injection. */
export interface TimedInjection {
  /** Of the setting, 0 or more; where the pickup is known. */
  readonly multiple?: number;
  /** What was injected, 0 or more, in any unit that all points share; where the pickup is free. */
  readonly level?: number;
  /** The measured operate time, above 0 s. */
  readonly time: Seconds;
  /** The standard uncertainty of the time, above 0 s. All points have one, or none. */
  readonly uncertainty?: Seconds;
}

/** Timed injections, checked. */
export interface FitPoints {
  /** Multiples of the setting; where the pickup is free, levels in any unit. */
  readonly levels: readonly number[];
  readonly times: readonly Seconds[];
  /** 1/uncertainty where these are known, else 1/time, so that the errors are relative. */
  readonly weights: readonly number[];
  /** Whether the uncertainties are known. */
  readonly known: boolean;
  readonly freePickup: boolean;
}

/** Checks the points. */
export function readPoints(points: readonly TimedInjection[], freePickup: boolean): FitPoints {
  if (!Array.isArray(points)) fail("wrong-type", "points", "an array of timed injections", points);
  const given: readonly TimedInjection[] = points;
  const known = given.some((point) => point?.uncertainty !== undefined);
  const [quantity, what] = freePickup
    ? (["level", "a level"] as const)
    : (["multiple", "a multiple of the setting"] as const);
  const each = <T>(read: (point: TimedInjection) => T): readonly T[] =>
    given.map((point, i) => within(`points[${i}]`, () => read(object(point, "", "a timed injection"))));
  const levels = each((point) => atLeast(point[quantity] as number, 0, quantity, what));
  const times = each(({ time }) => above(time, 0, "time", "an operate time", "s"));
  const weights = each(
    ({ time, uncertainty }) =>
      1 / (known ? above(uncertainty as number, 0, "uncertainty", "a standard uncertainty", "s") : time),
  );
  return { levels, times, weights, known, freePickup };
}
