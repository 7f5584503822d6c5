/** The instruments that readings were taken on. */
import { fail, options, text } from "../base/check.js";
import { within } from "../base/input-error.js";
import { checkInstant, dayOf } from "../base/instant.js";
import type { Problem } from "../base/problem.js";
import { KIND_OF_UNIT } from "../base/quantity.js";
import { readEach } from "../base/read-each.js";
import { band, type Tolerance } from "../grading/index.js";
import type { Unit } from "../plan/index.js";
import type { Reading } from "./reading.js";
import { keyOf } from "./reading.js";
import { someText } from "./some-text.js";

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

const FIELDS = ["id", "description", "serial", "certificate", "calibratedOn", "dueOn", "accuracy"];

/** Checks the instruments; readings must name one of them, where they name any. */
export function checkInstruments(instruments: readonly Instrument[], readings: readonly Reading[]): void {
  const ids = new Set<string>();
  readEach(instruments, "instruments", "a list of instruments { id, description }", (instrument) => {
    const { id, description, serial, certificate, calibratedOn, dueOn, accuracy = {} } = options(instrument, FIELDS);
    someText(id, "id", "a name that readings refer to");
    someText(description, "description", "what the instrument is");
    if (serial !== undefined) text(serial, "serial", "text");
    if (certificate !== undefined) text(certificate, "certificate", "text");
    if (ids.has(id)) fail("duplicate", "id", "a name that no other instrument has", id);
    ids.add(id);
    if (calibratedOn !== undefined) checkInstant(calibratedOn, "calibratedOn");
    if (dueOn !== undefined) checkInstant(dueOn, "dueOn");
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
