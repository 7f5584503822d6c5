import fc from "fast-check";
import { plan, type Sheet, settingsOf } from "tripwright/plan";
import { judge, type Reading } from "tripwright/record";
import { rehearsedSource, rehearsePlan } from "tripwright/rehearsal";
import { describe, expect, test } from "vitest";
import { problemsOf } from "../support/failure.js";
import { holds } from "../support/holds.js";
import { instantaneous50, inverse51, read, sheets, undervoltage27 } from "../support/sheets.js";

type Errors = NonNullable<Parameters<typeof rehearsePlan>[2]>["errors"];

const judged = (sheet: Sheet, errors: Errors = {}) => {
  const planned = plan(sheet);
  const readings: readonly Reading[] = rehearsePlan(sheet, planned, { errors });
  return judge(sheet, planned, readings).verdicts;
};
const notWithin = (sheet: Sheet, errors: Errors = {}) =>
  judged(sheet, errors).flatMap((verdict) =>
    verdict.status === "graded" && verdict.grade.verdict !== "within" ? [verdict.check] : [],
  );

describe("the plan and the rehearsal check each other", () => {
  test("a relay that is exactly right is within on every check of every sheet", () => {
    holds(
      fc.property(sheets, (sheet) => {
        // A time below the measuring delay is a finding: no relay can be right there.
        const slow = plan(sheet).findings.map(({ path }) => path.split(".")[0]);
        const wrong = judged(sheet).filter(
          (verdict) =>
            verdict.status === "not-taken" || (verdict.status === "graded" && verdict.grade.verdict !== "within"),
        );
        // Nor where an inverse time runs out before the function has seen its quantity.
        const { elements } = settingsOf(sheet);
        const tooFast = plan(sheet).checks.flatMap(({ id, element, expect: wanted }) => {
          const { measuringDelay = 0 } = elements.find((one) => one.id === element) ?? {};
          const high = wanted.form === "band" && wanted.unit === "s" ? wanted.band.high : undefined;
          return high !== undefined && high < measuringDelay ? [id] : [];
        });
        const unexplained = wrong.filter(
          ({ check }) => !slow.includes(check.split("/")[0]) && !tooFast.includes(check),
        );
        expect(unexplained).toEqual([]);
      }),
      30,
    );
  });

  test("a pickup that is off by more than its tolerance and a step is caught by the pickup check", () => {
    holds(
      fc.property(sheets, fc.constantFrom(1, -1), (sheet, direction) => {
        for (const check of plan(sheet).checks) {
          if (check.proves !== "pickup" || check.expect.form !== "band" || check.sweep === undefined) continue;
          const { nominal, low = nominal, high = nominal } = check.expect.band;
          const limit = direction > 0 ? high - nominal : nominal - low;
          const pickup = 1 + (direction * (limit + 1.01 * check.sweep.step)) / nominal;
          if (limit === 0 || pickup < 0.2) continue;
          expect(notWithin(sheet, { [check.element]: { pickup } })).toContain(check.id);
        }
      }),
      10,
    );
  });

  test("a time law that is off by more than its tolerance is caught by every time check that has a limit there", () => {
    holds(
      fc.property(sheets, (sheet) => {
        for (const check of plan(sheet).checks) {
          if (check.proves !== "operate-time" || check.expect.form !== "band") continue;
          const { nominal, high } = check.expect.band;
          if (high === undefined || nominal === 0) continue;
          const errors = { [check.element]: { time: (1.001 * high) / nominal } };
          expect(notWithin(sheet, errors)).toContain(check.id);
        }
      }),
      10,
    );
  });
});

describe("rehearsed readings", () => {
  const sheet = read([inverse51, instantaneous50, undervoltage27]);
  const planned = plan(sheet);

  test("name the contact and the element that moved it, and what stayed quiet", () => {
    const readings = rehearsePlan(sheet, planned);
    expect(readings.map(({ check }) => check)).toEqual(planned.checks.map(({ id }) => id));
    expect(readings.find(({ check }) => check === "51P/pickup")).toMatchObject({ contact: "start", operatedBy: "51P" });
    expect(readings.find(({ check }) => check === "51P/quiet")?.value).toBe("never");
  });

  test("a wrong multiplier moves the times of that element and nothing else", () => {
    expect(notWithin(sheet, { "51P": { time: 1.3 } })).toEqual(["51P/time@3", "51P/time@7", "51P/time@15"]);
  });

  test("a faster neighbour that nobody blocked takes the reading", () => {
    const unblocked = { checks: planned.checks.map((check) => ({ ...check, block: [] })) };
    expect(rehearsePlan(sheet, unblocked).find(({ check }) => check === "51P/time@15")).toMatchObject({
      operatedBy: "50P",
    });
  });

  test("an element that is too eager operates where it should stay quiet", () => {
    expect(
      rehearsePlan(sheet, planned, { errors: { "51P": { pickup: 0.9 } } }).find(({ check }) => check === "51P/quiet")
        ?.value,
    ).toBe("operated");
  });

  test("scatter from check to check, the same for the same seed", () => {
    const errors = { "51P": { scatter: { time: 0.02 } } };
    const read1 = rehearsePlan(sheet, planned, { errors, seed: 3 });
    expect(rehearsePlan(sheet, planned, { errors, seed: 3 })).toEqual(read1);
    expect(rehearsePlan(sheet, planned, { errors, seed: 4 })).not.toEqual(read1);
    const off = read1
      .filter(({ check }) => check.startsWith("51P/time"))
      .map(({ value }, i) => (value as number) - [1.35, 0.45, 2.7 / 14][i]!);
    expect(new Set(off.map((x) => x.toFixed(6))).size).toBe(3);
  });

  test.each([
    [
      "a check of an element that the sheet does not have",
      { checks: [{ ...planned.checks[0], element: "87" }] },
      {},
      "checks[0].element",
    ],
    ["errors of an element that is not there", planned, { errors: { "87": {} } }, "errors.87"],
  ])("%s is refused by name", (_what, of, given, path) => {
    expect(problemsOf(() => rehearsePlan(sheet, of as never, given))).toMatchObject([{ path }]);
  });
});

describe("a rehearsed source", () => {
  const setting = settingsOf(read([{ ...instantaneous50, pickup: "4 A", measuringDelay: "20 ms" }])).elements[0]!;
  const ask = () =>
    rehearsedSource([setting], {
      base: { i: { rms: 0, frequency: 50 } },
      lever: { i: { rms: 1 } },
      wiring: { i: { quantity: "current", feeds: { ia: 1 } } },
      rest: { level: 0, time: 1 },
      contact: "trip",
    });

  test("answers from rest by the pickup, from the level before by the dropout", () => {
    holds(
      fc.property(fc.double({ min: 0.1, max: 8, noNaN: true }), (level) => {
        const source = ask();
        expect(source({ level, from: "rest", hold: 0.1 })).toBe(level > 4);
        source({ level: 5, from: "rest", hold: 0.1 });
        expect(source({ level, from: "previous", hold: 0.1 })).toBe(level >= 3.8);
      }),
    );
  });

  test("no elements are refused by name", () => {
    expect(problemsOf(() => rehearsedSource(undefined as never, {} as never))).toMatchObject([{ path: "elements" }]);
  });

  test("an unknown field is refused by name", () => {
    expect(problemsOf(() => rehearsedSource([setting], { contacts: [] } as never))).toMatchObject([
      { path: "contacts" },
    ]);
  });
});
