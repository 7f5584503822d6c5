import fc from "fast-check";
import { levels, linearRamp, type Staircase, thereAndBack } from "tripwright/timeline";
import { describe, expect, test } from "vitest";
import { textOf, typedDecimals, unitsAt } from "../support/arbitraries.js";
import { problemsOf } from "../support/failure.js";
import { holds } from "../support/holds.js";

const PLACES = 4;
const text = (units: bigint): string => textOf(units, PLACES);
const number = (units: bigint): number => Number(text(units)) + 0;
const walked = (range: Parameters<typeof thereAndBack>[0]): number[] => thereAndBack(range).map((piece) => piece.to);

/** In units of 10^−4: up or down from `from` by whole steps and a part of one, and back by any distance, at least one unit. */
const ways = fc
  .record({
    start: typedDecimals({ digits: 4, places: 2 }),
    stride: typedDecimals({ digits: 3, places: 2, min: 1 }),
    there: fc.integer({ min: 0, max: 4000 }),
    back: fc.integer({ min: 1, max: 8000 }),
    sign: fc.constantFrom(1n, -1n),
  })
  .map(({ start, stride, there, back, sign }) => {
    const step = unitsAt(PLACES, stride);
    const [from, span] = [unitsAt(PLACES, start), (step * BigInt(there)) / 100n];
    const wayBack = (step * BigInt(back)) / 100n;
    return { from, step, sign, to: from + sign * span, end: from + sign * (span - (wayBack || 1n)) };
  });

const asTyped = ({ from, to, step }: { from: bigint; to: bigint; step: bigint }): Staircase => ({
  from: text(from),
  to: text(to),
  step: text(step),
  dwell: 0.1,
});

describe("thereAndBack in steps", () => {
  test("the levels there, then the same levels in reverse, the far end once", () => {
    holds(
      fc.property(ways, ({ from, to, step }) => {
        const there = levels({ from: text(from), to: text(to), step: text(step) });
        const both = walked(asTyped({ from, to, step }));
        expect(both).toEqual([...there, ...there.toReversed().slice(1)]);
        expect(both).toEqual(both.toReversed());
      }),
    );
  });

  test("the way back passes every level of the grid between `to` and `backTo`, also beyond `from`, and no other", () => {
    holds(
      fc.property(ways, ({ from, to, step, sign, end }) => {
        const there = levels({ from: text(from), to: text(to), step: text(step) });
        // Every level of the grid from −100 to 100 steps that lies strictly between the two ends.
        const between = Array.from({ length: 201 }, (_, i) => from + sign * step * BigInt(100 - i)).filter(
          (level) => sign * (to - level) > 0n && sign * (level - end) > 0n,
        );
        expect(walked({ ...asTyped({ from, to, step }), backTo: text(end) })).toEqual([
          ...there,
          ...between.map(number),
          number(end),
        ]);
      }),
    );
  });

  test("every level is held for the dwell, by a rate for step/rate", () => {
    holds(
      fc.property(ways, typedDecimals({ digits: 3, places: 2, min: 1 }), ({ from, to, step, end }, rate) => {
        const { dwell: _, ...range } = asTyped({ from, to, step });
        const held = thereAndBack({ ...range, rate: rate.text, backTo: text(end) });
        // Both to 10^−4, so that the quotient of whole numbers is rounded once.
        const expected = Number(step) / Number(unitsAt(PLACES, rate));
        expect(new Set(held.map(({ duration }) => duration))).toEqual(new Set([expected]));
        expect(held.every((piece) => piece.from === piece.to)).toBe(true);
      }),
    );
  });

  test("a grid in sixtieths is the same there and back", () => {
    const range = { from: 0, to: 1, step: 1 / 60, dwell: 0.1, backTo: -11 / 60 };
    expect(walked(range).slice(61)).toEqual(Array.from({ length: 71 }, (_, i) => (59 - i) / 60));
  });

  test("equal ends are one level, from which a `backTo` leads away to either side", () => {
    const single = { from: 4, to: 4, step: 0.5, dwell: 1 };
    expect(walked(single)).toEqual([4]);
    expect(walked({ ...single, backTo: 5.25 })).toEqual([4, 4.5, 5, 5.25]);
    expect(walked({ ...single, backTo: 3 })).toEqual([4, 3.5, 3]);
  });

  test("too many levels on the way back are refused with their count", () => {
    expect(problemsOf(() => thereAndBack({ from: 1, to: 2, step: 1, dwell: 1, backTo: -1e9 }))).toMatchObject([
      { code: "too-many", path: "step", received: expect.stringContaining("1000000002") },
    ]);
  });
});

describe("thereAndBack as ramps", () => {
  test("is one ramp to the far end and one to the end of the way back", () => {
    holds(
      fc.property(ways, typedDecimals({ digits: 3, places: 2, min: 1 }), ({ from, to, end }, rate) => {
        const range = { from: text(from), to: text(to), rate: rate.text };
        const pieces = thereAndBack({ ...range, backTo: text(end) });
        expect(pieces).toEqual([
          ...linearRamp(range),
          ...linearRamp({ from: text(to), to: text(end), rate: rate.text }),
        ]);
        const [first, last] = [pieces[0], pieces.at(-1)];
        expect([first?.from, last?.to]).toEqual([number(from), number(end)]);
      }),
    );
  });

  test("is as long back as there without a `backTo`", () => {
    expect(thereAndBack({ from: 50, to: 47, rate: 0.5 })).toEqual([
      { duration: 6, from: 50, to: 47 },
      { duration: 6, from: 47, to: 50 },
    ]);
    expect(thereAndBack({ from: 50, to: 50, rate: 0.5 })).toEqual([]);
  });
});

describe("thereAndBack refuses by name", () => {
  const steps = { from: 1, to: 2, step: 0.1, dwell: 1 };
  test.each([
    ["a way back that goes on", { ...steps, backTo: 3 }, "out-of-range", "backTo"],
    ["a way back that ends where it begins", { ...steps, backTo: 2 }, "out-of-range", "backTo"],
    ["a way back that is no number", { ...steps, backTo: Number.NaN }, "not-finite", "backTo"],
    ["a dwell without a step", { from: 1, to: 2, dwell: 1 }, "missing", "step"],
    ["a step without a dwell or a rate", { from: 1, to: 2, step: 1 }, "missing", "dwell"],
    ["neither step nor rate", { from: 1, to: 2 }, "missing", "rate"],
    ["a rate of 0", { from: 1, to: 1, rate: 0 }, "out-of-range", "rate"],
    ["a misspelt key", { ...steps, backto: 1 }, "unknown-key", "backto"],
    ["no end", { from: 1, step: 1, dwell: 1 }, "missing", "to"],
  ])("%s", (_what, range, code, path) => {
    expect(problemsOf(() => thereAndBack(range as never))).toMatchObject([{ code, path }]);
  });

  test.each([null, undefined, 4, "4", []])("%j in place of a range", (range) => {
    expect(problemsOf(() => thereAndBack(range as never))).toHaveLength(1);
  });
});
