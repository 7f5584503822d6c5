/**
 * What do I hand over?
 *
 * @module report
 */

export { InputError } from "../base/input-error.js";
export type { Plan, Sheet } from "../plan/index.js";
export type { TestRecord } from "../record/index.js";
export { blankReadings } from "./blank-readings.js";
export type { HandoverOptions, ReportFigure } from "./figures.js";
export { type SiteCardOptions, siteCard } from "./site-card.js";
export { summarize } from "./summarize.js";
export { toCsv } from "./to-csv.js";
export { toHtml } from "./to-html.js";
export { toJson } from "./to-json.js";
export { toMarkdown } from "./to-markdown.js";
export { type RecordRow, toRows } from "./to-rows.js";
