import fc from "fast-check";
import { type Plan, plan, type Sheet } from "tripwright/plan";
import { judge } from "tripwright/record";
import { rehearsePlan } from "tripwright/rehearsal";
import { describe, expect, test } from "vitest";
import { holds } from "../support/holds.js";
import {
  bandOf,
  checkNamed,
  differential87T,
  dyn11,
  read,
  reasonFor,
  unrestrained87U,
  zoneSheets,
} from "../support/sheets.js";

const outcomes = (sheet: Sheet, planned: Plan, relay: Sheet = sheet) =>
  judge(sheet, planned, rehearsePlan(relay, planned)).verdicts.map((one) => ({
    check: one.check,
    verdict: one.status === "graded" ? one.grade.verdict : one.status,
  }));
/** The checks that a relay fails which is set as another sheet says. */
const failed = (sheet: Sheet, relay: Sheet, planned: Plan = plan(sheet)) =>
  outcomes(sheet, planned, relay)
    .filter(({ verdict }) => verdict === "outside")
    .map(({ check }) => check);
const transformer = (change: object = {}, other: object = {}) =>
  read([{ ...differential87T, ...change }], { ...dyn11, source: { currentChannels: 6 }, ...other });
const zone = (first: object, second: object) => ({
  zone: { ...dyn11.zone, first: { ...dyn11.zone.first, ...first }, second: { ...dyn11.zone.second, ...second } },
});

