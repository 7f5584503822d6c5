import { Decimal } from "decimal.js";
import fc from "fast-check";
import { levelGrid, levels } from "tripwright/timeline";
import { describe, expect, test } from "vitest";
import { textOf, typedDecimals, unitsAt } from "../support/arbitraries.js";
import { problemsOf } from "../support/failure.js";
import { holds } from "../support/holds.js";

const PLACES = 7;

/** Ends and step in units of 10^−7: to = from ± (whole · step + tenths/10 · step). */
const grid = fc
  .record({
    start: typedDecimals({ digits: 6, places: 6 }),
    stride: typedDecimals({ digits: 4, places: 6, min: 1 }),
    whole: fc.integer({ min: 0, max: 100 }),
    tenths: fc.integer({ min: 0, max: 9 }),
    sign: fc.constantFrom(1n, -1n),
  })
  .map(({ start, stride, whole, tenths, sign }) => {
    const [from, step] = [unitsAt(PLACES, start), unitsAt(PLACES, stride)];
    return {
      from,
      step: sign * step,
      whole,
      tenths,
      to: from + sign * (BigInt(whole) * step + (BigInt(tenths) * step) / 10n),
    };
  });
const evenGrid = grid.filter(({ tenths }) => tenths === 0);

const text = (units: bigint): string => textOf(units, PLACES);
const asTyped = ({ from, to, step }: { from: bigint; to: bigint; step: bigint }) => ({
  from: text(from),
  to: text(to),
  step: text(step < 0n ? -step : step),
});

describe("levels", () => {
  test("level i is the double nearest to from ± i · step, and an uneven range ends on `to`", () => {
    holds(
      fc.property(grid, (range) => {
        const expected = Array.from({ length: range.whole + 1 }, (_, i) =>
          Number(text(range.from + BigInt(i) * range.step)),
        );
        if (range.tenths > 0) expected.push(Number(text(range.to)));
        expect(levels(asTyped(range))).toEqual(expected);
      }),
    );
  });

  test("numbers, text and decimal objects of the same decimal make the same levels", () => {
    holds(
      fc.property(grid, (range) => {
        const { from, to, step } = asTyped(range);
        const typed = levels({ from, to, step });
        expect(levels({ from: Number(from), to: Number(to), step: Number(step) })).toEqual(typed);
        expect(levels({ from: new Decimal(from), to: new Decimal(to), step: new Decimal(step) })).toEqual(typed);
      }),
    );
  });

  test("levels move strictly from one end to the other", () => {
    holds(
      fc.property(grid, (range) => {
        const walked = levels(asTyped(range));
        expect([walked[0], walked.at(-1)]).toEqual([Number(text(range.from)), Number(text(range.to))]);
        const up = range.step > 0n ? 1 : -1;
        expect(walked.slice(1).every((level, i) => (level - walked[i]!) * up > 0)).toBe(true);
      }),
    );
  });

  test("reversing an even range reverses its levels", () => {
    holds(
      fc.property(evenGrid, (range) => {
        const { from, to, step } = asTyped(range);
        expect(levels({ from: to, to: from, step })).toEqual(levels({ from, to, step }).reverse());
      }),
    );
  });

  test("equal ends make one level, whatever the step", () => {
    expect(levels({ from: 4, to: "4.0", step: 0.1 })).toEqual([4]);
    expect(levels({ from: -0, to: 0, step: 7 })).toEqual([0]);
  });

  test("a grid in cycles of 60 Hz, which no decimal holds, keeps its levels and ends once", () => {
    const cycles = fc.integer({ min: 1, max: 30 });
    holds(
      fc.property(fc.integer({ min: 0, max: 120 }), cycles, cycles, (start, step, count) => {
        const expected = Array.from({ length: count + 1 }, (_, i) => (start + i * step) / 60);
        expect(levels({ from: start / 60, to: (start + count * step) / 60, step: step / 60 })).toEqual(expected);
      }),
    );
  });

  test("a hundred thousand levels are made, one more is refused with the count", () => {
    expect(levels({ from: 0, to: 99_999, step: 1 })).toHaveLength(100_000);
    expect(problemsOf(() => levels({ from: 0, to: 100_000, step: 1 }))).toMatchObject([
      { code: "too-many", path: "step", received: expect.stringContaining("100001") },
    ]);
    // 2 Hz in steps of a nanohertz.
    expect(() => levels({ from: 50, to: 52, step: 1e-9 })).toThrow("2000000001");
  });

  test("the end of an uneven range counts as a level too", () => {
    const uneven = { from: 0, to: 99_999.5, step: 1 };
    expect(problemsOf(() => levels(uneven))).toMatchObject([{ received: expect.stringContaining("100001") }]);
  });

  test.each([
    ["a step of 0", { from: 0, to: 1, step: 0 }, "out-of-range", "step"],
    ["a negative step", { from: 1, to: 0, step: -0.1 }, "out-of-range", "step"],
    ["a step that is not a number", { from: 0, to: 1, step: Number.NaN }, "not-finite", "step"],
    ["an infinite end", { from: 0, to: Number.POSITIVE_INFINITY, step: 1 }, "not-finite", "to"],
    ["a decimal comma", { from: "0,5", to: 1, step: 0.1 }, "decimal-comma", "from"],
    ["text that is no number", { from: "4 A", to: 5, step: 0.1 }, "unreadable", "from"],
    ["a missing end", { from: 0, step: 1 }, "missing", "to"],
    ["a misspelt key", { from: 0, to: 1, step: 1, stepp: 1 }, "unknown-key", "stepp"],
  ])("%s is refused by name", (_, range, code, path) => {
    expect(problemsOf(() => levels(range as never))).toMatchObject([{ code, path }]);
  });
});

