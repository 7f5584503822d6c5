import { Decimal } from "decimal.js";
import fc from "fast-check";
import { nextTrial, type PickupSearch } from "tripwright/timeline";
import { describe, expect, test } from "vitest";
import { holds } from "../support/holds.js";
import { casesWithin, drive, functionAt } from "./searches.js";

describe("nextTrial", () => {
  test("saved and resumed after every answer, it asks what the generator asks and comes to the same", () => {
    holds(
      fc.property(casesWithin, ({ search, threshold }) => {
        const { trials, answers, result } = drive(search, functionAt(threshold));
        for (const [i, trial] of trials.entries()) {
          const saved = JSON.parse(JSON.stringify({ search, answers: answers.slice(0, i) }));
          expect(nextTrial(saved.search, saved.answers)).toEqual({ status: "asking", trial });
        }
        const end = nextTrial(search, answers);
        expect(end).toEqual({ status: "done", result });
        expect(JSON.parse(JSON.stringify(end))).toEqual(end);
      }),
      50,
    );
  });

  test("decimal objects are saved as their digits", () => {
    const search = {
      method: "halving",
      from: new Decimal("0.1"),
      to: new Decimal("0.7"),
      step: "0.2",
      hold: 1,
    } as const;
    const saved: PickupSearch = JSON.parse(JSON.stringify(search));
    // 0.1 is quiet and 0.7 operates; of 0.3 and 0.5, 0.3 comes first.
    expect(nextTrial(saved, [false, true])).toMatchObject({ trial: { level: 0.3 } });
    expect(nextTrial(saved, [false, true])).toEqual(nextTrial(search, [false, true]));
  });

  test("neither options nor answers are changed", () => {
    const search: PickupSearch = Object.freeze({ method: "halving", from: 1, to: 2, step: 0.1, hold: 1 });
    const answers = Object.freeze([false, true]);
    expect(nextTrial(search, answers)).toEqual(nextTrial(search, answers));
  });
});
