/** When a contact has to move in a sequence, or that it must not. */
import type { Band } from "../base/band.js";
import { fail, options } from "../base/check.js";
import { decimal, type Exact, larger, toNumber } from "../base/exact.js";
import { within } from "../base/input-error.js";
import { notNegative } from "../base/positive.js";
import type { Seconds } from "../base/units.js";

/** How far a time may lie off; of both the greater one counts. */
export interface TimeTolerance {
  readonly percent?: Exact;
  readonly absolute?: Exact;
}

/** What a contact must do, counted from the beginning of a state. */
export interface ExpectedContact {
  /** The place of the state in the timeline, from 0. */
  readonly index: number;
  readonly contact: string;
  /** It closes within the band, or stays open for so long. */
  readonly expect:
    | { readonly form: "band"; readonly unit: "s"; readonly band: Band }
    | { readonly form: "stays-quiet"; readonly held: Seconds };
}

/** A time with its limits. */
export function bandOf(time: Exact, tolerance: TimeTolerance): Required<Omit<Band, "period">> {
  return within("tolerance", () => {
    const { percent, absolute } = options(tolerance, ["percent", "absolute"]);
    if (percent === undefined && absolute === undefined)
      fail("missing", "", "a percent or an absolute tolerance", tolerance);
    const nominal = decimal(time, "");
    const share = notNegative(percent ?? 0, "percent", "a tolerance", "%").div(100);
    const half = larger(nominal.times(share), notNegative(absolute ?? 0, "absolute", "a tolerance", "s"));
    return {
      nominal: toNumber(nominal, ""),
      low: toNumber(larger(nominal.minus(half), decimal(0, "")), ""),
      high: toNumber(nominal.plus(half), ""),
    };
  });
}

/** How long to wait for what comes at the latest then: longer, so that "never" is seen. */
export const giveUpAfter = (latest: Seconds, path: string): Seconds =>
  toNumber(decimal(latest, path).times("1.25").plus("0.1").times(100).ceil().div(100), path);

/** One time after another. */
export const inTurn = (first: Seconds, then: Seconds, path: string): Seconds =>
  toNumber(decimal(first, path).plus(decimal(then, path)), path);
