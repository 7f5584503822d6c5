import type { Answer } from "../base/answer.js";
import type { Band } from "../base/band.js";
import { atLeast, fail, finite, object, options } from "../base/check.js";
import { within } from "../base/input-error.js";
import { instantOf } from "../base/instant.js";
import { readEach } from "../base/read-each.js";
import { checkBand } from "./band.js";
import { coverageFactor } from "./coverage-factor.js";
import { lineThrough } from "./fit-line.js";
import { meanOf, rootOfSquares, sumOf } from "./mean.js";

/** A reading of one day. */
export interface DatedReading {
  /** ISO 8601, such as 2024-11-20; a time without a zone is taken as UTC. */
  readonly takenAt: string;
  readonly value: number;
  /** Its standard uncertainty: of all readings, or of none. */
  readonly standard?: number;
}

/** How a value moves over the years. */
export interface Drift {
  /** Change in a year of 365.2425 days. */
  readonly perYear: number;
  /**
   * Standard uncertainty of it: from the scatter about the line or from the uncertainties of the readings, whichever is
   * greater. Absent with two readings without uncertainties.
   */
  readonly standard?: number;
  /** Whether the drift lies beyond its 95 % interval about none; absent where its uncertainty is not known. */
  readonly significant?: boolean;
  /** The value of the line on the last day; of two readings the later one itself. */
  readonly latest: number;
  /** With a band: when the line reaches a limit. */
  readonly limit?: Answer<LimitReached, "no-drift" | "no-limit" | "outside-already">;
}

/** Which limit a drift comes to, and when. */
export interface LimitReached {
  readonly side: "low" | "high";
  /** Years after the last reading. */
  readonly years: number;
}

/** What the rounding of a line may come to, as a share of the largest reading. */
const ROUNDING = 1e-12;

/** Milliseconds of a mean Gregorian year: 97 leap days in 400 years. */
const YEAR = 365.2425 * 86_400_000;

/**
 * The drift of a value per year, from readings of different days: the slope of the least-squares line through them, and the
 * years that are left until it comes to a limit.
 *
 *     u² = the greater one of s²/S and Σ (t − t̄)²·u²/S²,   S = Σ (t − t̄)²,   years = (limit − latest)/drift
 *
 * @param readings - Two or more, in any order.
 * @param about - `band`: what the value must stay within.
 * @returns `none` where all were taken at one time.
 * @throws A {@link InputError} for fewer than two readings, values that are not finite, uncertainties that are negative or not
 * given for all, dates that are none, a bad band or that of an angle, and unknown options.
 * Accuracy: that of the line; times are exact to the millisecond. The line of three readings or more
 * that lies beyond a limit by no more than 1e-12 of the largest reading is on it.
 * @source JCGM 100:2008 H.3 (least-squares line), 5.1.2 (uncertainties of the readings)
 *
 * @example
 * import { driftPerYear } from "tripwright/grading";
 * const readings = [{ takenAt: "2022-11-20", value: 4 }, { takenAt: "2024-11-20", value: 4.05 }, { takenAt: "2026-11-20", value: 4.08 }];
 * const drift = driftPerYear(readings, { band: { nominal: 4, low: 3.8, high: 4.2 } });
 * drift.kind === "found" && drift.perYear.toFixed(4); // → "0.0200"
 * drift.kind === "found" && drift.limit?.kind === "found" && drift.limit.years.toFixed(1); // → "5.8"
 */
export function driftPerYear(
  readings: readonly DatedReading[],
  about: { readonly band?: Band } = {},
): Answer<Drift, "all-at-one-time"> {
  const { band } = options(about, ["band"]);
  if (band !== undefined) within("band", () => checkAxis(band));
  const points = readPoints(readings);
  const line = points.length === 2 ? throughTwo(points as [Point, Point]) : lineThrough(points, "readings");
  if (line.kind === "none") return { kind: "none", reason: "all-at-one-time" };
  const perYear = line.slope;
  const { latest, rounding } = endOf(line, points);
  return {
    kind: "found",
    perYear,
    ...uncertaintyOf(line, points),
    latest,
    ...(band !== undefined && { limit: reached({ perYear, latest, rounding }, band) }),
  };
}

