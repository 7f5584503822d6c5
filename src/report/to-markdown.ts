import type { TestRecord } from "../record/index.js";
import { onRecord } from "./account.js";
import type { HandoverOptions } from "./figures.js";
import { asMarkdown } from "./markdown.js";
import { recordDocument } from "./record-document.js";

/**
 * A record as Markdown, composed for the person who must sign it: the result first, cautions, what needs attention,
 * every check with expected, measured and share of tolerance, how each band came about, the decision rule, signatures.
 *
 * Names and notes stay text, whatever they contain. Of figures it holds the descriptions.
 *
 * @throws A {@link InputError} for what is no record, and for figures as `toHtml` does.
 *
 * @source design of this library
 *
 * @example
 * import { plan, readSheet } from "tripwright/plan";
 * import { judge } from "tripwright/record";
 * import { toMarkdown } from "tripwright/report";
 * const accuracy = { pickup: { percent: 5 }, time: { percent: 5, absolute: "40 ms" } };
 * const sheet = readSheet({
 *   format: "tripwright/sheet@1", substation: "Corriedale Junction", feeder: "Tannery Lane", relay: "F12",
 *   frequency: "50 Hz", values: "secondary", ct: "400/5",
 *   elements: [{ id: "50P", function: "50", pickup: "40 A", delay: "100 ms", accuracy }],
 * });
 * toMarkdown(judge(sheet, plan(sheet), [])).split("\n")[0]; // → "# Relay test record: F12"
 */
export const toMarkdown = (record: TestRecord, options: HandoverOptions = {}): string =>
  onRecord(record, (whole) => asMarkdown(recordDocument(whole, options)));
