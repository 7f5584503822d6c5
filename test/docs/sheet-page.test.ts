/** The page on setting sheets is what people type a sheet from: every field that a sheet may have stands on it by name. */
import { readFileSync } from "node:fs";
import { sheetSchema } from "tripwright/plan";
import { expect, test } from "vitest";

/** Every name of a field anywhere in a schema. */
function namesIn(part: unknown): string[] {
  if (typeof part !== "object" || part === null) return [];
  const { properties = {} } = part as { readonly properties?: object };
  return [...Object.keys(properties), ...Object.values(part).flatMap(namesIn)];
}

/** What stands between backticks in the text; examples are not where a reader looks a field up. */
const prose = readFileSync("docs/setting-sheet.md", "utf8").replace(/```.*?```/gs, "");
const code = [...prose.matchAll(/`([^`]+)`/g)].map(([, inside]) => inside).join(" ");

test("every field of the schema is named on the page", () => {
  const names = [...new Set(namesIn(sheetSchema))];
  expect(names.length).toBeGreaterThan(90);
  const words = new Set(code.split(/[^\w$]+/));
  expect(names.filter((name) => !words.has(name))).toEqual([]);
});
