import type { TestRecord } from "../record/index.js";
import { onRecord } from "./account.js";
import type { HandoverOptions } from "./figures.js";
import { asHtml } from "./html.js";
import { recordDocument } from "./record-document.js";

/**
 * A record as one HTML file that stands alone: it prints on paper, works without colour, can be read by keyboard and screen
 * reader, holds no script and loads nothing. Names and notes stay text, whatever they contain.
 *
 * Drawings come from any renderer, as SVG of shapes and text alone: see {@link ReportFigure}. `tripwright/figure` makes
 * specifications for them.
 *
 * @throws A {@link InputError} for what is no record, and for a drawing with anything in it that could run or load.
 * @source design of this library
 *
 * @example
 * import { plan, readSheet } from "tripwright/plan";
 * import { judge } from "tripwright/record";
 * import { toHtml } from "tripwright/report";
 * const accuracy = { pickup: { percent: 5 }, time: { percent: 5, absolute: "40 ms" } };
 * const sheet = readSheet({
 *   format: "tripwright/sheet@1", substation: "Corriedale Junction", feeder: "Tannery Lane", relay: "F12",
 *   frequency: "50 Hz", values: "secondary", ct: "400/5",
 *   elements: [{ id: "50P", function: "50", pickup: "40 A", delay: "100 ms", accuracy }],
 * });
 * toHtml(judge(sheet, plan(sheet), [])).includes("<title>Relay test record: F12</title>"); // → true
 */
export const toHtml = (record: TestRecord, options: HandoverOptions = {}): string =>
  onRecord(record, (whole) => asHtml(recordDocument(whole, options)));
