import { expect, test } from "vitest";
import { finite } from "../../src/base/check.js";
import { readEach } from "../../src/base/read-each.js";
import { problemsOf } from "../support/failure.js";

const doubled = (values: unknown, least = 0): number[] =>
  readEach(values as number[], "levels", "a list of levels", (x) => 2 * finite(x, "", "a level"), least);

test("every item of a list is read, and its problem stands at its place", () => {
  expect(doubled([1, 2, 3])).toEqual([2, 4, 6]);
  expect(problemsOf(() => doubled([1, "2"]))).toMatchObject([{ code: "wrong-type", path: "levels[1]" }]);
  // A hole is no level, though `map` would pass over it.
  expect(problemsOf(() => doubled(new Array(1)))).toMatchObject([{ code: "missing", path: "levels[0]" }]);
});

test("what is no list, or too short a one, is refused as a whole", () => {
  const told = (values: unknown) => problemsOf(() => doubled(values, 1)).map(({ path, code }) => `${path} ${code}`);
  expect(told(undefined)).toEqual(["levels missing"]);
  expect(told("12")).toEqual(["levels wrong-type"]);
  expect(told([])).toEqual(["levels wrong-length"]);
});
