/** Odd inputs that the fuzz script found, each now an InputError that names its field. */
import { differentialRegion, heightAt, mhoShare, outlineOf, quadrilateralShare } from "tripwright/characteristic";
import { coordinationMargin, timeBand } from "tripwright/curve";
import { distanceZone, standingAt } from "tripwright/element";
import { explain, nextInjection } from "tripwright/explain";
import { seriesFigure } from "tripwright/figure";
import { plan, readSheet, settingsOf, sourceErrors } from "tripwright/plan";
import { judge } from "tripwright/record";
import { rehearse, rehearsedSource } from "tripwright/rehearsal";
import { thd } from "tripwright/sinusoid";
import { recloseSequence, walk } from "tripwright/timeline";
import { expect, test } from "vitest";
import { problemsOf } from "../support/failure.js";
import {
  differential87T,
  distance21,
  dyn11,
  inverse51,
  read,
  tanneryLane,
  underfrequency81,
  undervoltage27,
} from "../support/sheets.js";

const sheet = read([inverse51]);
const settings = settingsOf(sheet);
const zone = settingsOf(read([distance21])).elements[0];
const course = {
  before: {},
  fault: {},
  dead: {},
  wiring: {},
  deadTimes: [0.5],
  reclaimTime: 30,
  returns: [],
  tripWithin: 1,
};
const planned = plan(sheet);
const damaged = {
  ...planned,
  checks: planned.checks.map((check) => (check.sweep ? { ...check, sweep: { ...check.sweep, from: "4 A" } } : check)),
};
const record = {
  ...judge(sheet, planned, [{ check: "51P/time@3", stage: "as-found", repeat: 1, value: 9 }]),
  plan: damaged,
};
const readAgain = judge(sheet, planned, [{ check: "51P/pickup", stage: "as-found", repeat: 1, value: 4.9 }]);

test.each<[what: string, ask: () => unknown, path: string]>([
  ["no region", () => heightAt(undefined as never, 1), "region"],
  ["a circle for a line", () => heightAt({ form: "circle", center: { x: 0, y: 0 }, radius: 1 } as never, 1), "form"],
  ["no place", () => heightAt({ form: "above", points: [{ x: 0, y: 1 }], slope: 0 }, Number.NaN), "x"],
  ["no impedance", () => mhoShare({ reach: 4, angle: 75 }, undefined as never), "impedance"],
  [
    "none in a quadrilateral",
    () =>
      quadrilateralShare(
        { reactance: 8, resistance: 4, lineAngle: 75, forward: { from: -15, to: 115 } },
        undefined as never,
      ),
    "impedance",
  ],
  ["a zone without a shape", () => distanceZone({ ...zone, zone: undefined } as never), "zone"],
  ["no pose", () => standingAt(undefined as never, 4), "pose"],
  ["dead times with a hole", () => recloseSequence({ ...course, deadTimes: new Array(1) } as never), "deadTimes[0]"],
  [
    "slopes that are no list",
    () => readSheet(tanneryLane([{ ...differential87T, slopes: "25 %" }], dyn11)),
    "elements[0].slopes",
  ],
  [
    "settings that are none",
    () => sourceErrors(undefined as never, { element: "51P", level: 4, channels: {}, wiring: {} }),
    "settings",
  ],
  ["a damaged sweep", () => explain({ ...readAgain, plan: record.plan } as never), "plan.checks.51P/pickup.sweep.from"],
  [
    "a rest that is no level",
    () =>
      rehearsedSource(settings.elements, {
        base: { i: { rms: 0, frequency: 50 } },
        lever: { i: { rms: 1 } },
        wiring: { i: { quantity: "current", feeds: { ia: 1 } } },
        rest: { level: {} as never, time: 1 },
        contact: "trip",
      }),
    "rest.level",
  ],
  [
    "a voltage at no frequency beside two at 50 Hz, for 2.12 s",
    () =>
      rehearse(settingsOf(read([undervoltage27, underfrequency81])).elements, {
        wiring: Object.fromEntries(
          ["va", "vb", "vc"].map((name) => [name, { quantity: "voltage", feeds: { [name]: 1 } }]),
        ),
        segments: [
          {
            name: "level 110.8",
            duration: 2.12,
            channels: {
              va: { rms: 63.97040982621054, frequency: 50, angle: 0 },
              vb: { rms: 63.97040982621054, frequency: 6.590640370268375e-14, angle: -120 },
              vc: { rms: 63.97040982621054, frequency: 50, angle: 120 },
            },
          },
        ],
      }),
    "timeline.segments[0].duration",
  ],
  [
    "a stage without restraint at the end of all doubles",
    () =>
      differentialRegion({
        pickup: 0.3,
        slopes: [
          { slope: 0.25, line: "through-origin" },
          { slope: 0.6, line: "from-knee", begins: 2 },
        ],
        unrestrained: Number.MAX_VALUE,
      }),
    "slopes",
  ],
  [
    "a line so steep that its end is no double",
    () => outlineOf({ form: "above", slope: Number.MAX_VALUE, points: [{ x: 6, y: 1 }] }, { extent: 15 }),
    "region",
  ],
  [
    "a reading taken at a number",
    () =>
      judge(
        sheet,
        planned,
        [{ check: "51P/time@3", stage: "as-found", repeat: 1, value: 9, takenAt: 20261125 as never }],
        {
          instruments: [],
        },
      ),
    "readings[0].takenAt",
  ],
  [
    "currents that are no numbers",
    () =>
      seriesFigure({
        title: "Tannery Lane",
        relays: [{ name: "F12", relay: { setting: { curve: "iec-very-inverse" }, pickup: 320 } }],
        currents: { from: Object.create(null), to: 8000 },
      }),
    "currents.from",
  ],
])("%s", (_what, ask, path) => {
  expect(problemsOf(ask).map((problem) => problem.path)).toContain(path);
});

