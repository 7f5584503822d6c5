import fc from "fast-check";
import { stepBy } from "tripwright/timeline";
import { describe, expect, test } from "vitest";
import { textOf, typedDecimals, unitsAt } from "../support/arbitraries.js";
import { problemsOf } from "../support/failure.js";
import { holds } from "../support/holds.js";

const PLACES = 4;
const value = typedDecimals({ digits: 6, places: 4 });
const step = typedDecimals({ digits: 4, places: 4, min: 1 });
const counts = fc.integer({ min: -1000, max: 1000 });
const number = (units: bigint): number => Number(textOf(units, PLACES)) + 0;

describe("stepBy", () => {
  test("is value + count · step in whole numbers of the last place, and one step without a count", () => {
    holds(
      fc.property(value, step, counts, (from, size, count) => {
        const [start, stride] = [unitsAt(PLACES, from), unitsAt(PLACES, size)];
        expect(stepBy(from.text, { step: size.text, count })).toEqual({
          value: number(start + stride * BigInt(count)),
          turns: 0,
        });
        expect(stepBy(Number(from.text), { step: Number(size.text) }).value).toBe(number(start + stride));
      }),
    );
  });

  test("as many steps back lead to where it was, to the last digit", () => {
    holds(
      fc.property(value, step, counts, (from, size, count) => {
        const there = stepBy(from.text, { step: size.text, count });
        expect(stepBy(there.value, { step: size.text, count: -count }).value).toBe(Number(from.text) + 0);
      }),
    );
  });

  test("within limits it goes where it would go, beyond them it stands on the limit and says which", () => {
    const room = typedDecimals({ digits: 5, places: 4, min: 0 });
    holds(
      fc.property(value, step, counts, room, room, (from, size, count, below, above) => {
        const start = unitsAt(PLACES, from);
        const [low, high] = [start - unitsAt(PLACES, below), start + unitsAt(PLACES, above)];
        const free = start + unitsAt(PLACES, size) * BigInt(count);
        const [minimum, maximum] = [textOf(low, PLACES), textOf(high, PLACES)];
        const stepped = stepBy(from.text, { step: size.text, count, minimum, maximum });
        if (free < low) expect(stepped).toEqual({ value: number(low), turns: 0, limited: "minimum" });
        else if (free > high) expect(stepped).toEqual({ value: number(high), turns: 0, limited: "maximum" });
        else expect(stepped).toEqual({ value: number(free), turns: 0 });
      }),
    );
  });

  test("on the limit itself nothing was stopped, also where sixtieths lead there", () => {
    expect(stepBy(4.9, { step: 0.1, maximum: 5 })).toEqual({ value: 5, turns: 0 });
    expect(stepBy(0.1, { step: 0.1, count: -1, minimum: 0 })).toEqual({ value: 0, turns: 0 });
    // 60 cycles of 60 Hz are one second; a sixtieth has no last digit.
    expect(stepBy(0, { step: 1 / 60, count: 60, maximum: 1 })).toEqual({ value: 1, turns: 0 });
    expect(stepBy(1, { step: 1 / 60, count: -60, minimum: 0 })).toEqual({ value: 0, turns: 0 });
    expect(stepBy(1 / 60, { step: 1, maximum: 1 / 60, minimum: 1 / 60 })).toMatchObject({ limited: "maximum" });
  });

  test("an angle goes round and its turns are counted: value + 360 · turns is what it would be", () => {
    const angle = typedDecimals({ digits: 5, places: 2, min: 0 }).filter((one) => unitsAt(PLACES, one) < 3_600_000n);
    holds(
      fc.property(angle, step, counts, (from, size, count) => {
        const free = unitsAt(PLACES, from) + unitsAt(PLACES, size) * BigInt(count);
        const rest = ((free % 3_600_000n) + 3_600_000n) % 3_600_000n;
        const stepped = stepBy(from.text, { step: size.text, count, wrap: 360 });
        expect(stepped).toEqual({ value: number(rest), turns: Number((free - rest) / 3_600_000n) });
        const back = stepBy(stepped.value, { step: size.text, count: -count, wrap: 360 });
        expect(back).toEqual({ value: Number(from.text), turns: 0 - stepped.turns });
      }),
    );
  });

  test("angles at the seam", () => {
    expect(stepBy(0, { step: 1, count: -1, wrap: 360 })).toEqual({ value: 359, turns: -1 });
    expect(stepBy(359, { step: 1, wrap: 360 })).toEqual({ value: 0, turns: 1 });
    // Sevenths of a turn have no last digit, but seven of them are a turn.
    expect(stepBy(0, { step: 360 / 7, count: 7, wrap: 360 })).toEqual({ value: 0, turns: 1 });
    expect(stepBy(0, { step: 360 / 7, count: -7, wrap: 360 })).toEqual({ value: 0, turns: -1 });
    // Fourteen, seventeen or so many of them sum up to a turn and a rounding.
    for (const n of [14, 17, 23, 113])
      for (const turns of [1, -1])
        expect(stepBy(0, { step: 360 / n, count: turns * n, wrap: 360 })).toEqual({ value: 0, turns });
    // No double lies between 360 − 1e-20 and 360, and 360 is 0.
    expect(stepBy("-1e-20", { step: 360, count: 0, wrap: 360 })).toEqual({ value: 0, turns: 0 });
    // From an angle that has gone round already only the turns on the way count.
    expect(stepBy(725, { step: 5, wrap: 360 })).toEqual({ value: 10, turns: 0 });
  });

  test.each([
    ["a step of 0", { step: 0 }, "out-of-range", "step"],
    ["a negative step", { step: -1 }, "out-of-range", "step"],
    ["no step", {}, "missing", "step"],
    ["half a step", { step: 1, count: 0.5 }, "out-of-range", "count"],
    ["a count that is text", { step: 1, count: "2" }, "wrong-type", "count"],
    ["limits out of order", { step: 1, minimum: 12, maximum: 8 }, "out-of-range", "maximum"],
    ["a minimum above the value", { step: 1, minimum: 20 }, "out-of-range", "value"],
    ["a maximum below the value", { step: 1, maximum: 9 }, "out-of-range", "value"],
    ["an infinite maximum", { step: 1, maximum: Number.POSITIVE_INFINITY }, "not-finite", "maximum"],
    ["another turn", { step: 1, wrap: 180 }, "out-of-range", "wrap"],
    ["a limit on a circle", { step: 1, wrap: 360, maximum: 20 }, "conflict", "wrap"],
    ["a lower limit on a circle", { step: 1, wrap: 360, minimum: 0 }, "conflict", "wrap"],
    ["a minimum that is text", { step: 1, minimum: "low" }, "unreadable", "minimum"],
    ["a misspelt key", { step: 1, turns: 2 }, "unknown-key", "turns"],
  ])("%s is refused by name", (_what, given, code, path) => {
    expect(problemsOf(() => stepBy(10, given as never))).toMatchObject([{ code, path }]);
  });

  test("a value that no double holds is refused, not made endless", () => {
    const problems = problemsOf(() => stepBy(1e308, { step: 1e308 }));
    expect(problems).toMatchObject([{ code: "out-of-range", path: "value" }]);
  });

  test.each([null, undefined, Number.NaN, "ten", {}, []])("a value %j is refused", (given) => {
    expect(problemsOf(() => stepBy(given as never, { step: 1 }))).toMatchObject([{ path: "value" }]);
    expect(problemsOf(() => stepBy(1, given as never))).toHaveLength(1);
  });
});
