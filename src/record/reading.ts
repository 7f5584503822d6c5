import { above, atLeast, finite, nameIn, options, text, whole } from "../base/check.js";
import { checkInstant } from "../base/instant.js";
import type { Seconds } from "../base/units.js";
import type { Unit } from "../plan/index.js";

/** Before or after adjustment. */
export type Stage = "as-found" | "as-left";

/** Which reading it is; no two readings share all three. */
export interface ReadingKey {
  /** The id of the check, such as `51P/time@3`. */
  readonly check: string;
  readonly stage: Stage;
  /** 1 for the first injection. */
  readonly repeat: number;
}

/** A standard uncertainty with the factor that expands it. */
export interface ReadingUncertainty {
  /** In the unit of the value. */
  readonly standard: number;
  readonly coverageFactor: number;
}

/** What was measured against one check. */
export interface Reading extends ReadingKey {
  /**
   * In SI units: the level at which it started or let go, or the operate time. `"never"`: it did not operate before the
   * injection was given up. `"operated"`: it did, and nobody took the time. `"not-taken"`: left out, the note says why.
   */
  readonly value: number | Seconds | "never" | "operated" | "not-taken";
  /** The level that was really injected, where it differs from the planned one; the band is taken at this level. */
  readonly injected?: number;
  /** Of the injected level, where it was read on a meter. */
  readonly injectedUncertainty?: ReadingUncertainty;
  readonly uncertainty?: ReadingUncertainty;
  /** The contact that operated. */
  readonly contact?: string;
  /** The element that operated it, where that is known: a reading of another one proves nothing of this one. */
  readonly operatedBy?: string;
  /** The instrument that it was read on, by its id in the record. */
  readonly instrument?: string;
  /** ISO 8601. */
  readonly takenAt?: string;
  readonly note?: string;
}

/** The key as text, such as `51P/time@3, as-found, repeat 1`. */
export const keyOf = ({ check, stage, repeat }: ReadingKey): string => `${check}, ${stage}, repeat ${repeat}`;

/** What a reading may hold, and what a file of them may have columns for. */
export const READING_FIELDS = [
  "check",
  "stage",
  "repeat",
  "value",
  "injected",
  "injectedUncertainty",
  "uncertainty",
  "contact",
  "operatedBy",
  "instrument",
  "takenAt",
  "note",
] as const;
const TEXTS = ["contact", "operatedBy", "instrument", "takenAt", "note"] as const;
const WORDS: readonly unknown[] = ["never", "operated", "not-taken"];
const STAGES: Readonly<Record<Stage, true>> = { "as-found": true, "as-left": true };

/** Checks one reading: what is no number and no word is never graded. */
export function checkReading(reading: Reading, unit: Unit | undefined): void {
  const { stage, repeat, value, injected, uncertainty, injectedUncertainty } = options(reading, READING_FIELDS);
  nameIn(stage, STAGES, "stage");
  whole(repeat, [1, 9999], "repeat", "a count of injections");
  const what = 'a measured value (or "never", "operated", "not-taken")';
  // Of all that is measured, an angle alone may be negative.
  if (!WORDS.includes(value) && unit === "°") finite(value as number, "value", what);
  else if (!WORDS.includes(value)) atLeast(value as number, 0, "value", what);
  for (const field of TEXTS) if (reading[field] !== undefined) text(reading[field], field, "text");
  const { takenAt } = reading;
  if (takenAt !== undefined) checkInstant(takenAt, "takenAt");
  if (injected !== undefined) atLeast(injected, 0, "injected", "an injected level");
  if (uncertainty !== undefined) checkUncertainty(uncertainty, "uncertainty");
  if (injectedUncertainty !== undefined) checkUncertainty(injectedUncertainty, "injectedUncertainty");
}

function checkUncertainty(uncertainty: ReadingUncertainty, path: string): void {
  options(uncertainty, ["standard", "coverageFactor"], path);
  atLeast(uncertainty.standard, 0, `${path}.standard`, "a standard uncertainty");
  above(uncertainty.coverageFactor, 0, `${path}.coverageFactor`, "a coverage factor");
}
