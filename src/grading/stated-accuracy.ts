import { above, fail, nameIn, options } from "../base/check.js";
import { type Decimal, decimal, type Exact, larger, toNumber } from "../base/exact.js";
import { notNegative, positive } from "../base/positive.js";

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
  readonly outside?: {
    readonly percentOfReading?: Exact;
    readonly percentOfRange?: Exact;
    readonly digits?: Exact;
    readonly absolute?: Exact;
    /** How far outside, in the same degrees: 3 at 31 °C where the rest holds up to 28 °C. */
    readonly by: Exact;
  };
  /** What the limits mean: a rectangle (default), or the coverage factor with which they were expanded. */
  readonly coverageFactor?: number;
}

/** A reading, with what the statement refers to. */
export interface ReadingOnRange {
  readonly reading: Exact;
  /** Above 0. */
  readonly range?: Exact;
  /** The value of the last digit, above 0. */
  readonly resolution?: Exact;
}

/** What a statement comes to at a reading, in its unit. */
export interface AccuracyAt {
  /** Half the width of the limits. */
  readonly limit: number;
  /** limit/√3, or limit over the coverage factor. */
  readonly standard: number;
}

const PARTS = ["percentOfReading", "percentOfRange", "digits", "absolute"] as const;
const BESIDE = ["combine", "outside", "coverageFactor"];

/**
 * The limits and the standard uncertainty of a reading, from the accuracy that the maker of the instrument states:
 *
 *     limit = % of |reading| + % of range + digits · resolution + absolute          (or the greatest of them)
 *
 * Outside the band in which it holds, what is stated for each degree is added: linearly, as makers mean it.
 *
 * @throws A {@link InputError} for a statement without any part, negative parts, parts that need a range or a resolution
 * that is not given, and unknown keys.
 * Accuracy: the limit is the double nearest to the exact decimal, the standard uncertainty within 2 units in the last place.
 * @source JCGM 100:2008 4.3.7 (limits as a rectangle), 4.3.3 (a stated coverage factor); statement forms: common practice
 *
 * @example
 * import { statedAccuracy } from "tripwright/grading";
 * const meter = { percentOfReading: 0.06, percentOfRange: 0.03 };
 * statedAccuracy(meter, { reading: 63.512, range: 100 }).limit; // → 0.0681072
 * statedAccuracy({ percentOfReading: 5, absolute: 0.02, combine: "greater" }, { reading: 0.3 }).limit; // → 0.02
 */
export function statedAccuracy(statement: StatedAccuracy, at: ReadingOnRange): AccuracyAt {
  const { combine = "sum", outside, coverageFactor = Math.sqrt(3) } = options(statement, [...PARTS, ...BESIDE]);
  options(at, ["reading", "range", "resolution"]);
  const stated = widths(statement, at);
  const within =
    nameIn(combine, { sum: true, greater: true }, "combine") === "sum" ? sum(stated) : stated.reduce(larger);
  const limit = toNumber(outside === undefined ? within : within.plus(addedOutside(outside, at)), "reading");
  return { limit, standard: limit / above(coverageFactor, 0, "coverageFactor", "a coverage factor") };
}

type Parts = Pick<StatedAccuracy, (typeof PARTS)[number]>;

function addedOutside(outside: NonNullable<StatedAccuracy["outside"]>, at: ReadingOnRange): Decimal {
  const { by } = options(outside, [...PARTS, "by"], "outside");
  return sum(widths(outside, at, "outside.")).times(notNegative(by, "outside.by", "degrees"));
}

/** What each part comes to, in the unit of the reading. */
function widths(parts: Parts, { reading, range, resolution }: ReadingOnRange, prefix = ""): Decimal[] {
  const size = decimal(reading, "reading", "a reading").abs();
  const scales: Readonly<Record<keyof Parts, () => Decimal>> = {
    percentOfReading: () => size.div(100),
    percentOfRange: () => positive(range, "range", "the range of the statement").div(100),
    digits: () => positive(resolution, "resolution", "the value of the last digit"),
    absolute: () => decimal(1, ""),
  };
  const given = PARTS.filter((part) => parts[part] !== undefined);
  if (given.length === 0) fail("missing", `${prefix}percentOfReading`, `one of ${PARTS.join(", ")} or more`, undefined);
  return given.map((part) =>
    notNegative(parts[part] as Exact, prefix + part, "a part of a statement").times(scales[part]()),
  );
}

const sum = (list: readonly Decimal[]): Decimal => list.reduce((total, one) => total.plus(one));
