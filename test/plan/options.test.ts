/** Relays behind sheets with every option: one that is right passes every check, one that is beyond its tolerance does not. */
import fc from "fast-check";
import { startLevel } from "tripwright/element";
import { plan, type Sheet, settingsOf } from "tripwright/plan";
import { judge } from "tripwright/record";
import { type ElementError, rehearsePlan } from "tripwright/rehearsal";
import { expect, test } from "vitest";
import { holds } from "../support/holds.js";
import { bandOf, optionSheets } from "../support/sheets.js";

/** What a relay with an error fails. */
function failedBy(sheet: Sheet, error: ElementError = {}): string[] {
  const planned = plan(sheet);
  const { verdicts } = judge(sheet, planned, rehearsePlan(sheet, planned, { errors: { E: error } }));
  return verdicts.flatMap((one) => {
    if (one.status === "impossible") return [];
    return one.status === "graded" && one.grade.verdict === "within" ? [] : [one.check];
  });
}

/** No contact closes before the measuring delay, which such a sheet is told as a finding. */
const isFindingFree = (sheet: Sheet): boolean => plan(sheet).findings.length === 0;

test("a relay that is right is within on every check", () => {
  let checked = 0;
  holds(
    fc.property(optionSheets, (sheet) => {
      fc.pre(isFindingFree(sheet));
      checked += plan(sheet).checks.length;
      expect(failedBy(sheet)).toEqual([]);
    }),
    40,
  );
  expect(checked).toBeGreaterThan(0);
});

test("a relay that starts beyond its tolerance by more than a step fails the pickup", () => {
  holds(
    fc.property(optionSheets, fc.constantFrom(-1, 1), (sheet, sign) => {
      const [pickup] = plan(sheet).checks.filter(({ proves }) => proves === "pickup");
      fc.pre(pickup !== undefined && isFindingFree(sheet));
      const { low = 0, high = 0 } = bandOf(pickup!);
      const start = startLevel(settingsOf(sheet).elements[0]!);
      const off = (sign > 0 ? high : low) + sign * 1.05 * pickup!.sweep!.step;
      expect(failedBy(sheet, { pickup: off / start })).toContain("E/pickup");
    }),
    40,
  );
});

test("a relay that starts at the edge of its tolerance stays quiet where it should, and its definite time is within", () => {
  holds(
    fc.property(optionSheets, fc.constantFrom(-0.999, 0.999), (sheet, share) => {
      const [setting] = settingsOf(sheet).elements;
      fc.pre(isFindingFree(sheet));
      const failed = failedBy(sheet, {
        pickup: 1 + (share * ((setting!.accuracy.pickup.percent as number) ?? 0)) / 100,
      });
      expect(failed.filter((id) => /quiet|time$/.test(id))).toEqual([]);
    }),
    40,
  );
});