describe("the plan of a transformer differential", () => {
  const ids = [
    "87T/pickup",
    "87T/edge@second-harmonic",
    "87T/edge@zero-sequence",
    "87T/edge@second-side",
    "87T/edge@restraint-1",
    "87T/edge@restraint-2",
    "87T/edge@restraint-3",
    "87T/edge@restraint-4",
    "87T/dropout",
    "87T/quiet",
    "87T/quiet@second-harmonic",
    "87T/quiet@through-load",
    "87T/quiet@zero-sequence-2",
    "87T/quiet@through-fault",
    "87T/quiet@earth-fault-2",
    "87T/time",
  ];

  test("proves the pickup on both sides, the line at four restraints, the second harmonic, what is outside, and the time", () => {
    expect(
      plan(transformer())
        .checks.map(({ id }) => id)
        .sort(),
    ).toEqual([...ids].sort());
  });

  test("with two of three channels proves the same, with one it says what it takes two for", () => {
    const three = transformer({}, { source: { currentChannels: 3 } });
    expect(plan(three).checks).toHaveLength(ids.length);
    const one = transformer({}, { source: { currentChannels: 1 } });
    expect(plan(one).checks.map(({ id }) => id)).toEqual([
      "87T/pickup",
      "87T/edge@zero-sequence",
      "87T/edge@second-side",
      "87T/edge@second-harmonic",
      "87T/dropout",
      "87T/quiet",
      "87T/quiet@second-harmonic",
      "87T/quiet@zero-sequence-2",
      "87T/time",
    ]);
    expect(reasonFor(one, "87T/edge@restraint-1")).toMatch("two currents in a known ratio");
    expect(reasonFor(one, "87T/quiet@through-load")).toMatch("would not be balanced");
  });

  test("holds each place against the accuracy of the pickup, in amperes of the first side", () => {
    // 10 MVA at 33 kV behind 200/5: 4.374 A; 8.75 A is the second knee, where the line is 2.187 A high.
    const check = checkNamed(transformer(), "87T/edge@restraint-4");
    const restraint = Number(/restraint of ([\d.]+) A/.exec(check.injection ?? "")?.[1]);
    const rated = 10e6 / Math.sqrt(3) / 33e3 / 40;
    const line = 0.25 * 2 * rated + 0.6 * (restraint - 2 * rated);
    expect(restraint).toBeCloseTo(1.6 * 1.25 * 2 * rated, 1);
    expect(bandOf(check).nominal).toBeCloseTo(line, 9);
    expect(bandOf(check).high).toBeCloseTo(1.05 * line, 9);
    expect(check).toMatchObject({ unit: "A", proves: "edge", toPrimary: 40 });
  });

  test("times one side at twice the setting, where no slope restrains it", () => {
    const check = checkNamed(transformer(), "87T/time");
    const rated = 10e6 / Math.sqrt(3) / 33e3 / 40;
    expect(check.level).toBeCloseTo(0.6 * rated, 12);
    expect(check.timeline.segments[1]?.channels["ia"]?.rms).toBeCloseTo(0.6 * rated, 12);
  });

  test("feeds one phase √3 times as much as it counts, where the first side is turned", () => {
    const turned = transformer(
      {},
      { source: { currentChannels: 1 }, ...zone({ clock: 1, zeroSequence: "removed" }, { clock: 0 }) },
    );
    const check = checkNamed(turned, "87T/time");
    expect(check.injection).toBe(
      "the first side alone, on phase a: 1/√3 of it counts, since differences of phases are compared",
    );
    expect(check.timeline.segments[1]?.channels["i"]?.rms).toBeCloseTo(Math.sqrt(3) * (check.level ?? 0), 9);
  });

  test("feeds the second side alone in its own amperes, and says which side it is", () => {
    const one = transformer({}, { source: { currentChannels: 1 }, ...zone({}, { ct: "1000/1" }) });
    const check = checkNamed(one, "87T/edge@second-side");
    // 0.3 of 10 MVA at 11 kV behind 1000/1, of which 1/√3 counts; the band is in A of the first side.
    const rated = 10e6 / Math.sqrt(3) / 11e3 / 1000;
    const last = check.timeline.segments.at(-1)?.channels["i"]?.rms ?? 0;
    const perLevel = last / (check.sweep?.to ?? 0);
    expect(bandOf(check).nominal).toBeCloseTo((0.3 * 10e6) / Math.sqrt(3) / 33e3 / 40, 9);
    expect(perLevel * bandOf(check).nominal).toBeCloseTo(0.3 * rated * Math.sqrt(3), 9);
    expect(check.injection).toBe(
      "the second side alone, on phase a: 1/√3 of it counts, since differences of phases are compared",
    );
    expect(check.timeline.wiring["i"]?.feeds).toEqual({ ia2: 1 });
  });

  test("puts no second harmonic on the relay before the injection that has it", () => {
    const [before, fault] = checkNamed(transformer(), "87T/quiet@second-harmonic").timeline.segments;
    expect(Object.values(before?.channels ?? {}).every(({ harmonics }) => harmonics === undefined)).toBe(true);
    const { ia } = fault?.channels ?? {};
    expect((ia?.harmonics?.[0]?.rms ?? 0) / (ia?.rms ?? 1)).toBeCloseTo(1.5 * 0.15, 12);
  });

  test("times the unrestrained stage by its own, which is blocked nowhere it does not reach", () => {
    const sheet = read([differential87T, { ...unrestrained87U, contact: "high set" }], {
      ...dyn11,
      source: { currentChannels: 6 },
    });
    const check = checkNamed(sheet, "87U/time");
    const rated = 10e6 / Math.sqrt(3) / 33e3 / 40;
    expect(check.level).toBeCloseTo(1.2 * 5 * rated, 9);
    expect(check.contact).toBe("high set");
    expect(checkNamed(sheet, "87T/edge@restraint-4").block).toEqual([]);
    // What operates the high stage from one side operates the low one.
    expect(check.block).toEqual(["87T"]);
  });

  test("finds a slope that one side alone cannot overcome, and a high stage below the low one", () => {
    const steep = transformer({
      restraint: "sum",
      slopes: [{ slope: "120 %", line: "from-knee", begins: "1 × rated" }],
    });
    expect(plan(steep).findings).toMatchObject([{ path: "87T.slopes[0].slope" }]);
    const below = read([differential87T, { ...unrestrained87U, pickup: "0.2 × rated" }], dyn11);
    expect(plan(below).findings).toMatchObject([{ path: "87T.pickup", expected: expect.stringContaining("87U") }]);
    expect(plan(transformer()).findings).toEqual([]);
  });

  test("of a tolerance that would carry a sweep beyond what one side alone makes names the place impossible", () => {
    // 60 % of the sum: twice 40 % above it is more than the sum itself.
    const wide = { pickup: { percent: 40, side: "high" }, time: differential87T.accuracy.time };
    const sheet = transformer({
      restraint: "sum",
      slopes: [{ slope: "60 %", line: "through-origin" }],
      accuracy: wide,
    });
    expect(reasonFor(sheet, "87T/edge@restraint-2")).toMatch("beyond what one side alone makes");
    expect(plan(sheet).checks.map(({ id }) => id)).toContain("87T/pickup");
  });

  test("of a slope that one side alone never overcomes names every check on one side impossible", () => {
    const never = transformer({ restraint: "sum", slopes: [{ slope: "110 %", line: "through-origin", begins: 0 }] });
    for (const id of ["87T/pickup", "87T/quiet", "87T/time"])
      expect(reasonFor(never, id)).toMatch("one side alone never operates it");
    expect(plan(never).checks.map(({ id }) => id)).toContain("87T/quiet@through-fault");
  });
});

