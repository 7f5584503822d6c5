/** timeBand where there is no band to give. */
import { type CurveSetting, type TimeRule, timeBand } from "tripwright/curve";
import { describe, expect, test } from "vitest";
import { problemsOf } from "../support/failure.js";

const VERY_INVERSE: CurveSetting = { curve: "iec-very-inverse", multiplier: 2 };

describe("no band, but an error with its place", () => {
  const declared = { form: "assigned-error", percent: 5 } as const;
  const under: CurveSetting = { curve: "undervoltage-inverse" };
  test.each([
    ["where the function does not operate", VERY_INVERSE, 1, { form: "constant", percent: 5 }, "multiple"],
    ["where it has not started", { ...VERY_INVERSE, startRatio: 3 }, 3, declared, "multiple"],
    ["below the range of the declared accuracy", VERY_INVERSE, 1.99, declared, "multiple"],
    ["below that of a class index", VERY_INVERSE, 1.99, { ...declared, form: "class-index" }, "multiple"],
    ["for a negative multiple", VERY_INVERSE, -1, declared, "multiple"],
    ["for an under function without factors of its own", under, 0.5, declared, "rule.factors"],
    ["for no factors", VERY_INVERSE, 2, { ...declared, factors: [] }, "rule.factors"],
    [
      "for a factor below 0",
      VERY_INVERSE,
      2,
      { ...declared, factors: [{ multiple: 1, factor: -1 }] },
      "rule.factors[0].factor",
    ],
    ["for factors that are text", VERY_INVERSE, 2, { ...declared, factors: "abc" }, "rule.factors"],
    ["for factors that only count", VERY_INVERSE, 2, { ...declared, factors: { length: 1 } }, "rule.factors"],
    ["for one number as factors", VERY_INVERSE, 2, { ...declared, factors: 5 }, "rule.factors"],
    ["for null as factors", VERY_INVERSE, 2, { ...declared, factors: null }, "rule.factors"],
    ["for a factor that is none", VERY_INVERSE, 2, { ...declared, factors: [null] }, "rule.factors[0]"],
    ["for a hole among the factors", VERY_INVERSE, 2, { ...declared, factors: new Array(1) }, "rule.factors[0]"],
    [
      "for a misspelt key of a factor",
      VERY_INVERSE,
      2,
      { ...declared, factors: [{ multiple: 2, factor: 1, facor: 3 }] },
      "rule.factors[0].facor",
    ],
    ["for no error at all", VERY_INVERSE, 2, { form: "constant" }, "rule.percent"],
    ["for a declared rule without percent", VERY_INVERSE, 2, { form: "class-index", absolute: 1 }, "rule.percent"],
    ["for a negative percentage", VERY_INVERSE, 2, { ...declared, percent: -1 }, "rule.percent"],
    ["for a negative absolute error", VERY_INVERSE, 2, { ...declared, absolute: -1 }, "rule.absolute"],
    ["for a negative pickup error", VERY_INVERSE, 2, { ...declared, pickupPercent: -1 }, "rule.pickupPercent"],
    ["for factors of a constant error", VERY_INVERSE, 2, { form: "constant", percent: 1, factors: [] }, "rule.factors"],
    ["for a misspelt key", VERY_INVERSE, 2, { ...declared, absolut: 1 }, "rule.absolut"],
    ["for a form that is none", VERY_INVERSE, 2, { form: "sum", percent: 1 }, "rule.form"],
    ["without a rule", VERY_INVERSE, 2, undefined, "rule"],
    ["for a bad setting", { ...VERY_INVERSE, multiplier: 0 }, 2, declared, "multiplier"],
  ] as const)("%s", (_what, setting, multiple, rule, path) => {
    expect(
      problemsOf(() => timeBand(setting, multiple, rule as unknown as TimeRule)).map((problem) => problem.path),
    ).toEqual([path]);
  });
});
