import type { Answer } from "../base/answer.js";
import type { Band } from "../base/band.js";
import { above, atLeast, fail, finite, object, options } from "../base/check.js";
import { within } from "../base/input-error.js";
import { fitLine } from "./fit-line.js";
import { type Grade, grade } from "./grade.js";

/** A value with its standard uncertainty, where one is known. */
export interface KnownValue {
  readonly value: number;
  readonly standard?: number;
}

/** As found and as left, or an older record and a newer one. */
export interface Stages {
  readonly before: KnownValue;
  readonly after: KnownValue;
  /** What both are held against. */
  readonly band?: Band;
  /** Default 2. */
  readonly coverageFactor?: number;
}

/** What changed between two readings of the same thing. */
export interface Change {
  readonly change: number;
  /** Of the change: √(u₁² + u₂²) · k; absent where one of them has no uncertainty. */
  readonly expanded?: number;
  /** The change is larger than its expanded uncertainty; absent where that is not known. */
  readonly significant?: boolean;
  readonly before?: Grade;
  readonly after?: Grade;
}

/**
 * Two readings of the same thing compared: by how much it changed, whether that is more than the readings can tell, and how
 * each stands against the band.
 *
 * @throws A {@link InputError} for values that are not finite, negative uncertainties, a bad band.
 * Accuracy: one difference in doubles; the grades are exact at the limit.
 * @source JCGM 100:2008 5.1.2 (uncorrelated readings)
 *
 * @example
 * import { changeBetween } from "tripwright/grading";
 * const { change, significant, after } = changeBetween({
 *   before: { value: 4.31, standard: 0.01 }, after: { value: 4.02, standard: 0.01 }, band: { nominal: 4, low: 3.8, high: 4.2 },
 * });
 * [change.toFixed(2), significant, after?.verdict]; // → ["-0.29", true, "within"]
 */
export function changeBetween(stages: Stages): Change {
  const { before, after, band, coverageFactor = 2 } = options(stages, ["before", "after", "band", "coverageFactor"]);
  for (const [path, known] of [
    ["before", before],
    ["after", after],
  ] as const)
    within(path, () => checkKnown(known));
  above(coverageFactor, 0, "coverageFactor", "a coverage factor");
  const change = after.value - before.value;
  const grades = band === undefined ? {} : { before: grade(before.value, band), after: grade(after.value, band) };
  if (before.standard === undefined || after.standard === undefined) return { change, ...grades };
  const expanded = coverageFactor * Math.sqrt(before.standard ** 2 + after.standard ** 2);
  return { change, expanded, significant: Math.abs(change) > expanded, ...grades };
}

function checkKnown(known: KnownValue): void {
  object(known, "", "a value { value, standard }");
  finite(known.value, "value", "a reading");
  if (known.standard !== undefined) atLeast(known.standard, 0, "standard", "a standard uncertainty");
}

/** A reading of one day. */
export interface DatedReading {
  /** ISO 8601, such as 2024-11-20. */
  readonly takenAt: string;
  readonly value: number;
}

/** How a value moves over the years. */
export interface Drift {
  /** Change in a year of 365.2425 days. */
  readonly perYear: number;
  /** From the scatter about the line; absent with two readings, which leave none. */
  readonly standard?: number;
}

const DAYS_PER_YEAR = 365.2425;

/**
 * The drift of a value per year, from readings of different days: the slope of the least-squares line through them.
 *
 * @param readings - Two or more.
 * @returns `none` where all were taken on one day.
 * @throws A {@link InputError} for fewer than two readings, values that are not finite, and dates that are none.
 * Accuracy: that of the line; a year has 365.2425 days.
 * @source JCGM 100:2008 H.3 (least-squares line)
 *
 * @example
 * import { driftPerYear } from "tripwright/grading";
 * const drift = driftPerYear([{ takenAt: "2022-11-20", value: 4.0 }, { takenAt: "2026-11-20", value: 4.08 }]);
 * drift.kind === "found" && drift.perYear.toFixed(4); // → "0.0200"
 */
export function driftPerYear(readings: readonly DatedReading[]): Answer<Drift, "all-on-one-day"> {
  if (!Array.isArray(readings) || readings.length < 2)
    fail(
      readings === undefined ? "missing" : "wrong-length",
      "readings",
      "two readings { takenAt, value } or more",
      readings,
    );
  const points = readings.map((reading, i) => within(`readings[${i}]`, () => pointOf(reading)));
  const [first, second] = points as [Point, Point];
  if (points.length === 2) {
    const years = second.x - first.x;
    return years === 0
      ? { kind: "none", reason: "all-on-one-day" }
      : { kind: "found", perYear: (second.y - first.y) / years };
  }
  const line = fitLine(points);
  if (line.kind === "none") return { kind: "none", reason: "all-on-one-day" };
  return { kind: "found", perYear: line.slope, standard: line.slopeStandard };
}

interface Point {
  readonly x: number;
  readonly y: number;
}

/** Years since 2000, so that nothing cancels. */
function pointOf(reading: DatedReading): Point {
  const { takenAt, value } = object(reading, "", "a reading { takenAt, value }");
  finite(value, "value", "a reading");
  const isDate = typeof takenAt === "string" && /^\d{4}-\d{2}-\d{2}/.test(takenAt);
  const instant = isDate ? Date.parse(takenAt) : Number.NaN;
  if (Number.isNaN(instant)) fail("unreadable", "takenAt", "a date such as 2026-11-25", takenAt);
  return { x: (instant - Date.UTC(2000, 0, 1)) / 86_400_000 / DAYS_PER_YEAR, y: value };
}
