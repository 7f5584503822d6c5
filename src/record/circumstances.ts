/** What stands beside the readings: the instruments they were read on, and what was changed for the work. */
import { fail, options } from "../base/check.js";
import { within } from "../base/input-error.js";
import { instantOf, isInstant } from "../base/instant.js";
import type { Problem } from "../base/problem.js";
import { KIND_OF_UNIT } from "../base/quantity.js";
import { readEach } from "../base/read-each.js";
import { band, type Tolerance } from "../grading/index.js";
import type { Unit } from "../plan/index.js";
import type { Reading } from "./reading.js";
import { keyOf } from "./reading.js";

/** An instrument or a test source, with its calibration. */
export interface Instrument {
  /** How readings name it. */
  readonly id: string;
  /** What it is, such as "true-rms multimeter". */
  readonly description: string;
  readonly serial?: string;
  readonly certificate?: string;
  /** ISO 8601. */
  readonly calibratedOn?: string;
  /** ISO 8601: the calibration holds up to the end of this day. */
  readonly dueOn?: string;
  /** Limits of error by the unit of what it reads; a rectangle between them gives the standard uncertainty. */
  readonly accuracy?: { readonly [U in Unit]?: Tolerance };
}

/** Something that was blocked, bridged or set otherwise for the work, and has to be brought back. */
export interface TemporaryChange {
  /** What was done, such as "trip link TB1 opened". */
  readonly what: string;
  /** ISO 8601. */
  readonly changedAt?: string;
  /** ISO 8601; absent: not restored yet. */
  readonly restoredAt?: string;
  /** How it was proved to be restored, such as "continuity measured". */
  readonly proof?: string;
}

const INSTRUMENT = ["id", "description", "serial", "certificate", "calibratedOn", "dueOn", "accuracy"];
const CHANGE = ["what", "changedAt", "restoredAt", "proof"];

/** Checks the instruments; readings must name one of them, where they name any. */
export function checkInstruments(instruments: readonly Instrument[], readings: readonly Reading[]): void {
  const ids = new Set<string>();
  readEach(instruments, "instruments", "a list of instruments { id, description }", (instrument) => {
    const {
      id,
      description,
      serial,
      certificate,
      calibratedOn,
      dueOn,
      accuracy = {},
    } = options(instrument, INSTRUMENT);
    text(id, "id", "a name that readings refer to");
    text(description, "description", "what the instrument is");
    textIfAny(serial, "serial");
    textIfAny(certificate, "certificate");
    if (ids.has(id)) fail("duplicate", "id", "a name that no other instrument has", id);
    ids.add(id);
    instant(calibratedOn, "calibratedOn");
    instant(dueOn, "dueOn");
    options(accuracy, Object.keys(KIND_OF_UNIT), "accuracy");
    for (const [unit, tolerance] of Object.entries(accuracy)) within(`accuracy.${unit}`, () => band(1, tolerance));
  });
  [...readings].forEach(({ instrument }, i) => {
    if (instrument !== undefined && !ids.has(instrument))
      fail("unknown-name", `readings[${i}].instrument`, known(ids), instrument);
  });
}

const known = (ids: ReadonlySet<string>): string =>
  ids.size === 0
    ? "a record with instruments, or a reading without one"
    : `one of the instruments ${[...ids].join(", ")}`;

/** Checks the list of temporary changes. */
export function checkChanges(changes: readonly TemporaryChange[]): void {
  readEach(changes, "changes", "a list of temporary changes { what, restoredAt }", (change) => {
    const { what, changedAt, restoredAt, proof } = options(change, CHANGE);
    text(what, "what", "what was changed");
    textIfAny(proof, "proof");
    instant(changedAt, "changedAt");
    instant(restoredAt, "restoredAt");
  });
}

/** Readings on an instrument whose calibration had run out, or was made later: what it was before is not on its paper. */
export function outOfCalibration(instruments: readonly Instrument[], readings: readonly Reading[]): Problem[] {
  return readings.flatMap((reading) => {
    const { takenAt, instrument } = reading;
    const { dueOn, calibratedOn } = instruments.find(({ id }) => id === instrument) ?? {};
    if (takenAt === undefined) return [];
    const isLate = dueOn !== undefined && dayOf(takenAt) > dayOf(dueOn);
    const isEarly = calibratedOn !== undefined && dayOf(takenAt) < dayOf(calibratedOn);
    if (!isLate && !isEarly) return [];
    return [
      {
        code: "conflict",
        path: keyOf(reading),
        expected: `an instrument in calibration; ${instrument} was ${isLate ? `due on ${dueOn}` : `calibrated on ${calibratedOn}`}`,
        received: `a reading of ${takenAt}`,
      } as const,
    ];
  });
}

/** What was changed and is not restored, or not proved to be, or brought back before it was changed. */
export function notRestored(changes: readonly TemporaryChange[]): Problem[] {
  return changes.flatMap(({ what, changedAt, restoredAt, proof = "" }, i) => {
    const problem = (field: string, wanted: string): Problem => ({
      code: "missing",
      path: `changes[${i}].${field}`,
      expected: `${wanted} of: ${what}`,
      received: "nothing",
    });
    if (restoredAt === undefined) return [problem("restoredAt", "the time of restoration")];
    const unproved = proof.trim() === "" ? [problem("proof", "how the restoration was proved")] : [];
    if (changedAt === undefined || !isBefore(restoredAt, changedAt)) return unproved;
    const { path, expected } = problem("restoredAt", `a time of restoration after ${changedAt}`);
    return [{ code: "conflict", path, expected, received: restoredAt } as const, ...unproved];
  });
}

const dayOf = (instant: string): string => instant.slice(0, 10);

/** Days by their dates; a time with a zone and one without cannot be compared. */
function isBefore(one: string, other: string): boolean {
  if (one.length === 10 || other.length === 10) return dayOf(one) < dayOf(other);
  const hasZone = (instant: string) => /(?:Z|[+-]\d{2}:\d{2})$/.test(instant);
  return hasZone(one) === hasZone(other) && instantOf(one, "restoredAt") < instantOf(other, "changedAt");
}

function text(value: string, path: string, what: string): void {
  if (typeof value !== "string" || value === "")
    fail(value === undefined ? "missing" : "wrong-type", path, what, value);
}

function textIfAny(value: string | undefined, path: string): void {
  if (value !== undefined && typeof value !== "string") fail("wrong-type", path, "text", value);
}

function instant(value: string | undefined, path: string): void {
  if (value !== undefined && !isInstant(value))
    fail("unreadable", path, "a date and time such as 2026-11-25T09:30", value);
}
