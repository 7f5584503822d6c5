/** The table of standard curves on the page of curves holds the constants of the library: all, and no other. */
import { readFileSync } from "node:fs";
import { type CurveName, curveNames, standardCurve } from "tripwright/curve";
import { expect, test } from "vitest";

test("the page of curves lists every standard curve with its constants", () => {
  const page = readFileSync(new URL("../../docs/curves.md", import.meta.url), "utf8");
  const rows = [...page.matchAll(/^\| `([a-z-]+)` \| ([\d.]+) \| ([\d.]+) \| ([\d.]+) \| (?:([\d.]+) s )?\|/gm)];
  const listed = rows.map(([, name = "", k, alpha, c, reset]) => [
    name,
    { k: Number(k), alpha: Number(alpha), c: Number(c), ...(reset !== undefined && { reset: Number(reset) }) },
  ]);
  const known = curveNames.map((name: CurveName) => {
    const { form: _, ...constants } = standardCurve(name);
    return [name, constants];
  });
  expect(Object.fromEntries(listed)).toEqual(Object.fromEntries(known));
});
