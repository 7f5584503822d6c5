/** The JSON Schema of a sheet goes into the package as a file of its own, for editors. */
import { copyFileSync } from "node:fs";

copyFileSync("src/sheet/sheet.schema.json", "dist/sheet.schema.json");
