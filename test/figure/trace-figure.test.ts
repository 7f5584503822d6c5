/** Captured waves: the samples as they are, at start + n/sampleRate. */
import fc from "fast-check";
import { type CapturedTrace, type TraceFigureOptions, traceFigure } from "tripwright/figure";
import { describe, expect, test } from "vitest";
import { problemsOf } from "../support/failure.js";
import { holds } from "../support/holds.js";
import { axisOf, checkData, drawn, layersOf, rowsOf, viewsOf } from "./drawn.js";

const current: CapturedTrace = {
  name: "ia",
  quantity: "current",
  samples: [0, 3, 5, 3, 0, -3, -5, -3],
  sampleRate: 400,
  start: -0.005,
};
const voltage: CapturedTrace = { name: "va", quantity: "voltage", samples: [60, -60, 60], sampleRate: 200 };
const figureOf = (change: Partial<TraceFigureOptions> = {}) =>
  traceFigure({ title: "As captured", traces: [current, voltage], ...change });

describe("the samples", () => {
  test("are drawn where they were taken, each quantity in its panel", () => {
    const figure = figureOf();
    const rows = rowsOf(figure, /^current course/).map(({ time, value }) => [time, value]);
    expect(rows).toEqual([
      [expect.closeTo(-0.005, 15), 0],
      [expect.closeTo(-0.0025, 15), 3],
      [0, 5],
      [expect.closeTo(0.0025, 15), 3],
      [expect.closeTo(0.005, 15), 0],
      [expect.closeTo(0.0075, 15), -3],
      [expect.closeTo(0.01, 15), -5],
      [expect.closeTo(0.0125, 15), -3],
    ]);
    expect(rowsOf(figure, /^voltage course/).map(({ value }) => value)).toEqual([60, -60, 60]);
    expect(viewsOf(figure).map(({ layer }) => axisOf(layer.at(-1) as never, "y").axis.title)).toEqual([
      "Voltage (V)",
      "Current (A)",
    ]);
    checkData(figure);
  });

  test("are all of those of the window, and no others", () => {
    holds(
      fc.property(
        fc.array(fc.double({ min: -1e3, max: 1e3, noNaN: true }), { minLength: 10, maxLength: 60 }),
        fc.double({ min: -1, max: 1, noNaN: true }),
        fc.tuple(fc.integer({ min: 0, max: 4 }), fc.integer({ min: 5, max: 9 })),
        (samples, start, [low, high]) => {
          // Half a sample beside them, so that rounding decides nothing.
          const [from, to] = [start + (low + 0.5) / 1000, start + (high - 0.5) / 1000];
          const traces = [{ ...current, samples, sampleRate: 1000, start }];
          if (high - low < 3) return;
          const rows = rowsOf(figureOf({ traces, from, to }), /^current course/);
          expect(rows.map(({ value }) => value)).toEqual(samples.slice(low + 1, high).map((x) => x + 0));
        },
      ),
    );
  });
});

test("what began when stands above, and a rule where it begins", () => {
  const states = [
    { name: "fault", startedAt: 0 },
    { name: "breaker open", startedAt: 0.006 },
  ];
  const figure = figureOf({ states });
  expect(rowsOf(figure, /^voltage states/).map(({ time }) => time)).toEqual([0, 0.006]);
  expect(rowsOf(figure, /state names/).map(({ label }) => label)).toEqual(["before", "fault", "breaker open"]);
  expect(figure.description).toMatch("fault begins at 0 s; breaker open begins at 0.006 s.");
  expect(rowsOf(figureOf(), /states/)).toEqual([]);
  expect(rowsOf(figureOf(), /state names/).filter(({ label }) => label !== "")).toEqual([]);
  expect(rowsOf(figureOf({ states, from: 0.001 }), /state names/).map(({ label }) => label)).toEqual([
    "fault",
    "breaker open",
  ]);
});

test("is drawn", async () => {
  expect(await drawn(figureOf({ states: [{ name: "fault", startedAt: 0 }] }))).toMatch("fault");
});

test("the axis of time runs over what was captured, also from before its zero", () => {
  expect(axisOf(layersOf(figureOf())[0] as never, "x").scale.domain).toEqual([-0.005, 0.0125]);
});

test.each<readonly [string, Partial<TraceFigureOptions>, string, string]>([
  ["no trace", { traces: [] }, "traces", "one trace or more"],
  ["a hole", { traces: new Array(1) as never[] }, "traces[0]", "an object with"],
  ["one sample", { traces: [{ ...current, samples: [1] }] }, "traces[0].samples", "two samples or more"],
  ["a sample that is none", { traces: [{ ...current, samples: [1, Number.NaN] }] }, "traces[0].samples[1]", "a finite"],
  ["a rate of nothing", { traces: [{ ...current, sampleRate: 0 }] }, "traces[0].sampleRate", "above 0 Hz"],
  [
    "another quantity",
    { traces: [{ ...current, quantity: "power" as never }] },
    "traces[0].quantity",
    "voltage, current",
  ],
  ["a window before it", { from: -0.006 }, "from", "a time from -0.005 to 0.0125 s, as captured"],
  ["a window behind it", { to: 0.02 }, "to", "a time from -0.005 to 0.0125 s, as captured"],
  ["a window of nothing", { from: 0.005, to: 0.005 }, "to", "a time above 0.005 s"],
  ["a window between samples", { from: 0.0051, to: 0.0052 }, "to", "a window of 0.01 s or more"],
  [
    "a state before the one before it",
    {
      states: [
        { name: "a", startedAt: 1 },
        { name: "b", startedAt: 1 },
      ],
    },
    "states[1].startedAt",
    "after 1 s",
  ],
  ["a hole among states", { states: new Array(1) as never[] }, "states[0]", "a state {"],
  ["a state without a name", { states: [{ startedAt: 1 } as never] }, "states[0].name", "a name"],
  ["a misspelt option", { until: 1 } as never, "until", "one of title"],
])("%s is refused", (_what, change, path, expected) => {
  const [problem] = problemsOf(() => figureOf(change));
  expect(problem).toMatchObject({ path });
  expect(problem?.expected).toContain(expected);
});

test("more samples than a picture shows are refused with their number", () => {
  const traces = [{ ...current, samples: new Float64Array(20_002), sampleRate: 1000, start: 0 }];
  expect(problemsOf(() => figureOf({ traces }))).toMatchObject([
    { path: "to", code: "too-many", received: '"20001 samples"' },
  ]);
});
