/** Directional elements whose characteristic angle is off: the limits move with it, and nothing else does. */
import { plan, settingsOf } from "tripwright/plan";
import { judge } from "tripwright/record";
import { rehearse, rehearsePlan } from "tripwright/rehearsal";
import { describe, expect, test } from "vitest";
import { problemsOf } from "../support/failure.js";
import { directional67, inverse51, read } from "../support/sheets.js";

const sheet = read([directional67]);
const planned = plan(sheet);
const outside = (angle: number) =>
  judge(sheet, planned, rehearsePlan(sheet, planned, { errors: { "67P": { angle } } }))
    .verdicts.filter((verdict) => verdict.status === "graded" && verdict.grade.verdict === "outside")
    .map(({ check }) => check);

describe("an error of angle", () => {
  test.each([-2, 2])("of %d° is within the 3° that the sheet declares", (angle) => {
    expect(outside(angle)).toEqual([]);
  });

  test.each([-4, 4])("of %d° shows at both limits, and nowhere else", (angle) => {
    expect(outside(angle).toSorted()).toEqual(["67P/edge@lagging", "67P/edge@leading"]);
  });

  test("is refused of an element without a characteristic angle", () => {
    const { elements } = settingsOf(read([inverse51]));
    const [check] = plan(read([inverse51])).checks;
    const refused = problemsOf(() => rehearse(elements, check?.timeline as never, { errors: { "51P": { angle: 4 } } }));
    expect(refused).toMatchObject([{ path: "errors.51P.angle", code: "not-applicable" }]);
  });

  test("is refused where it is no number", () => {
    const refused = problemsOf(() => rehearsePlan(sheet, planned, { errors: { "67P": { angle: Number.NaN } } }));
    expect(refused.map(({ path }) => path)).toEqual(["errors.67P.angle"]);
  });
});
