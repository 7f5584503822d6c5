/**
 * What do I hand over?
 *
 * @module report
 */

export type { TestRecord } from "../record/index.js";
export { summarize } from "./summarize.js";
export { toCsv } from "./to-csv.js";
export { toMarkdown } from "./to-markdown.js";
