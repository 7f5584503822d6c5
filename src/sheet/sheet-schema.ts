import schema from "./sheet.schema.json" with { type: "json" };

/**
 * The JSON Schema (draft 7) of a setting sheet, so that an editor can complete and check one. Also a file of the package:
 * `tripwright/sheet.schema.json`.
 *
 * @example
 * import { sheetSchema } from "tripwright/plan";
 * sheetSchema["title"]; // → "tripwright setting sheet"
 */
export const sheetSchema: { readonly [keyword: string]: unknown } = schema;
