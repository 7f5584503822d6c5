import { readFileSync, writeFileSync } from "node:fs";
import { toJsonSchema } from "@valibot/to-json-schema";
import { sheetSchema } from "tripwright/plan";
import { expect, test } from "vitest";
import { sharedShapes, sheetShape } from "../../src/sheet/sheet-shape.js";

const FILE = new URL("../../src/sheet/sheet.schema.json", import.meta.url);

/** `npm run schema` writes the file, every other run compares it. */
const generated = `${JSON.stringify({ title: "tripwright setting sheet", ...toJsonSchema(sheetShape, { definitions: sharedShapes }) }, null, 2)}\n`;
if (process.env["TRIPWRIGHT_WRITE"] === "schema") writeFileSync(FILE, generated);

test("the JSON Schema in the tree is the one that the shape of a sheet makes (else: npm run schema)", () => {
  expect(readFileSync(FILE, "utf8")).toBe(generated);
});

test("the exported schema is that file", () => {
  expect(sheetSchema).toEqual(JSON.parse(generated));
});
