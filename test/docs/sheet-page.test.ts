/** The page on setting sheets is what people type a sheet from: every field by name, and what is taken where one is not typed. */
import { readFileSync } from "node:fs";
import { definitionOf, type FunctionNumber, functionNumbers } from "tripwright/element";
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

/** The rows of the table below a heading, each as its cells. */
function rowsBelow(heading: string): string[][] {
  const [, section = ""] = prose.split(`\n${heading}\n`);
  const [table = ""] = section.split("\n#");
  const lines = table.split("\n").filter((line) => line.startsWith("| `"));
  return lines.map((line) =>
    line
      .split("|")
      .slice(1, -1)
      .map((cell) => cell.trim()),
  );
}

const functionsIn = (cell = "") => [...cell.matchAll(/`(\w+)`/g)].map(([, name]) => name as FunctionNumber);

test("what is taken where the sheet says nothing is what every function has", () => {
  const listed = rowsBelow("### Where the sheet says nothing").flatMap(([names, cycles, dropout = "", multiples]) =>
    functionsIn(names).map((name) => [name, Number(cycles), dropout, multiples]),
  );
  const taken = functionNumbers.map((name) => {
    const { practice, laws, unit } = definitionOf(name);
    const { dropout, measuringCycles, multiples } = practice;
    const space = unit === "°" ? "" : " ";
    const lets = "ratio" in dropout ? `${dropout.ratio}` : `${dropout.difference}${space}${unit}`;
    const isTimedAtSeveral = laws.some((form) => form !== "definite");
    return [name, measuringCycles, lets, isTimedAtSeveral ? multiples.join(", ") : ""];
  });
  expect(listed.sort()).toEqual(taken.sort());
});

test("the functions that may have neither a delay nor a curve are those that say so", () => {
  const rows = rowsBelow("## The functions");
  // "the same" is that of the row above; a row of two functions says which of them it is.
  const laws = rows.map((_, i) => rows.slice(0, i + 1).findLast(([, , , law]) => law !== "the same")?.[3] ?? "");
  const listed = rows.flatMap(([names], i) =>
    functionsIn(names).filter((name) => {
      const parts = (laws[i] as string).split("; ").filter((part) => part.includes("`none`"));
      return parts.some((part) => !/^\d/.test(part) || part.startsWith(name.slice(0, 2)));
    }),
  );
  const instant = functionNumbers.filter((name) => definitionOf(name).instantaneous === true);
  expect(listed.sort()).toEqual([...instant].sort());
});
