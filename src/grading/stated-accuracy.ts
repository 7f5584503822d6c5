import { atLeast, fail, finite, nameIn, options } from "../base/check.js";
import { type Decimal, decimal, type Exact, larger, toNumber } from "../base/exact.js";

/** How the maker of an instrument states its accuracy: any of the parts, added up or whichever is greater. */
export interface StatedAccuracy {
  readonly percentOfReading?: Exact;
  readonly percentOfRange?: Exact;
  /** Counts of the last digit; needs the resolution. */
  readonly digits?: Exact;
  /** In the unit of the reading. */
  readonly absolute?: Exact;
  /** Default `"sum"`. */
  readonly combine?: "sum" | "greater";
  /** For each degree (or other unit) outside the band in which the rest holds; added to the rest. */
  readonly outside?: { readonly percentOfReading?: Exact; readonly percentOfRange?: Exact; readonly by: Exact };
  /** What the limits mean: a rectangle (default), or the coverage factor with which they were expanded. */
  readonly coverageFactor?: number;
}

/** A reading, with what the statement refers to. */
export interface ReadingOnRange {
  readonly reading: Exact;
  readonly range?: Exact;
  /** The value of the last digit. */
  readonly resolution?: Exact;
}

/** What a statement comes to at a reading, in its unit. */
export interface AccuracyAt {
  /** Half the width of the limits. */
  readonly limit: number;
  /** limit/√3, or limit over the coverage factor. */
  readonly standard: number;
}

const KEYS = ["percentOfReading", "percentOfRange", "digits", "absolute", "combine", "outside", "coverageFactor"];

/**
 * The limits and the standard uncertainty of a reading, from the accuracy that the maker of the instrument states:
 *
 *     limit = % of |reading| + % of range + digits · resolution + absolute          (or the greatest of them)
 *
 * @throws A {@link InputError} for a statement without any part, negative parts, and parts that need a range or a resolution
 * that is not given.
 * Accuracy: the limit is the double nearest to the exact decimal.
 * @source JCGM 100:2008 4.3.7 (limits as a rectangle), 4.3.3 (a stated coverage factor); statement forms: common practice
 *
 * @example
 * import { statedAccuracy } from "tripwright/grading";
 * const meter = { percentOfReading: 0.06, percentOfRange: 0.03 };
 * statedAccuracy(meter, { reading: 63.512, range: 100 }).limit; // → 0.0681072
 * statedAccuracy({ percentOfReading: 5, absolute: 0.02, combine: "greater" }, { reading: 0.3 }).limit; // → 0.02
 */
export function statedAccuracy(statement: StatedAccuracy, at: ReadingOnRange): AccuracyAt {
  const { combine = "sum", outside, coverageFactor, ...parts } = options(statement, KEYS);
  const { reading, range, resolution } = options(at, ["reading", "range", "resolution"]);
  const size = decimal(reading, "reading").abs();
  const share = (percent: Exact | undefined, path: string, of: () => Decimal): Decimal[] =>
    percent === undefined ? [] : [part(percent, path).div(100).times(of())];
  const full = (path: string) => needed(range, "range", `the range that ${path} refers to`).abs();
  const widths = [
    ...share(parts.percentOfReading, "percentOfReading", () => size),
    ...share(parts.percentOfRange, "percentOfRange", () => full("percentOfRange")),
    ...(parts.digits === undefined
      ? []
      : [part(parts.digits, "digits").times(needed(resolution, "resolution", "the value of the last digit").abs())]),
    ...(parts.absolute === undefined ? [] : [part(parts.absolute, "absolute")]),
  ];
  if (widths.length === 0) fail("missing", "percentOfReading", "at least one part of a statement", statement);
  const sum = (list: readonly Decimal[]) => list.reduce((total, one) => total.plus(one), decimal(0, ""));
  const within =
    nameIn(combine, { sum: true, greater: true }, "combine") === "sum" ? sum(widths) : widths.reduce(larger);
  const beside =
    outside === undefined
      ? decimal(0, "")
      : sum([
          ...share(outside.percentOfReading, "outside.percentOfReading", () => size),
          ...share(outside.percentOfRange, "outside.percentOfRange", () => full("outside.percentOfRange")),
        ]).times(part(outside.by, "outside.by"));
  const limit = toNumber(within.plus(beside), "reading");
  if (coverageFactor === undefined) return { limit, standard: limit / Math.sqrt(3) };
  if (!(finite(coverageFactor, "coverageFactor", "a coverage factor") > 0))
    fail("out-of-range", "coverageFactor", "a coverage factor above 0", coverageFactor);
  return { limit, standard: limit / coverageFactor };
}

function part(value: Exact, path: string): Decimal {
  const read = decimal(value, path);
  atLeast(toNumber(read, path), 0, path, "a part of a statement");
  return read;
}

const needed = (value: Exact | undefined, path: string, what: string): Decimal =>
  value === undefined ? fail("missing", path, what, value) : decimal(value, path, what);
