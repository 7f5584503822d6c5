import fc from "fast-check";
import { band, type GradeOptions, grade } from "tripwright/grading";
import { describe, expect, test } from "vitest";
import { typedDecimals } from "../support/arbitraries.js";
import { problemsOf } from "../support/failure.js";
import { holds } from "../support/holds.js";

const accepted = band(100, { absolute: 5 });
const under = (reading: number | string, options: GradeOptions) => grade(reading, accepted, options).verdict;

describe("the guard", () => {
  test("is the expanded uncertainty where nothing else is said", () => {
    const options = { rule: "guarded", expandedUncertainty: 0.4 } as const;
    expect([under(104.6, options), under("104.6000001", options)]).toEqual(["within", "outside"]);
  });

  test("of ISO 14253-1 is 1.65 standard uncertainties, from the coverage factor that was stated", () => {
    // U = 0.4 at k = 2: u = 0.2, guard 0.33; at k = 4: u = 0.1, guard 0.165.
    const options = { rule: "guarded", expandedUncertainty: 0.4, guard: "iso-14253-1" } as const;
    expect([under(104.67, options), under("104.6700001", options)]).toEqual(["within", "outside"]);
    const wide = { ...options, coverageFactor: 4 };
    expect([under(104.835, wide), under("104.8350001", wide)]).toEqual(["within", "outside"]);
  });

  test("may be given as a width, without an uncertainty", () => {
    const options = { rule: "three-way", guard: { width: "0.25" } } as const;
    expect([104.75, 104.76, 105.25, 105.26].map((reading) => under(reading, options))).toEqual([
      "within",
      "undecided",
      "undecided",
      "outside",
    ]);
  });

  test("never accepts more where it is wider", () => {
    const widths = typedDecimals({ digits: 3, places: 2, min: 0 });
    const readings = typedDecimals({ digits: 5, places: 2 });
    const rules = fc.constantFrom("guarded" as const, "three-way" as const);
    holds(
      fc.property(readings, widths, widths, rules, (reading, a, b, rule) => {
        const [narrow, wide] = [a.text, b.text].sort((x, y) => Number(x) - Number(y)) as [string, string];
        const by = (width: string) => under(reading.text, { rule, guard: { width } });
        if (by(wide) === "within") expect(by(narrow)).toBe("within");
        if (rule === "three-way" && by(wide) === "outside") expect(by(narrow)).toBe("outside");
      }),
    );
  });

  test("refuses what it cannot be made of", () => {
    const ask = (options: object) => problemsOf(() => grade(1, accepted, { rule: "guarded", ...options }));
    expect(ask({})).toMatchObject([
      { code: "missing", path: "expandedUncertainty", expected: expect.stringContaining("guarded") },
    ]);
    expect(ask({ guard: "iso" })).toMatchObject([{ code: "unknown-name", path: "guard" }]);
    expect(ask({ guard: { width: -1 } })).toMatchObject([{ code: "out-of-range", path: "guard.width" }]);
    expect(ask({ guard: { wide: 1 } })).toMatchObject([{ code: "unknown-key", path: "guard.wide" }]);
    expect(ask({ guard: null })).toMatchObject([{ code: "unknown-name", path: "guard" }]);
    expect(ask({ coverageFactor: 0 })).toMatchObject([{ code: "out-of-range", path: "coverageFactor" }]);
    expect(ask({ expandedUncertainty: -0.1 })).toMatchObject([{ code: "out-of-range", path: "expandedUncertainty" }]);
    // A width of one's own needs no uncertainty, but what is given is read.
    expect(ask({ expandedUncertainty: "abc", guard: { width: 0.1 } })).toMatchObject([
      { code: "unreadable", path: "expandedUncertainty" },
    ]);
  });

  test("stands beside a rule that guards: under the simple one it would change nothing", () => {
    for (const guard of ["ilac-g8", { width: 0.05 }] as const)
      for (const rule of [{}, { rule: "simple" }] as const)
        expect(problemsOf(() => grade(1, accepted, { ...rule, guard, expandedUncertainty: 0.05 }))).toMatchObject([
          { code: "not-applicable", path: "guard", expected: "a rule that guards: guarded or three-way" },
        ]);
  });
});

describe("an angle", () => {
  test("is judged the short way round, and its error is that way too", () => {
    const about = band(-179, { absolute: 2, period: 360 });
    expect(grade(179.5, about)).toMatchObject({ verdict: "within", error: -1.5, used: 0.75 });
    expect(grade(178.9, about)).toMatchObject({ verdict: "outside", outsideBy: 0.1 });
    expect(grade(181, about)).toMatchObject({ verdict: "within", error: 0 });
  });

  test("does not mind whole turns", () => {
    const angles = typedDecimals({ digits: 5, places: 2 });
    holds(
      fc.property(angles, angles, fc.integer({ min: -3, max: 3 }), (nominal, reading, turns) => {
        const about = band(nominal.text, { absolute: 30, period: 360 });
        const turned = (Math.round(Number(reading.text) * 100) + 36_000 * turns) / 100;
        expect(grade(turned, about)).toEqual(grade(reading.text, about));
      }),
    );
  });
});
