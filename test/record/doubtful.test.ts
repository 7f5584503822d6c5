/** What can hardly have been so is judged as it stands, and named beside its verdict. */
import fc from "fast-check";
import { plan, readSheet } from "tripwright/plan";
import { judge, type Reading } from "tripwright/record";
import { rehearsePlan } from "tripwright/rehearsal";
import { describe, expect, test } from "vitest";
import { holds } from "../support/holds.js";
import { differential87T, directional67, dyn11, inverse51, read, sheets, undervoltage27 } from "../support/sheets.js";
import { taken } from "../support/taken.js";

const sheet = read([inverse51, undervoltage27, directional67], {
  ct: "400/5",
  vt: "11 kV/110 V",
  source: { maximumCurrent: "50 A", maximumVoltage: "150 V" },
});
const planned = plan(sheet);
const judged = (...readings: Reading[]) => {
  const { verdicts, problems } = judge(sheet, planned, readings);
  const [first] = verdicts.filter((verdict) => verdict.check === readings[0]?.check);
  return { status: first?.status, verdict: first?.status === "graded" ? first.grade.verdict : undefined, problems };
};

describe("a level beyond the sweep in which it was found", () => {
  test("is named, with what it would be as a primary value where that lies within", () => {
    // 400/5: 320 A are 4 A; the sweep goes 10 % to either side of the setting
    const { verdict, problems } = judged(taken("51P/pickup", 326));
    expect(verdict).toBe("outside");
    expect(problems).toEqual([
      {
        code: "out-of-range",
        path: "51P/pickup, as-found, repeat 1",
        expected: "a level within the sweep 3.6 to 4.4 A (secondary)",
        received: "326 A; as a primary value it would be 4.075 A",
      },
    ]);
    expect(judged(taken("51P/pickup", 6)).problems).toMatchObject([{ received: "6 A" }]);
  });

  test("is none at the ends of it, nor a step further, as a meter may show it", () => {
    const step = planned.checks.find(({ id }) => id === "51P/pickup")?.sweep?.step ?? 0;
    expect(step).toBeGreaterThan(0);
    for (const level of [3.6, 4.4, 4.4 + 0.99 * step, 3.6 - 0.99 * step])
      expect(judged(taken("51P/pickup", level)).problems).toEqual([]);
    for (const level of [4.4 + 1.01 * step, 3.6 - 1.01 * step])
      expect(judged(taken("51P/pickup", level)).problems).toHaveLength(1);
  });

  test("an angle is the same by any way round", () => {
    // The leading limit of 45° lies at 135°
    expect(judged(taken("67P/edge@leading", 135)).problems).toEqual([]);
    expect(judged(taken("67P/edge@leading", -225)).problems).toEqual([]);
    expect(judged(taken("67P/edge@leading", -45)).problems).toHaveLength(1);
  });
});

describe("a time longer than the injection lasts", () => {
  const lasts = planned.checks
    .find(({ id }) => id === "51P/time@3")
    ?.timeline.segments.find(({ clock }) => clock === "starts")?.duration as number;

  test("is named", () => {
    expect(judged(taken("51P/time@3", lasts)).problems).toEqual([]);
    expect(judged(taken("51P/time@3", 60))).toMatchObject({
      verdict: "outside",
      problems: [{ expected: `a time within the ${lasts} s that are injected`, received: "60 s" }],
    });
    expect(judged(taken("51P/quiet", 60)).problems).toHaveLength(1);
  });

  test("is none nearer to the setting, where it may take as long as that", () => {
    // 13.5/(1.5 − 1) · 0.2 s = 5.4 s
    expect(judged(taken("51P/time@3", 5.4, { injected: 6 }))).toMatchObject({ verdict: "within", problems: [] });
  });
});

describe("an injected level", () => {
  test("that is the planned one on the primary side is named, and not converted", () => {
    const { problems } = judged(taken("51P/time@3", 1.35, { injected: 960 }));
    expect(problems).toMatchObject([
      {
        expected: "a level about the planned 12 A (secondary)",
        received: "960 A injected; as a primary value it would be 12 A",
      },
    ]);
    // Quiet at 304 A would be within, and proves nothing of 3.8 A.
    expect(judged(taken("51P/quiet", "never", { injected: 304 })).problems).toHaveLength(1);
  });

  test("that the source cannot make is named", () => {
    expect(judged(taken("51P/time@7", 0.3, { injected: 51 })).problems).toMatchObject([
      { expected: "a level that the source can make, at most 50 A on one channel", received: "51 A injected" },
    ]);
    // 300 V between two phases are 173 V on each
    expect(judged(taken("27/quiet", "operated", { injected: 300 })).problems).toMatchObject([
      { expected: expect.stringContaining("150 V on one channel") },
    ]);
    expect(judged(taken("51P/time@7", 0.3, { injected: 50 })).problems).toEqual([]);
  });

  test("that needs more than the source makes on the other side of a zone is named", () => {
    const second = { ...dyn11.zone.second, ct: "500/5" };
    const source = { currentChannels: 6, maximumCurrent: "50 A" };
    const zone = read([differential87T], { ...dyn11, zone: { ...dyn11.zone, second }, source });
    // What is 45 A behind 200/5 at 33 kV is 45 · 40 · 3/100 = 54 A behind 500/5 at 11 kV.
    const { problems } = judge(zone, plan(zone), [taken("87T/quiet@through-fault", "never", { injected: 45 })]);
    expect(problems).toMatchObject([{ received: "45 A injected, which needs 54 A on one channel" }]);
  });

  test("about the planned one is no primary value, whatever the ratio", () => {
    for (const ct of ["5/5", "6/5", "10/5"]) {
      const near = readSheet({ ...sheet, ct });
      expect(judge(near, plan(near), [taken("51P/time@3", 1.37, { injected: 11.9 })]).problems).toEqual([]);
    }
  });

  test("of any size is taken where nobody said what the source can make", () => {
    const open = readSheet({ ...sheet, source: {} });
    expect(judge(open, plan(open), [taken("51P/time@7", 0.3, { injected: 51 })]).problems).toEqual([]);
  });
});

test("nothing that a rehearsed relay does is doubted, on any sheet", () => {
  holds(
    fc.property(sheets, fc.double({ min: 0.96, max: 1.04, noNaN: true }), (given, pickup) => {
      const thePlan = plan(given);
      const errors = Object.fromEntries(given.elements.map(({ id }) => [id, { pickup }]));
      const { problems } = judge(given, thePlan, rehearsePlan(given, thePlan, { errors }));
      expect(problems.filter(({ code }) => code === "out-of-range")).toEqual([]);
    }),
    15,
  );
});