interface Point {
  /** Years since the first of the readings. */
  readonly x: number;
  readonly y: number;
  readonly standard?: number;
}

function readPoints(readings: readonly DatedReading[]): Point[] {
  const known = readings?.[0]?.standard !== undefined;
  const read = readEach(
    readings,
    "readings",
    "two readings { takenAt, value } or more",
    (reading) => {
      const { takenAt, value, standard } = object(reading, "", "a reading { takenAt, value }");
      if (known) atLeast(standard, 0, "standard", "a standard uncertainty, as of the first reading,");
      else if (standard !== undefined) fail("conflict", "standard", "none, as of the first reading", standard);
      return { at: instantOf(takenAt, "takenAt"), y: finite(value, "value", "a reading"), standard };
    },
    2,
  );
  const start = (read[0] as { at: number }).at;
  return read.map(({ at, y, standard }) => ({
    x: (at - start) / YEAR,
    y,
    ...(standard !== undefined && { standard }),
  }));
}

/** An angle comes back to where it was, and has no limit that a line would come to. */
function checkAxis(band: Band): void {
  if (checkBand(band).period !== undefined)
    fail("not-applicable", "period", "no period: a drift has no turns", band.period);
}

/** What two points say of a line, without any scatter; the first one is at 0. */
function throughTwo([first, second]: readonly [Point, Point]): Answer<Slope, "all-at-one-x"> {
  if (second.x === 0) return { kind: "none", reason: "all-at-one-x" };
  const slope = finite((second.y - first.y) / second.x, "readings", "a drift that fits a double");
  return { kind: "found", slope, middle: { x: second.x / 2, y: meanOf([first.y, second.y]) } };
}

interface Slope {
  readonly slope: number;
  readonly middle: { readonly x: number; readonly y: number };
  /** From the scatter. */
  readonly slopeStandard?: number;
}

function uncertaintyOf({ slope, middle, slopeStandard: scatter }: Slope, points: readonly Point[]) {
  const away = points.map(({ x }) => x - middle.x);
  const own = points.map(({ standard }, i) => (standard ?? Number.NaN) * (away[i] as number));
  const known = points[0]?.standard !== undefined;
  if (!known && scatter === undefined) return {};
  const carried = known ? rootOfSquares(own) / sumOf(away, (dx) => dx * dx) : 0;
  const expanded = Math.max(
    carried * coverageFactor(),
    scatter === undefined ? 0 : scatter * coverageFactor({ degreesOfFreedom: points.length - 2 }),
  );
  const standard = finite(Math.max(carried, scatter ?? 0), "readings", "uncertainties that fit doubles");
  return { standard, significant: Math.abs(slope) > expanded };
}

/** The line on the last day, and up to how far beyond a limit it is on it: of two readings it goes through the later one. */
function endOf({ slope, middle }: Slope, points: readonly Point[]) {
  const last = points.reduce((later, point) => (point.x > later.x ? point : later));
  if (points.length === 2) return { latest: last.y, rounding: 0 };
  const latest = finite(middle.y + slope * (last.x - middle.x), "readings", "a line that fits a double");
  return { latest, rounding: ROUNDING * points.reduce((most, { y }) => Math.max(most, Math.abs(y)), 0) };
}

interface Moving {
  readonly perYear: number;
  readonly latest: number;
  readonly rounding: number;
}

function reached({ perYear, latest, rounding }: Moving, { low, high }: Band): NonNullable<Drift["limit"]> {
  if (latest < (low ?? -Infinity) - rounding || latest > (high ?? Infinity) + rounding)
    return { kind: "none", reason: "outside-already" };
  const side = perYear < 0 ? "low" : "high";
  const limit = side === "low" ? low : high;
  if (perYear === 0) return { kind: "none", reason: "no-drift" };
  if (limit === undefined) return { kind: "none", reason: "no-limit" };
  const years = Math.max(0, (limit - latest) / perYear);
  // More years than a double can hold are none.
  return Number.isFinite(years) ? { kind: "found", side, years } : { kind: "none", reason: "no-drift" };
}
