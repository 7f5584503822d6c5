import { Decimal } from "decimal.js";
import fc from "fast-check";
import { dropoutRatio } from "tripwright/grading";
import { describe, expect, test } from "vitest";
import { typedDecimals } from "../support/arbitraries.js";
import { problemsOf } from "../support/failure.js";
import { holds } from "../support/holds.js";

const D = Decimal.clone({ defaults: true, precision: 60 });
const values = typedDecimals({ digits: 6, places: 4 });

describe("the dropout ratio", () => {
  test("and the difference are the doubles nearest to those of the decimals", () => {
    holds(
      fc.property(values, values, (pickup, dropout) => {
        fc.pre(pickup.units !== 0n);
        const [up, down] = [new D(pickup.text), new D(dropout.text)];
        const found = dropoutRatio({ pickup: Number(pickup.text), dropout: Number(dropout.text) });
        expect(found).toEqual({ ratio: down.div(up).toNumber() + 0, difference: down.minus(up).toNumber() + 0 });
      }),
    );
  });

  test("is below 1 of an over function and above 1 of an under function, with the difference of the frequencies", () => {
    expect(dropoutRatio({ pickup: 1.2, dropout: 1.14 })).toEqual({ ratio: 0.95, difference: -0.06 });
    expect(dropoutRatio({ pickup: 88, dropout: 92.4 })).toEqual({ ratio: 1.05, difference: 4.4 });
    expect(dropoutRatio({ pickup: 47.5, dropout: 47.6 }).difference).toBe(0.1);
    expect(dropoutRatio({ pickup: -4, dropout: 0 })).toEqual({ ratio: 0, difference: 4 });
  });

  test.each([
    [undefined, "missing", ""],
    [{ dropout: 1 }, "missing", "pickup"],
    [{ pickup: 1 }, "missing", "dropout"],
    [{ pickup: "4", dropout: 3.8 }, "wrong-type", "pickup"],
    [{ pickup: 4, dropout: null }, "wrong-type", "dropout"],
    [{ pickup: Number.NaN, dropout: 3.8 }, "not-finite", "pickup"],
    [{ pickup: 4, dropout: Number.POSITIVE_INFINITY }, "not-finite", "dropout"],
    [{ pickup: 4, dropout: 3.8, ratio: 1 }, "unknown-key", "ratio"],
    [{ pickup: 1e-300, dropout: 1e300 }, "out-of-range", "pickup"],
    [{ pickup: -1.7e308, dropout: 1.7e308 }, "out-of-range", "dropout"],
  ])("of %j: %s at %j", (given, code, path) => {
    expect(problemsOf(() => dropoutRatio(given as never))).toMatchObject([{ code, path }]);
  });

  test.each([0, -0])("of a pickup of %d is none, whatever the dropout", (pickup) => {
    const wanted = [{ code: "out-of-range", path: "pickup", expected: "a pickup other than 0" }];
    expect(problemsOf(() => dropoutRatio({ pickup, dropout: 1 }))).toMatchObject(wanted);
    expect(problemsOf(() => dropoutRatio({ pickup, dropout: 0 }))).toMatchObject(wanted);
  });
});
