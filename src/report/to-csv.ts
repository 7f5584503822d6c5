import type { TestRecord } from "../record/index.js";
import { onRecord } from "./account.js";
import { csvCell } from "./csv-cell.js";
import { type RecordRow, toRows } from "./to-rows.js";

const COLUMNS = [
  "check",
  "element",
  "function",
  "proves",
  "stage",
  "repeat",
  "verdict",
  "unit",
  "nominal",
  "low",
  "high",
  "measured",
  "expandedUncertainty",
  "coverageFactor",
  "error",
  "errorPercent",
  "used",
  "outsideBy",
  "planned",
  "injected",
  "injectedUnit",
  "contact",
  "operatedBy",
  "instrument",
  "takenAt",
  "note",
] as const satisfies readonly (keyof RecordRow)[];

/**
 * A record as comma-separated values: one line for each reading, and one for each check without any.
 *
 * Numbers stay numbers, in SI units and with every digit. Text that a spreadsheet would run as a formula is neutralised
 * with an apostrophe in front.
 *
 * @throws A {@link InputError} for what is no record.
 * @source RFC 4180
 *
 * @example
 * import { plan, readSheet } from "tripwright/plan";
 * import { judge } from "tripwright/record";
 * import { toCsv } from "tripwright/report";
 * const accuracy = { pickup: { percent: 5 }, time: { percent: 5, absolute: "40 ms" } };
 * const sheet = readSheet({
 *   format: "tripwright/sheet@1", substation: "Corriedale Junction", feeder: "Tannery Lane", relay: "F12",
 *   frequency: "50 Hz", values: "secondary", ct: "400/5",
 *   elements: [{ id: "50P", function: "50", pickup: "40 A", delay: "100 ms", accuracy }],
 * });
 * const record = judge(sheet, plan(sheet), [{ check: "50P/time", stage: "as-found", repeat: 1, value: 0.145 }]);
 * toCsv(record).split("\r\n")[3]; // → "50P/time,50P,50,operate-time,as-found,1,outside,s,0.1,0.06,0.14,0.145,,,0.045,45,1.125,0.005,48,,A,,,,,"
 */
export const toCsv = (record: TestRecord): string => onRecord(record, csvOf);

function csvOf(record: TestRecord): string {
  return [COLUMNS.join(","), ...toRows(record).map((row) => COLUMNS.map((column) => csvCell(row[column])).join(","))]
    .join("\r\n")
    .concat("\r\n");
}
