import type { TestRecord } from "../record/index.js";
import { onRecord } from "./account.js";

/**
 * A record as JSON text: everything in it, with every digit, so that another program can check it. Its shape is described by
 * the JSON Schema `tripwright/record.schema.json`.
 *
 * @throws A {@link InputError} for what is no record.
 * @source design of this library
 *
 * @example
 * import { plan, readSheet } from "tripwright/plan";
 * import { judge } from "tripwright/record";
 * import { toJson } from "tripwright/report";
 * const accuracy = { pickup: { percent: 5 }, time: { percent: 5, absolute: "40 ms" } };
 * const sheet = readSheet({
 *   format: "tripwright/sheet@1", substation: "Corriedale Junction", feeder: "Tannery Lane", relay: "F12",
 *   frequency: "50 Hz", values: "secondary", ct: "400/5",
 *   elements: [{ id: "50P", function: "50", pickup: "40 A", delay: "100 ms", accuracy }],
 * });
 * const record = judge(sheet, plan(sheet), []);
 * JSON.parse(toJson(record)).format; // → "tripwright/record@1"
 */
export const toJson = (record: TestRecord): string =>
  onRecord(record, (whole) => `${JSON.stringify(whole, undefined, 2)}\n`);
