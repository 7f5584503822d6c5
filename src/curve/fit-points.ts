import { above, atLeast, object } from "../base/check.js";
import { readEach } from "../base/read-each.js";
import type { Seconds } from "../base/units.js";

/** One timed injection: a multiple of the setting or, where the pickup is free, a level in any unit that all share. */
export type TimedInjection = {
  /** The measured operate time, above 0 s. */
  readonly time: Seconds;
  /** Of the time, above 0 s. All points have one, or none. */
  readonly standardUncertainty?: Seconds;
} & ({ readonly multiple: number; readonly level?: never } | { readonly level: number; readonly multiple?: never });

/** Timed injections, checked. */
export interface FitPoints {
  readonly points: readonly {
    /** The multiple, where the pickup is 1. */
    readonly level: number;
    readonly time: Seconds;
    /** 1/standardUncertainty where it is known, else 1/time, so that the errors are relative. */
    readonly weight: number;
  }[];
  /** Whether the uncertainties are known. */
  readonly known: boolean;
}

const WHAT = "a list of timed injections";

/** Checks the points. */
export function readPoints(list: readonly TimedInjection[], key: "multiple" | "level"): FitPoints {
  const given = readEach(list, "points", WHAT, (point) => object(point, "", "a timed injection"));
  const known = given.some(({ standardUncertainty }) => standardUncertainty !== undefined);
  const points = readEach(given, "points", WHAT, ({ [key]: level, time, standardUncertainty }) => ({
    level: atLeast(level, 0, key, `a ${key}`),
    time: above(time, 0, "time", "a time", "s"),
    weight: 1 / (known ? above(standardUncertainty, 0, "standardUncertainty", "a time", "s") : time),
  }));
  return { points, known };
}
