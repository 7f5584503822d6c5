/** What changed between two stages, and whether the readings can tell. */
import { Decimal } from "decimal.js";
import fc from "fast-check";
import { changeBetween } from "tripwright/grading";
import { describe, expect, test } from "vitest";
import { typedDecimals } from "../support/arbitraries.js";
import { problemsOf } from "../support/failure.js";
import { holds } from "../support/holds.js";

const D = Decimal.clone({ defaults: true, precision: 60 });
const values = typedDecimals({ digits: 5, places: 3 });
const widths = typedDecimals({ digits: 4, places: 3, min: 0 });

describe("what changed between two stages", () => {
  test("is the difference of the decimals, and significant where its square is beyond that of its uncertainty", () => {
    const correlations = fc.constantFrom(-1, -0.3, 0, 0.3, 1);
    const factors = fc.constantFrom("1", "1.65", "2");
    holds(
      fc.property(values, values, widths, widths, correlations, factors, (was, is, u, v, correlation, factor) => {
        const found = changeBetween({
          before: { value: was.text, standard: u.text },
          after: { value: is.text, standard: v.text },
          coverageFactor: factor,
          correlation,
        });
        const change = new D(is.text).minus(was.text);
        const shared = new D(u.text).times(v.text).times(correlation).times(2);
        const square = new D(u.text).pow(2).plus(new D(v.text).pow(2)).minus(shared).times(new D(factor).pow(2));
        expect(found.change).toBe(change.toNumber() + 0);
        expect(found.expanded).toBe(square.sqrt().toNumber());
        expect(found.significant).toBe(change.pow(2).gt(square));
      }),
    );
  });

  test("on its own uncertainty is not significant yet: 2 · √(0.03² + 0.04²) = 0.1", () => {
    const between = (value: string) =>
      changeBetween({ before: { value: 4.2, standard: 0.03 }, after: { value, standard: 0.04 } });
    expect(between("4.3")).toEqual({ change: 0.1, expanded: 0.1, significant: false });
    expect(between("4.1")).toEqual({ change: -0.1, expanded: 0.1, significant: false });
    expect(between("4.3000000001").significant).toBe(true);
    expect(between("4.0999999999").significant).toBe(true);
  });

  test("of readings of one instrument, whose error they share, is known better", () => {
    const both = { before: { value: 4.2, standard: 0.05 }, after: { value: 4.25, standard: 0.05 } };
    expect(changeBetween(both)).toMatchObject({ significant: false });
    // 2 · √(0.05² + 0.05² − 2 · 0.92 · 0.05²) = 0.04.
    expect(changeBetween({ ...both, correlation: 0.92 })).toEqual({ change: 0.05, expanded: 0.04, significant: true });
  });

  test("without an uncertainty of both is a change alone", () => {
    expect(changeBetween({ before: { value: 1 }, after: { value: 2 } })).toEqual({ change: 1 });
    expect(changeBetween({ before: { value: 1, standard: 1 }, after: { value: 2 } })).toEqual({ change: 1 });
    expect(changeBetween({ before: { value: 1 }, after: { value: 1, standard: 1 } })).toEqual({ change: 0 });
  });

  test("runs backwards from after to before", () => {
    holds(
      fc.property(values, values, widths, widths, (was, is, u, v) => {
        const [one, other] = [
          { value: was.text, standard: u.text },
          { value: is.text, standard: v.text },
        ];
        const [there, back] = [
          changeBetween({ before: one, after: other }),
          changeBetween({ before: other, after: one }),
        ];
        expect(back).toEqual({ ...there, change: -there.change + 0 });
      }),
    );
  });

  test("of an angle is the short way round, of half a turn the way that leads", () => {
    const band = { nominal: 180, low: 175, high: 185, period: 360 } as const;
    const turned = (before: number, after: number) =>
      changeBetween({ before: { value: before }, after: { value: after }, band });
    expect(turned(179, -178)).toMatchObject({ change: 3, before: { error: -1 }, after: { error: 2 } });
    expect(turned(-178, 179)).toMatchObject({ change: -3 });
    expect(turned(90, -90)).toMatchObject({ change: 180 });
    expect(turned(-90, 90)).toMatchObject({ change: 180 });
    expect(turned(10, 730)).toMatchObject({ change: 0 });
  });

  test("each stage is graded as it would be alone, exactly at the limit", () => {
    const stages = { before: { value: 1.03 }, after: { value: 1.02 }, band: { nominal: 1, low: 0.98, high: 1.02 } };
    const { before, after } = changeBetween(stages);
    expect([before?.verdict, after?.verdict]).toEqual(["outside", "within"]);
    expect([before?.outsideBy, after?.used]).toEqual([0.01, 1]);
  });

  test("a rule takes the expanded uncertainty of each stage as its guard", () => {
    const band = { nominal: 1, low: 0.9, high: 1.1 };
    const stages = { before: { value: 1.08, standard: 0.01 }, after: { value: 1.08, standard: 0.02 }, band };
    const verdicts = (more: object) => {
      const { before, after } = changeBetween({ ...stages, ...more });
      return [before?.verdict, after?.verdict];
    };
    expect(verdicts({})).toEqual(["within", "within"]);
    expect(verdicts({ rule: "guarded" })).toEqual(["within", "outside"]);
    expect(verdicts({ rule: "three-way" })).toEqual(["within", "undecided"]);
    expect(verdicts({ rule: "guarded", coverageFactor: 1 })).toEqual(["within", "within"]);
    expect(verdicts({ rule: "guarded", coverageFactor: 3 })).toEqual(["outside", "outside"]);
  });

  const known = { value: 1, standard: 1 };
  test.each([
    [undefined, ""],
    [null, ""],
    [{ after: known }, "before"],
    [{ before: known, after: null }, "after"],
    [{ before: 1, after: known }, "before"],
    [{ before: { value: Number.NaN }, after: known }, "before.value"],
    [{ before: {}, after: known }, "before.value"],
    [{ before: known, after: { value: "1,5" } }, "after.value"],
    [{ before: { value: 1, standard: -1 }, after: known }, "before.standard"],
    [{ before: known, after: { value: 1, standard: Number.POSITIVE_INFINITY } }, "after.standard"],
    [{ before: known, after: known, coverageFactor: 0 }, "coverageFactor"],
    [{ before: known, after: known, correlation: 1.1 }, "correlation"],
    [{ before: known, after: known, correlation: "1" }, "correlation"],
    [{ before: known, after: known, band: { nominal: 1, low: 2, high: 0 } }, "band.high"],
    [{ before: known, after: known, band: null }, "band"],
    [{ before: known, after: known, band: { nominal: 1 }, rule: "strict" }, "before.rule"],
    [{ before: known, after: { value: 1 }, band: { nominal: 1 }, rule: "guarded" }, "after.expandedUncertainty"],
    [{ before: known, after: known, asFound: known }, "asFound"],
    [{ before: known, after: known, rule: "guarded" }, "rule"],
    [{ before: { value: -1.7e308 }, after: { value: 1.7e308 } }, "after.value"],
  ])("%j is refused at %s", (given, path) => {
    expect(problemsOf(() => changeBetween(given as never))).toMatchObject([{ path }]);
  });
});
