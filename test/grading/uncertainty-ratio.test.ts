import { Decimal } from "decimal.js";
import fc from "fast-check";
import { uncertaintyRatio } from "tripwright/grading";
import { describe, expect, test } from "vitest";
import { ulps } from "../support/distance.js";
import { problemsOf } from "../support/failure.js";
import { holds } from "../support/holds.js";

const D = Decimal.clone({ defaults: true, precision: 40 });
const eighths = (min: number, max: number) => fc.integer({ min, max }).map((n) => n / 8);
/** In eighths, so that differences of limits are exact. */
const bands = fc.record({ nominal: eighths(-900, 900), below: eighths(0, 99), above: eighths(0, 99) });
const uncertainties = fc.integer({ min: 1, max: 9999 }).map((n) => n / 1000);

describe("the uncertainty ratio", () => {
  test("is half the width of the band over the expanded uncertainty, wherever in it the nominal value lies", () => {
    holds(
      fc.property(bands, uncertainties, ({ nominal, below, above }, expandedUncertainty) => {
        const ratio = uncertaintyRatio(
          { nominal, low: nominal - below, high: nominal + above },
          { expandedUncertainty },
        );
        const exact = new D(below).plus(above).div(2).div(expandedUncertainty);
        expect(ulps(ratio, exact.toNumber())).toBeLessThanOrEqual(4);
      }),
    );
  });

  test("with one limit is its distance from nominal over the expanded uncertainty", () => {
    holds(
      fc.property(bands, uncertainties, ({ nominal, below, above }, expandedUncertainty) => {
        const known = { expandedUncertainty };
        const [down, up] = [new D(below), new D(above)].map((room) => room.div(expandedUncertainty).toNumber());
        expect(ulps(uncertaintyRatio({ nominal, low: nominal - below }, known), down as number)).toBeLessThanOrEqual(4);
        expect(ulps(uncertaintyRatio({ nominal, high: nominal + above }, known), up as number)).toBeLessThanOrEqual(4);
      }),
    );
  });

  test("is the nearest double to the exact quotient: four to one of what was typed is four", () => {
    expect(uncertaintyRatio({ nominal: 0.1, low: 0.098, high: 0.102 }, { expandedUncertainty: 0.0005 })).toBe(4);
    const typed = fc.integer({ min: 1, max: 99_999 });
    holds(
      fc.property(typed, typed, fc.integer({ min: 1, max: 40 }), (nominal, uncertainty, ratio) => {
        const at = (units: number) => units / 1e5;
        const [low, high] = [nominal - ratio * uncertainty, nominal + ratio * uncertainty].map(at) as [number, number];
        const known = { expandedUncertainty: at(uncertainty) };
        expect(uncertaintyRatio({ nominal: at(nominal), low, high }, known)).toBe(ratio);
        expect(uncertaintyRatio({ nominal: at(nominal), high }, known)).toBe(ratio);
      }),
    );
  });

  test.each([
    [{ nominal: 4 }, { expandedUncertainty: 1 }, "missing", "high"],
    [{ nominal: 4, low: 5, high: 3 }, { expandedUncertainty: 1 }, "out-of-range", "high"],
    [undefined, { expandedUncertainty: 1 }, "missing", ""],
    [{ nominal: 4, high: 5 }, { expandedUncertainty: 0 }, "out-of-range", "expandedUncertainty"],
    [{ nominal: 4, high: 5 }, { expandedUncertainty: 1 / 0 }, "not-finite", "expandedUncertainty"],
    [{ nominal: 4, high: 5 }, {}, "missing", "expandedUncertainty"],
    [{ nominal: 4, high: 5 }, { expandedUncertainty: 1, k: 2 }, "unknown-key", "k"],
    [{ nominal: 4, high: 5 }, undefined, "missing", ""],
  ])("of %j at %j is refused", (band, known, code, path) => {
    expect(problemsOf(() => uncertaintyRatio(band as never, known as never))).toMatchObject([{ code, path }]);
  });
});
