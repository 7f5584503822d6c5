import type { Band } from "../base/band.js";
import { finite, text } from "../base/check.js";
import { within } from "../base/input-error.js";
import { unitOfReading } from "../base/reading-unit.js";
import type { Proves } from "../plan/index.js";
import type { Judged, Stage, TestRecord, Verdict } from "../record/index.js";
import { checkOf, onRecord } from "./account.js";

/** One reading of a record, or one check without any, as a flat object; what there is not is absent. */
export interface RecordRow {
  /** Id of the check, such as "51P/time@3". */
  readonly check: string;
  readonly element?: string;
  /** Device function number. */
  readonly function?: string;
  readonly proves?: Proves;
  readonly stage: Stage;
  readonly repeat?: number;
  readonly verdict: "within" | "outside" | "undecided" | "not-taken" | "impossible";
  /** Of `nominal`, `low`, `high`, `measured`, `expandedUncertainty`, `error` and `outsideBy`. */
  readonly unit?: string;
  readonly nominal?: number;
  readonly low?: number;
  readonly high?: number;
  readonly measured?: number | "never" | "operated";
  readonly expandedUncertainty?: number;
  readonly coverageFactor?: number;
  /** Measured less nominal. */
  readonly error?: number;
  readonly errorPercent?: number;
  /** Share of the tolerance that the error uses: 1 is on the limit. */
  readonly used?: number;
  readonly outsideBy?: number;
  /** The level that the plan asks for, in `injectedUnit`. */
  readonly planned?: number;
  readonly injected?: number;
  readonly injectedUnit?: string;
  readonly contact?: string;
  readonly operatedBy?: string;
  readonly instrument?: string;
  /** ISO 8601, as it was written. */
  readonly takenAt?: string;
  readonly note?: string;
}

/**
 * A record as flat rows, one for each reading and one for each check without any: what tables, data frames and plot
 * libraries take. Numbers are in SI units, with every digit; the fields are the columns of `toCsv`.
 *
 * @throws A {@link InputError} for what is no record, and for a number in it that is none.
 * @source design of this library
 *
 * @example
 * import { plan, readSheet } from "tripwright/plan";
 * import { judge } from "tripwright/record";
 * import { toRows } from "tripwright/report";
 * const accuracy = { pickup: { percent: 5 }, time: { percent: 5, absolute: "40 ms" } };
 * const sheet = readSheet({
 *   format: "tripwright/sheet@1", substation: "Corriedale Junction", feeder: "Tannery Lane", relay: "F12",
 *   frequency: "50 Hz", values: "secondary", ct: "400/5",
 *   elements: [{ id: "50P", function: "50", pickup: "40 A", delay: "100 ms", accuracy }],
 * });
 * const record = judge(sheet, plan(sheet), [{ check: "50P/time", stage: "as-found", repeat: 1, value: 0.145 }]);
 * const timed = toRows(record).filter(({ proves }) => proves === "operate-time");
 * timed.map(({ check, low, high, measured, verdict }) => ({ check, low, high, measured, verdict })); // → [{ check: "50P/time", low: 0.06, high: 0.14, measured: 0.145, verdict: "outside" }]
 */
export function toRows(record: TestRecord): RecordRow[] {
  return onRecord(record, ({ verdicts }) =>
    verdicts.flatMap((verdict, i) => within(`verdicts[${i}]`, () => rowsOf(verdict, record).map(filled))),
  );
}

type Loose = { readonly [Field in keyof RecordRow]: RecordRow[Field] | undefined };

/** Without the fields that are undefined: a table has no column for what no row says. */
function filled(row: Loose): RecordRow {
  const cells = Object.entries(row).filter(([, cell]) => cell !== undefined);
  return Object.fromEntries(cells.map(([field, cell]) => [field, sound(cell, field)])) as unknown as RecordRow;
}

/** A damaged record may hold NaN or a list, which would go on into tables and plots. */
const sound = (cell: unknown, field: string): number | string =>
  typeof cell === "number" ? finite(cell, field, "a number") : text(cell as string, field, "a number or text");

function rowsOf(verdict: Verdict, { plan }: TestRecord): Loose[] {
  const check = checkOf(plan, verdict.check);
  const common = {
    check: verdict.check,
    element: check?.element ?? plan.impossible.find(({ id }) => id === verdict.check)?.element,
    function: check?.function,
    proves: check?.proves,
    stage: verdict.stage,
    unit: check && unitOfReading(check),
    planned: check?.level,
    injectedUnit: check?.unit,
  };
  if (verdict.status === "graded") return verdict.readings.map((judged) => ({ ...common, ...readingRow(judged) }));
  const limits = check?.expect.form === "band" && limitsOf(check.expect.band);
  return [{ ...common, ...limits, verdict: verdict.status, note: verdict.reason }];
}

function readingRow({ reading, band, grade, uncertainty }: Judged) {
  const { repeat, value, injected, contact, operatedBy, instrument, takenAt, note } = reading;
  const { verdict, error } = grade;
  const numbers = grade.error !== undefined && {
    errorPercent: grade.errorPercent,
    used: grade.used,
    outsideBy: grade.outsideBy,
  };
  return {
    repeat,
    verdict,
    ...(band && limitsOf(band)),
    measured: value === "not-taken" ? undefined : value,
    expandedUncertainty: uncertainty && uncertainty.standard * uncertainty.coverageFactor,
    coverageFactor: uncertainty?.coverageFactor,
    error,
    ...numbers,
    injected,
    contact,
    operatedBy,
    instrument,
    takenAt,
    note,
  };
}

const limitsOf = ({ nominal, low, high }: Band) => ({ nominal, low, high });