describe("a rehearsal", () => {
  test("of a right relay passes every check: any group, restraint and slopes, one, three and six channels, both rotations", () => {
    let graded = 0;
    holds(
      fc.property(zoneSheets, (sheet) => {
        for (const { verdict } of outcomes(sheet, plan(sheet))) {
          expect(["within", "impossible"]).toContain(verdict);
          if (verdict === "within") graded++;
        }
      }),
      30,
    );
    expect(graded).toBeGreaterThan(200);
  });

  test("of a relay with a wrong clock number fails what passes through and what depends on both sides", () => {
    const wrong = transformer({}, zone({}, { clock: 1 }));
    for (const currentChannels of [3, 6]) {
      const sheet = transformer({}, { source: { currentChannels } });
      expect(failed(sheet, wrong)).toEqual(
        expect.arrayContaining(["87T/quiet@through-load", "87T/quiet@through-fault", "87T/edge@restraint-2"]),
      );
      expect(failed(sheet, wrong)).not.toContain("87T/pickup");
    }
  });

  test("of a relay whose second side is connected backwards takes what passes through for a fault", () => {
    const sheet = transformer();
    const planned = plan(sheet);
    const backwards = {
      ...planned,
      checks: planned.checks.map((check) => ({
        ...check,
        timeline: {
          ...check.timeline,
          wiring: Object.fromEntries(
            Object.entries(check.timeline.wiring).map(([name, { quantity, feeds }]) => [
              name,
              {
                quantity,
                feeds: Object.fromEntries(
                  Object.entries(feeds).map(([input, factor]) => [input, input.endsWith("2") ? -factor : factor]),
                ),
              },
            ]),
          ),
        },
      })),
    };
    expect(failed(sheet, sheet, backwards)).toEqual([
      "87T/edge@restraint-1",
      "87T/edge@restraint-2",
      "87T/edge@restraint-3",
      "87T/edge@restraint-4",
      "87T/quiet@through-load",
      "87T/quiet@through-fault",
      "87T/quiet@earth-fault-2",
    ]);
  });

  test.each([
    [
      "first slope of 30 %",
      { slopes: [{ slope: "30 %", line: "through-origin" }, differential87T.slopes[1]] },
      ["2", "3", "4"],
    ],
    [
      "second slope of 70 %",
      { slopes: [differential87T.slopes[0], { ...differential87T.slopes[1], slope: "70 %" }] },
      // 1.25 × 8.75 A: 3.72 A where 3.5 A is right; 20 A of slope tell more.
      ["3", "4"],
    ],
    [
      "second slope through the origin",
      { slopes: [differential87T.slopes[0], { ...differential87T.slopes[1], line: "through-origin" }] },
      ["3", "4"],
    ],
    ["restraint of the sum", { restraint: "sum" }, ["1", "2", "3", "4"]],
  ])("of a relay with a %s fails those places and no other check", (_what, change, places) => {
    expect(failed(transformer(), transformer(change))).toEqual(places.map((place) => `87T/edge@restraint-${place}`));
  });

  test("of a relay with another ratio of its second transformers fails that side, with one channel too", () => {
    for (const function_ of ["87T", "87U"] as const) {
      const relay = (second: object) =>
        read([function_ === "87T" ? differential87T : unrestrained87U], {
          ...dyn11,
          source: { currentChannels: 1 },
          ...zone({}, second),
        });
      expect(failed(relay({}), relay({ ct: "800/5" }))).toEqual([`${function_}/edge@second-side`]);
    }
  });

  test("of a relay that blocks from another ratio on fails the places of the second harmonic", () => {
    expect(failed(transformer(), transformer({ secondHarmonic: "18 %" }))).toEqual(["87T/edge@second-harmonic"]);
    const { secondHarmonic: _, ...deaf } = differential87T;
    expect(failed(transformer(), read([deaf], { ...dyn11 }))).toEqual([
      "87T/edge@second-harmonic",
      "87T/quiet@second-harmonic",
    ]);
  });

  test.each([
    ["first slope from where it passes the pickup", { slope: "25 %", line: "through-origin" }],
    ["first slope with a beginning of its own", { slope: "25 %", line: "through-origin", begins: "0.5 × rated" }],
  ])("of a relay whose pickup is so high that it swallows its %s plays the second slope", (_what, first) => {
    const sheet = transformer({ slopes: [first, differential87T.slopes[1]] });
    const planned = plan(sheet);
    const readings = rehearsePlan(sheet, planned, { errors: { "87T": { pickup: 3 } } });
    const readAt = (place: string) => readings.find(({ check }) => check === `87T/${place}`)?.value;
    expect([readAt("pickup"), readAt("edge@restraint-1"), readAt("edge@restraint-3")]).toEqual(Array(3).fill("never"));
    // 0.9 up to 3.6 × rated, then 0.6 ×: 1.14 × rated at 4 × rated, where the sweep begins beyond that.
    expect(readAt("edge@restraint-4")).toBe(checkNamed(sheet, "87T/edge@restraint-4").sweep?.from);
    expect(readAt("quiet@through-fault")).toBe("never");
  });

  test("of a relay that keeps the zero sequence of its earthed side fails the earth fault outside", () => {
    const yyn = (zeroSequence: string) =>
      transformer({}, zone({ zeroSequence: "removed" }, { clock: 0, zeroSequence }));
    for (const currentChannels of [3, 6]) {
      const sheet = transformer(
        {},
        { source: { currentChannels }, ...zone({ zeroSequence: "removed" }, { clock: 0, zeroSequence: "removed" }) },
      );
      expect(failed(sheet, sheet)).toEqual([]);
      expect(failed(sheet, yyn("kept"))).toEqual(
        expect.arrayContaining(["87T/quiet@zero-sequence-2", "87T/quiet@earth-fault-2"]),
      );
    }
  });

  test("of a relay that takes out the zero sequence of a side that is to keep it never operates on it", () => {
    for (const currentChannels of [1, 3, 6]) {
      const sheet = (first: string, second: string) =>
        transformer(
          {},
          { source: { currentChannels }, ...zone({ zeroSequence: first }, { clock: 6, zeroSequence: second }) },
        );
      const kept = sheet("kept", "kept");
      expect(failed(kept, kept)).toEqual([]);
      expect(failed(kept, sheet("removed", "kept"))).toContain("87T/edge@zero-sequence");
      expect(failed(kept, sheet("kept", "removed"))).toContain("87T/edge@zero-sequence-2");
      expect(failed(kept, sheet("kept", "removed"))).not.toContain("87T/edge@zero-sequence");
    }
  });

  test("of a relay with a wrong clock number fails the earth fault outside", () => {
    for (const clock of [1, 5, 7])
      expect(failed(transformer(), transformer({}, zone({}, { clock })))).toContain("87T/quiet@earth-fault-2");
  });

  test("of a relay with exchanged rated currents fails what passes through", () => {
    const rated = (first: string, second: string) => {
      const { power: _, ...rest } = dyn11.zone;
      return transformer(
        { pickup: "1.3 A", slopes: [{ slope: "25 %", line: "through-origin" }] },
        {
          zone: {
            ...rest,
            first: { ratedCurrent: first, zeroSequence: "kept" },
            second: { ct: "600/5", clock: 11, ratedCurrent: second },
          },
        },
      );
    };
    expect(failed(rated("4.37 A", "1 A"), rated("1 A", "4.37 A"))).toEqual(
      expect.arrayContaining(["87T/quiet@through-load", "87T/quiet@through-fault"]),
    );
  });
});

test("a machine or a line needs no zone: both sides behind the same current transformers", () => {
  const line = { ...differential87T, id: "87L", function: "87", restraint: "maximum" };
  const sheet = read([line], { ct: "400/5" });
  expect(checkNamed(sheet, "87L/quiet@through-load").timeline.wiring).toMatchObject({
    ia: { feeds: { ia: 1 } },
    ib: { feeds: { ia2: 1 } },
  });
  // One current through both sides in series shows even with one channel that what passes through counts nothing.
  const one = read([line], { ct: "400/5", source: { currentChannels: 1 } });
  expect(checkNamed(one, "87L/quiet@through-load").timeline.wiring["i"]?.feeds).toEqual({ ia: 1, ia2: -1 });
});