test("channels that are a typed array are no channels by name", () => {
  const timeline = { wiring: {}, segments: [{ name: "only", duration: 1, channels: new Float64Array(0) as never }] };
  expect(problemsOf(() => walk(timeline, []))).toMatchObject([{ path: "segments[0].channels" }]);
});

test("ratios of amplitudes that no double holds, and channels of no quantity", () => {
  const spectrum = (first: number, third: number) => [
    { order: 1, rms: first },
    { order: 3, rms: third },
    { order: 5, rms: third },
  ];
  for (const odd of [spectrum(5e-324, 30), spectrum(1, 1.7e308)])
    expect(problemsOf(() => thd(odd))).toMatchObject([{ code: "out-of-range", path: "spectrum" }]);
  const voltsPerHertz = settingsOf(
    read(
      [
        {
          id: "24",
          function: "24",
          watches: "line-to-neutral",
          pickup: 1.1,
          delay: "2 s",
          accuracy: inverse51.accuracy,
        },
      ],
      {
        source: { accuracy: { voltage: { percent: 0.5 } } },
      },
    ),
  );
  const putOut = {
    element: voltsPerHertz.elements[0]!.id,
    level: 1.1,
    channels: { v: { rms: 69.86, frequency: 5e-324 } },
    wiring: { v: { quantity: "voltage", feeds: { va: 1, vb: 1, vc: 1 } } },
  } as const;
  expect(problemsOf(() => sourceErrors(voltsPerHertz, putOut))).toMatchObject([
    { code: "not-finite", path: "channels" },
  ]);
  expect(problemsOf(() => sourceErrors(voltsPerHertz, { ...putOut, element: "24B" }))).toMatchObject([
    { code: "unknown-name", path: "element", received: '"24B"' },
  ]);
});

test("a line at −0 is one at 0", () => {
  expect(heightAt({ form: "above", slope: 0.25, points: [{ x: 1.2, y: -0 }] }, 1)).toBe(0);
});

test("a margin of −0, and errors whose band no double holds", () => {
  const relay = (multiplier: number, pickup: number) =>
    ({ setting: { curve: "iec-inverse", multiplier }, pickup }) as const;
  const { tightest } = coordinationMargin({
    upstream: relay(0.4, 600),
    downstream: relay(0.2, 400),
    currents: { from: 800, to: 6000 },
    required: -0,
  });
  expect(tightest?.required).toBe(0);
  const huge = () => timeBand({ curve: "iec-very-inverse" }, 1.1, { form: "constant", percent: Number.MAX_VALUE });
  expect(problemsOf(huge)).toMatchObject([{ code: "out-of-range", path: "rule" }]);
});

test("a plan with a check of no element of the sheet tells no next injection", () => {
  const read = (check: string, value: number) => ({ check, value, stage: "as-found", repeat: 1 }) as const;
  const explanations = explain(judge(sheet, planned, [read("51P/pickup", 4.02), read("51P/time@3", 1.424)]));
  const checks = planned.checks.map((check) => ({ ...check, element: "51X" }));
  expect(problemsOf(() => nextInjection(explanations, { sheet, plan: { ...planned, checks } }))).toMatchObject([
    { path: "plan" },
  ]);
});
