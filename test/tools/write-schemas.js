/** The JSON Schemas of a sheet and of a record go into the package as files of their own, for editors and other programs. */
import { copyFileSync, writeFileSync } from "node:fs";
import { recordSchema } from "./record-schema.js";

copyFileSync("src/sheet/sheet.schema.json", "dist/sheet.schema.json");
writeFileSync("dist/record.schema.json", `${JSON.stringify(recordSchema())}\n`);
