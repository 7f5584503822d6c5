/** Means of quantities that were read together; resistance and reactance of the GUM stand in test/published/grading. */
import { Decimal } from "decimal.js";
import fc from "fast-check";
import { estimatesOf } from "tripwright/grading";
import { describe, expect, test } from "vitest";
import { problemsOf } from "../support/failure.js";
import { holds } from "../support/holds.js";

const D = Decimal.clone({ defaults: true, precision: 50 });
const reading = fc.integer({ min: -9999, max: 9999 });
const pairs = fc
  .array(fc.tuple(reading, reading), { minLength: 2, maxLength: 9 })
  .filter((list) => [0, 1].every((side) => new Set(list.map((pair) => pair[side])).size > 1));

describe("estimates of quantities that were read together", () => {
  test("are their means, standard deviations over √n, and correlations, in 50 digits (JCGM 100:2008 4.2, 5.2.3)", () => {
    holds(
      fc.property(pairs, (list) => {
        const n = list.length;
        const [x, y] = [0, 1].map((side) => list.map((pair) => new D(pair[side] as number).div(1000))) as [
          Decimal[],
          Decimal[],
        ];
        const [mx, my] = [D.sum(...x).div(n), D.sum(...y).div(n)];
        const product = (a: Decimal[], ma: Decimal, b: Decimal[], mb: Decimal) =>
          D.sum(...a.map((value, i) => value.minus(ma).times((b[i] as Decimal).minus(mb))));
        const [xx, yy, xy] = [product(x, mx, x, mx), product(y, my, y, my), product(x, mx, y, my)];
        const { inputs, correlations } = estimatesOf({ x: x.map(Number), y: y.map(Number) });
        const of = (mean: Decimal, squares: Decimal) => ({
          value: expect.closeTo(mean.toNumber(), 13),
          standard: expect.closeTo(
            squares
              .div(n * (n - 1))
              .sqrt()
              .toNumber(),
            12,
          ),
          degreesOfFreedom: n - 1,
        });
        expect(inputs).toEqual({ x: of(mx, xx), y: of(my, yy) });
        const coefficient = expect.closeTo(xy.div(xx.times(yy).sqrt()).toNumber(), 11);
        expect(correlations).toEqual([{ between: ["x", "y"], coefficient }]);
        expect(Math.abs(correlations[0]?.coefficient ?? Number.NaN)).toBeLessThanOrEqual(1);
      }),
    );
  });

  test("name each two of them once, in their order, but none that never moved", () => {
    const { correlations } = estimatesOf({ a: [1, 2, 4], still: [7, 7, 7], b: [3, 1, 1], c: [0, 5, 2] });
    expect(correlations.map(({ between }) => between)).toEqual([
      ["a", "b"],
      ["a", "c"],
      ["b", "c"],
    ]);
  });

  test("of nothing are nothing", () => {
    expect(estimatesOf({})).toEqual({ inputs: {}, correlations: [] });
  });

  test("correlate the same in any unit, also where products leave the range of a double", () => {
    const [x, y] = [
      [1, 2, 3, 4],
      [2, 1, 4, 3],
    ];
    for (const unit of [1e-200, 1, 1e200]) {
      const { correlations } = estimatesOf({ x: x!.map((n) => n * unit), y: y!.map((n) => n * unit) });
      // Σ = 3 of squares 5 and 5.
      expect(correlations).toEqual([{ between: ["x", "y"], coefficient: expect.closeTo(0.6, 12) }]);
    }
  });

  test.each([
    [undefined, "missing", "readings", undefined],
    [[[1, 2]], "wrong-type", "readings", undefined],
    [{ x: undefined }, "missing", "readings.x", "a list of 2 readings"],
    [{ x: null }, "wrong-type", "readings.x", "a list of 2 readings"],
    [{ x: [] }, "wrong-length", "readings.x", "a list of 2 readings"],
    [{ x: [1] }, "wrong-length", "readings.x", "a list of 2 readings"],
    [{ x: [1], y: [1] }, "wrong-length", "readings.x", "a list of 2 readings"],
    [{ x: "12" }, "wrong-type", "readings.x", "a list of 2 readings"],
    [{ x: [1, 2, 3], y: [1, 2] }, "wrong-length", "readings.y", "a list of 3 readings"],
    [{ x: [1, 2], y: [1, 2, 3] }, "wrong-length", "readings.y", "a list of 2 readings"],
    [{ x: [1, 2], y: "12" }, "wrong-type", "readings.y", "a list of 2 readings"],
    [{ x: [1, 2], y: [1, "2"] }, "wrong-type", "readings.y[1]", undefined],
    [{ x: [1, Number.POSITIVE_INFINITY] }, "not-finite", "readings.x[1]", undefined],
    [{ x: [-1.7e308, 1.7e308] }, "not-finite", "readings.x", undefined],
  ])("%j: %s at %s", (given, code, path, expected) => {
    const problem = { code, path, ...(expected !== undefined && { expected }) };
    expect(problemsOf(() => estimatesOf(given as never))).toMatchObject([problem]);
  });
});
