import { plan } from "tripwright/plan";
import { rehearse, rehearsedSource, rehearsePlan } from "tripwright/rehearsal";
import { describe, expect, test } from "vitest";
import { relay51 } from "../support/arbitraries.js";
import { problemsOf } from "../support/failure.js";
import { inverse51, read } from "../support/sheets.js";

const { startContact: _, ...relay } = relay51;
const wiring = { i: { quantity: "current", feeds: { ia: 1 } } } as const;
const state = { name: "fault", duration: 1, channels: { i: { rms: 8, frequency: 50 } } };
const timeline = { wiring, segments: [state] };
const path = (work: () => unknown) => problemsOf(work)[0]?.path;

describe("rehearse", () => {
  test.each([
    ["no list", undefined, "elements"],
    ["an element that is none", [null], "elements[0]"],
    ["one without a name", [{ ...relay, id: undefined }], "elements[0].id"],
    ["one without a contact", [{ ...relay, contact: undefined }], "elements[0].contact"],
    ["a start contact that is no name", [{ ...relay, startContact: 3 }], "elements[0].startContact"],
    ["one without a law", [{ ...relay, law: undefined }], "elements[0].law"],
    [
      "a multiplier below 0",
      [{ ...relay, law: { curve: "iec-inverse", multiplier: -1 } }],
      "elements[0].law.multiplier",
    ],
    ["two of one name", [relay, relay], "elements[1].id"],
    ["a function that nobody knows", [{ ...relay, function: "63" }], "elements[0].function"],
  ])("refuses elements by name: %s", (_what, elements, expected) => {
    expect(path(() => rehearse(elements as never, timeline))).toBe(expected);
  });

  test.each([
    ["none", undefined, "timeline"],
    ["no states", { wiring, segments: [] }, "timeline.segments"],
    ["a state that does not last", { wiring, segments: [{ ...state, duration: 0 }] }, "timeline.segments[0].duration"],
    [
      "two frequencies on one input",
      {
        wiring: { i: wiring.i, j: wiring.i },
        segments: [state, { ...state, channels: { i: state.channels.i, j: { rms: 1, frequency: 60 } } }],
      },
      "timeline.segments[1].ia",
    ],
  ])("refuses timelines by name: %s", (_what, given, expected) => {
    expect(path(() => rehearse([relay], given as never))).toBe(expected);
  });

  test.each([null, [], { "51P": null }, { "51P": { pickup: Number.NaN } }, { "51P": { delay: "late" } }])(
    "refuses errors that are none: %j",
    (errors) => {
      expect(path(() => rehearse([relay], timeline, { errors } as never))).toMatch(/^errors/);
    },
  );
});

test.each([
  [undefined, "missing"],
  ["51P", "wrong-type"],
])("a list that is %j is %s", (given, code) => {
  const [check] = plan(read([inverse51])).checks;
  expect(problemsOf(() => rehearse(given as never, timeline))).toMatchObject([{ code, path: "elements" }]);
  for (const [damaged, of] of [
    [{ checks: given }, "plan.checks"],
    [{ checks: [{ ...check, block: given }] }, "plan.checks[0].block"],
  ] as const)
    expect(problemsOf(() => rehearsePlan(read([inverse51]), damaged as never))).toMatchObject([{ code, path: of }]);
});

describe("rehearsePlan", () => {
  const sheet = read([inverse51]);
  const [check] = plan(sheet).checks;

  test.each([
    ["no plan", undefined, "plan"],
    ["no checks", {}, "plan.checks"],
    ["a check that is none", { checks: [check, null] }, "plan.checks[1]"],
    ["a hole between two checks", { checks: Object.assign([check], { 2: check }) }, "plan.checks[1]"],
    ["no name", { checks: [{ ...check, id: undefined }] }, "plan.checks[0].id"],
    ["nothing that it proves", { checks: [{ ...check, proves: "luck" }] }, "plan.checks[0].proves"],
    ["no contact", { checks: [{ ...check, contact: 1 }] }, "plan.checks[0].contact"],
    ["no list of blocked elements", { checks: [{ ...check, block: undefined }] }, "plan.checks[0].block"],
    ["no timeline", { checks: [{ ...check, timeline: undefined }] }, "plan.checks[0].timeline"],
    ["no sweep of a pickup", { checks: [{ ...check, sweep: undefined }] }, "plan.checks[0].sweep"],
    [
      "a sweep from nowhere",
      { checks: [{ ...check, sweep: { ...check?.sweep, from: "3" } }] },
      "plan.checks[0].sweep.from",
    ],
    [
      "no step, and no state that moves",
      { checks: [{ ...check, sweep: { from: 3, to: 5 } }] },
      "plan.checks[0].sweep.step",
    ],
  ])("refuses plans by name: %s", (_what, given, expected) => {
    expect(path(() => rehearsePlan(sheet, given as never))).toBe(expected);
  });

  test("refuses what is no sheet, by the first field that is missing", () => {
    expect(path(() => rehearsePlan({} as never, { checks: [] }))).toBe("format");
  });
});

describe("rehearsedSource", () => {
  const source = {
    base: { i: { rms: 0, frequency: 50 } },
    lever: { i: { rms: 1 } },
    wiring,
    rest: { level: 0, time: 1 },
    contact: "trip",
  };

  test.each([
    ["contact", undefined, "contact"],
    ["rest", undefined, "rest"],
    ["rest", { level: 0, time: -1 }, "rest.time"],
    ["rest", { level: "none", time: 1 }, "rest.level"],
    ["base", undefined, /base/],
    ["lever", undefined, /lever/],
    ["wiring", { i: 3 }, /wiring\.i$/],
  ])("refuses a source by name: %s %j", (field, value, expected) => {
    expect(path(() => rehearsedSource([relay], { ...source, [field]: value } as never))).toMatch(expected);
  });

  test.each([
    [undefined, "trial"],
    [null, "trial"],
    [{ level: 1, hold: 1 }, "trial.from"],
    [{ level: 1, from: "rest", hold: 0 }, "trial.hold"],
    [{ level: Number.NaN, from: "rest", hold: 1 }, "trial.level"],
    [{ level: -1, from: "previous", hold: 1 }, "lever.i.rms"],
  ])("refuses a trial by name: %j", (trial, expected) => {
    expect(path(() => rehearsedSource([relay], source)(trial as never))).toBe(expected);
  });
});
