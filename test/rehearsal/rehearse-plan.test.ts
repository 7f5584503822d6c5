import fc from "fast-check";
import { plan, type Sheet, settingsOf } from "tripwright/plan";
import { judge, type Reading } from "tripwright/record";
import { rehearsedSource, rehearsePlan } from "tripwright/rehearsal";
import { seekPickup, type Timeline } from "tripwright/timeline";
import { describe, expect, test } from "vitest";
import { problemsOf } from "../support/failure.js";
import { holds } from "../support/holds.js";
import { instantaneous50, inverse51, read, sheets, synchronism25, undervoltage27 } from "../support/sheets.js";

type Errors = NonNullable<Parameters<typeof rehearsePlan>[2]>["errors"];

/** What comes of a plan, or of some of its checks, where the relay has these errors. */
const judged = (sheet: Sheet, errors: Errors = {}, planned = plan(sheet), checks = planned.checks) => {
  const readings: readonly Reading[] = rehearsePlan(sheet, { checks }, { errors });
  return judge(sheet, planned, readings).verdicts;
};
const notWithin = (...given: Parameters<typeof judged>) =>
  judged(...given).flatMap((verdict) =>
    verdict.status === "graded" && verdict.grade.verdict !== "within" ? [verdict.check] : [],
  );

describe("the plan and the rehearsal check each other", () => {
  test("a relay that is exactly right is within on every check of every sheet", () => {
    holds(
      fc.property(sheets, (sheet) => {
        // A time below the measuring delay is a finding: no relay can be right there.
        const planned = plan(sheet);
        const slow = planned.findings.flatMap(({ path }) => /^(.*)\.(?:delay|curve)$/.exec(path)?.[1] ?? []);
        const wrong = judged(sheet, {}, planned).filter(
          (verdict) =>
            verdict.status === "not-taken" || (verdict.status === "graded" && verdict.grade.verdict !== "within"),
        );
        const unexplained = wrong.filter(({ check }) => !slow.some((id) => check.startsWith(`${id}/time`)));
        expect(unexplained).toEqual([]);
      }),
      30,
    );
  });

  test("a pickup that is off by more than its tolerance and a step is caught by the pickup check", () => {
    holds(
      fc.property(sheets, fc.constantFrom(1, -1), (sheet, direction) => {
        const planned = plan(sheet);
        for (const check of planned.checks) {
          if (check.proves !== "pickup" || check.expect.form !== "band" || check.sweep === undefined) continue;
          const { nominal, low = nominal, high = nominal } = check.expect.band;
          const limit = direction > 0 ? high - nominal : nominal - low;
          const pickup = 1 + (direction * (limit + 1.01 * check.sweep.step)) / nominal;
          if (limit === 0 || pickup < 0.2) continue;
          expect(notWithin(sheet, { [check.element]: { pickup } }, planned, [check])).toEqual([check.id]);
        }
      }),
      10,
    );
  });

  test("a pickup that is off to below its own tolerance is played all the same", () => {
    // 5° ± 2.4°, and a relay that permits within 2° alone.
    const wide = {
      ...synchronism25,
      pickup: "5°",
      accuracy: { ...synchronism25.accuracy, pickup: { absolute: "2.4°" } },
    };
    const sheet = read([wide]);
    expect(notWithin(sheet, { [synchronism25.id]: { pickup: 0.4 } })).toContain(`${synchronism25.id}/pickup`);
  });

  test("a time law that is off by more than its tolerance is caught by every time check that has a limit there", () => {
    holds(
      fc.property(sheets, (sheet) => {
        const planned = plan(sheet);
        for (const check of planned.checks) {
          if (check.proves !== "operate-time" || check.expect.form !== "band") continue;
          const { nominal, high } = check.expect.band;
          if (high === undefined || nominal === 0) continue;
          const errors = { [check.element]: { time: (1.001 * high) / nominal } };
          expect(notWithin(sheet, errors, planned, [check])).toEqual([check.id]);
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

  test("a contact that stands closed when the clock starts has not stayed quiet", () => {
    const quiet = planned.checks.find(({ id }) => id === "51P/quiet")!;
    const [before, fault] = quiet.timeline.segments;
    const loaded = { ...before!, channels: { ia: { rms: 9, frequency: 50 } } };
    // The fault leaves the relay started, between its dropout and its start.
    const held = { ...fault!, channels: { ia: { rms: 3.9, frequency: 50 } } };
    const checks = [{ ...quiet, timeline: { ...quiet.timeline, segments: [loaded, held] } }];
    expect(rehearsePlan(sheet, { checks })[0]?.value).toBe("operated");
    const gone = [{ ...quiet, timeline: { ...quiet.timeline, segments: [loaded, before!, fault!] } }];
    expect(rehearsePlan(sheet, { checks: gone })[0]?.value).toBe("never");
  });

  test("along a ramp the level is read where the contact closes", () => {
    const pickup = planned.checks.find(({ id }) => id === "51P/pickup")!;
    const timeline: Timeline = {
      wiring: { i: { quantity: "current", feeds: { ia: 1 } } },
      segments: [
        { name: "settle", duration: 1, channels: { i: { rms: 3, frequency: 50 } } },
        { name: "ramp", duration: 20, channels: { i: { rms: 3, frequency: 50, slope: { rms: 0.1 } } } },
      ],
    };
    const ramped = { ...pickup, timeline, sweep: { from: 3, to: 5 } };
    const { measuringDelay } = settingsOf(sheet).elements[0]!;
    expect(rehearsePlan(sheet, { checks: [ramped] })[0]?.value).toBeCloseTo(4 + 0.1 * measuringDelay, 10);
  });

  test("scatter from check to check, the same for the same seed", () => {
    const errors = { "51P": { scatter: { delay: 0.02 } } };
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
      "plan.checks[0].element",
    ],
    ["errors of an element that is not there", planned, { errors: { "87": {} } }, "errors.87"],
  ])("%s is refused by name", (_what, of, given, path) => {
    expect(problemsOf(() => rehearsePlan(sheet, of as never, given))).toMatchObject([{ code: "unknown-name", path }]);
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

  test.each(["linear", "halving"] as const)("a %s search finds where it starts and where it lets go", (method) => {
    const source = ask();
    const search = seekPickup({ method, from: 3, to: 5, step: 0.01, hold: 0.1, dropout: true });
    let turn = search.next();
    while (!turn.done) turn = search.next(source(turn.value));
    // Above 4 A, and below 95 % of that.
    expect(turn.value).toMatchObject({
      kind: "found",
      pickup: 4.01,
      dropout: { kind: "found", level: 3.79, held: 3.8 },
    });
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
