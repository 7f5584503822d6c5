/** The JSON of a record against its published schema. */
import { Ajv, type AnySchema } from "ajv";
import fc from "fast-check";
import { plan } from "tripwright/plan";
import { judge, type Reading } from "tripwright/record";
import { toJson } from "tripwright/report";
import { expect, test } from "vitest";
import { problemsOf } from "../support/failure.js";
import { holds } from "../support/holds.js";
import { sheets } from "../support/sheets.js";
import { recordSchema } from "../tools/record-schema.js";

const validate = new Ajv({ strict: false, allErrors: true }).compile(recordSchema() as AnySchema);

const judged = (sheet: Parameters<typeof plan>[0]) => {
  const planned = plan(sheet);
  const readings = planned.checks.map(
    ({ id, expect: expected }): Reading => ({
      check: id,
      stage: "as-found",
      repeat: 1,
      value: expected.form === "band" ? expected.band.nominal : "never",
    }),
  );
  return judge(sheet, planned, readings);
};

test("the record of every sheet comes back from JSON as it was, and is what the schema says", () => {
  holds(
    fc.property(sheets, (sheet) => {
      const record = judged(sheet);
      const back = JSON.parse(toJson(record));
      expect(back).toEqual(record);
      expect(validate(back), JSON.stringify(validate.errors?.slice(0, 3))).toBe(true);
    }),
    20,
  );
});

test("the schema refuses what is none", () => {
  const [sheet] = fc.sample(sheets, { numRuns: 1, seed: 1 });
  const record = judged(sheet!);
  for (const broken of [
    {},
    { ...record, format: "tripwright/record@2" },
    { ...record, rule: "strict" },
    { ...record, verdicts: [{ check: "x", stage: "as-found", status: "graded" }] },
    { ...record, plan: { ...record.plan, totalTime: "long" } },
  ])
    expect(validate(JSON.parse(JSON.stringify(broken)))).toBe(false);
});

test("what is no record is refused", () => {
  expect(problemsOf(() => toJson(undefined as never))).toMatchObject([{ path: "record" }]);
});