test("a step that doubles cannot tell apart is refused as out of range", () => {
  // Doubles near 1 lie 2.2e-16 apart.
  expect(problemsOf(() => levels({ from: 1, to: "1.000000000000001", step: "1e-17" }))).toMatchObject([
    { code: "out-of-range", path: "step", expected: "a step that doubles near 1 can tell apart" },
  ]);
});

describe("levelGrid", () => {
  test("says how many levels there are, whether whole steps lead there, and how long the last one is", () => {
    holds(
      fc.property(grid, (range) => {
        const { count, even, lastStep } = levelGrid(asTyped(range));
        expect(count).toBe(levels(asTyped(range)).length);
        expect(even).toBe(range.tenths === 0);
        const size = range.step < 0n ? -range.step : range.step;
        const last = range.tenths > 0 ? (BigInt(range.tenths) * size) / 10n : size;
        expect(lastStep).toBe(range.from === range.to ? 0 : Number(text(last)));
      }),
    );
  });

  test("equal ends are one level, evenly, without a step", () => {
    expect(levelGrid({ from: 4, to: "4.0", step: 0.3 })).toEqual({ count: 1, even: true, lastStep: 0 });
  });

  test("a range within one step has a shorter one", () => {
    expect(levelGrid({ from: 4, to: 3.75, step: 1 })).toEqual({ count: 2, even: false, lastStep: 0.25 });
  });

  test("whole cycles of 60 Hz are whole", () => {
    expect(levelGrid({ from: 0, to: 11 / 60, step: 1 / 60 })).toEqual({ count: 12, even: true, lastStep: 1 / 60 });
  });

  test("refuses what levels refuses", () => {
    expect(problemsOf(() => levelGrid({ from: 50, to: 52, step: 1e-9 }))).toMatchObject([
      { code: "too-many", path: "step", received: expect.stringContaining("2000000001") },
    ]);
    expect(problemsOf(() => levelGrid({ from: 1, to: 2, step: 0 }))).toMatchObject([{ path: "step" }]);
    expect(problemsOf(() => levelGrid({ from: 1, to: 2, step: 1, dwell: 1 } as never))).toMatchObject([
      { code: "unknown-key", path: "dwell" },
    ]);
    expect(problemsOf(() => levelGrid(null as never))).toMatchObject([{ code: "wrong-type" }]);
  });
});
