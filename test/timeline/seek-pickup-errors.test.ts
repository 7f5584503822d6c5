import { mostInjections, nextTrial, seekPickup } from "tripwright/timeline";
import { describe, expect, test } from "vitest";
import { problemsOf } from "../support/failure.js";

const search = { method: "linear", from: 1, to: 2, step: 0.1, hold: 0.5 } as const;
const coarse = { ...search, method: "coarse-then-fine", coarseStep: 0.5 } as const;
const down = { ...search, from: 2, to: 1 } as const;

describe("a search", () => {
  test.each([
    ["nothing", undefined, "missing", ""],
    ["null", null, "wrong-type", ""],
    ["text", "linear", "wrong-type", ""],
    ["a list", [search], "wrong-type", ""],
    ["a misspelt option", { ...search, stepp: 0.1 }, "unknown-key", "stepp"],
    ["no method", { ...search, method: undefined }, "unknown-name", "method"],
    ["an unknown method", { ...search, method: "binary" }, "unknown-name", "method"],
    ["a method from birth", { ...search, method: "toString" }, "unknown-name", "method"],
    ["no start", { ...search, from: undefined }, "missing", "from"],
    ["a start that is null", { ...search, from: null }, "wrong-type", "from"],
    ["a start that is not finite", { ...search, from: Number.NaN }, "not-finite", "from"],
    ["an end with its unit", { ...search, to: "2 A" }, "unreadable", "to"],
    ["an end that is the start", { ...search, to: "1.0" }, "out-of-range", "to"],
    ["no step", { ...search, step: 0 }, "out-of-range", "step"],
    ["a step downward", { ...search, step: -0.1 }, "out-of-range", "step"],
    ["a step of a billionth", { ...search, step: 1e-9 }, "too-many", "step"],
    ["no hold", { ...search, hold: undefined }, "missing", "hold"],
    ["a hold of no time", { ...search, hold: 0 }, "out-of-range", "hold"],
    ["a hold without end", { ...search, hold: 1 / 0 }, "not-finite", "hold"],
    ["a hold that is text", { ...search, hold: "0.5" }, "wrong-type", "hold"],
    ["no coarse step", { ...search, method: "coarse-then-fine" }, "missing", "coarseStep"],
    ["a coarse step of linear", { ...search, coarseStep: 0.5 }, "not-applicable", "coarseStep"],
    ["a coarse step of halving", { ...coarse, method: "halving" }, "not-applicable", "coarseStep"],
    ["a coarse step that is a fine one", { ...coarse, coarseStep: 0.1 }, "out-of-range", "coarseStep"],
    ["a coarse step between two levels", { ...coarse, coarseStep: 0.25 }, "out-of-range", "coarseStep"],
    ["a coarse step of 0", { ...coarse, coarseStep: 0 }, "out-of-range", "coarseStep"],
    ["a coarse step downward", { ...coarse, coarseStep: -0.5 }, "out-of-range", "coarseStep"],
    ["a coarse step without end", { ...coarse, coarseStep: 1 / 0 }, "not-finite", "coarseStep"],
    ["a dropout that is text", { ...search, dropout: "yes" }, "wrong-type", "dropout"],
    ["a dropout that is null", { ...search, dropout: null }, "wrong-type", "dropout"],
    ["a dropout that is a level", { ...search, dropout: 0.9 }, "wrong-type", "dropout"],
    ["a dropout that is a list", { ...search, dropout: [0.9] }, "wrong-type", "dropout"],
    ["a misspelt dropout", { ...search, dropout: { too: 0.9 } }, "unknown-key", "dropout.too"],
    ["a dropout to nowhere", { ...search, dropout: {} }, "missing", "dropout.to"],
    ["a dropout to no number", { ...search, dropout: { to: Number.NaN } }, "not-finite", "dropout.to"],
    ["a dropout to a level on the way out", { ...search, dropout: { to: 1.1 } }, "out-of-range", "dropout.to"],
    ["a dropout to a level on the way down", { ...down, dropout: { to: 1.9 } }, "out-of-range", "dropout.to"],
    ["a dropout too far away", { ...search, dropout: { to: -1e6 } }, "too-many", "step"],
    ["half a confirmation", { ...search, confirm: 0.5 }, "out-of-range", "confirm"],
    ["a negative number of confirmations", { ...search, confirm: -1 }, "out-of-range", "confirm"],
    ["more confirmations than anybody makes", { ...search, confirm: 101 }, "out-of-range", "confirm"],
    ["a confirmation that is yes", { ...search, confirm: true }, "wrong-type", "confirm"],
  ])("with %s is refused at every door, before any trial", (_, wrong, code, path) => {
    expect(problemsOf(() => seekPickup(wrong as never))).toMatchObject([{ code, path }]);
    expect(problemsOf(() => nextTrial(wrong as never, []))).toMatchObject([{ code, path }]);
    expect(problemsOf(() => mostInjections(wrong as never))).toMatchObject([{ code, path }]);
  });

  test("with a dropout that is no way back is told all the ways there are", () => {
    const yes = { ...search, dropout: "yes" as never };
    expect(problemsOf(() => seekPickup(yes))).toMatchObject([{ expected: "true, false or an object with to" }]);
  });

  test("beyond its start by nothing is the way back to the start", () => {
    const back = mostInjections({ ...search, dropout: { to: 1 } });
    expect(back).toBe(mostInjections({ ...search, dropout: true }));
    expect(mostInjections({ ...search, dropout: { to: 0.9 } })).toBe(back + 1);
  });
});

const wrongAnswers = [
  ["nothing", undefined, "missing"],
  ["null", null, "wrong-type"],
  ["1", 1, "wrong-type"],
  ["text", "operated", "wrong-type"],
  ["a boxed boolean", Object(true), "wrong-type"],
] as const;

describe("an answer", () => {
  test.each(wrongAnswers)("that is %s is refused with its place", (_, wrong, code) => {
    const running = seekPickup(search);
    running.next();
    running.next(false);
    expect(problemsOf(() => running.next(wrong as never))).toMatchObject([{ code, path: "answers[1]" }]);
    expect(problemsOf(() => nextTrial(search, [false, wrong as never]))).toMatchObject([{ code, path: "answers[1]" }]);
  });

  test("is missing where the trials are only listed", () => {
    expect(problemsOf(() => Array.from(seekPickup(search) as Iterable<unknown>))).toMatchObject([
      { code: "missing", path: "answers[0]" },
    ]);
  });

  test.each([
    ["nothing", undefined, "missing"],
    ["null", null, "wrong-type"],
    ["one of them", true, "wrong-type"],
    ["text", "no, no, yes", "wrong-type"],
    ["an object", { 0: true }, "wrong-type"],
  ])("list that is %s is refused", (_, wrong, code) => {
    expect(problemsOf(() => nextTrial(search, wrong as never))).toMatchObject([{ code, path: "answers" }]);
  });

  test("list with a hole is refused", () => {
    expect(problemsOf(() => nextTrial(search, new Array(1)))).toMatchObject([{ code: "missing", path: "answers[0]" }]);
  });

  test("beyond the end of the search is refused with its place", () => {
    // 1 quiet, 1.1 operates, and both are confirmed.
    const all = [false, true, false, true];
    expect(nextTrial(search, all).status).toBe("done");
    expect(problemsOf(() => nextTrial(search, [...all, false]))).toMatchObject([
      { code: "too-many", path: "answers[4]" },
    ]);
  });
});
