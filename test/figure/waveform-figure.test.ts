/** Waveforms: the samples are those of `render`. */
import { type WaveformFigureOptions, waveformFigure } from "tripwright/figure";
import { faultSequence, render } from "tripwright/timeline";
import { describe, expect, test } from "vitest";
import { problemsOf } from "../support/failure.js";
import { axisOf, checkData, drawn, layersOf, rowsOf, viewsOf } from "./drawn.js";

const timeline = faultSequence({
  before: { i: { rms: 1, frequency: 50 }, v: { rms: 63.5, frequency: 50 } },
  fault: {
    i: { rms: 12, frequency: 50, angle: -75, decay: { initial: -5, tau: 0.04 } },
    v: { rms: 20, frequency: 50, harmonics: [{ order: 3, rms: 4 }] },
  },
  settleFor: 0.3,
  giveUpAfter: 0.5,
  wiring: { i: { quantity: "current", feeds: { ia: 1 } }, v: { quantity: "voltage", feeds: { va: 1 } } },
});
const figureOf = (change: Partial<WaveformFigureOptions> = {}) =>
  waveformFigure({ title: "Into the fault", timeline, ...change });

describe("the samples", () => {
  test.each([
    ["v", "voltage", {}],
    ["i", "current", {}],
    ["i", "current", { sampleRate: 1000, from: 0.011, to: 0.35 }],
    ["v", "voltage", { sampleRate: 4800, from: 0, to: 0.8 }],
  ] as const)("of %s in the panel of %s are those of render", (channel, panel, options) => {
    const {
      sampleRate = 6400,
      from = 0.26,
      to = 0.36,
    } = options as { sampleRate?: number; from?: number; to?: number };
    const samples = [...render(timeline, { channel, sampleRate })];
    const wanted = samples
      .map((value, n) => ({ time: n / sampleRate, value: value + 0 }))
      .filter(({ time }) => time >= from && time <= to);
    const figure = figureOf(options);
    const rows = rowsOf(figure, new RegExp(`^${panel} course`)).map(({ time, value }) => ({ time, value }));
    expect(rows.length).toBeGreaterThan(100);
    expect(rows).toEqual(wanted);
    checkData(figure);
  });
});

test("the window opens 40 ms before the state that starts the clock, and shows where that begins", () => {
  const figure = figureOf();
  expect(axisOf(layersOf(figure)[0] as never, "x").scale.domain).toEqual(
    [0.26, 0.36].map((x) => expect.closeTo(x, 12)),
  );
  expect(rowsOf(figure, /^voltage states/).map(({ time }) => time)).toEqual([0.3]);
  expect(rowsOf(figure, /state names/).map(({ label }) => label)).toEqual(["pre-fault", "fault"]);
  expect(figure.description).toContain("fault begins at 0.3 s");
});

test("voltages and currents have panels of their own, with units", () => {
  const titles = viewsOf(figureOf()).map(({ layer }) => axisOf(layer.at(-1) as never, "y").axis.title);
  expect(titles).toEqual(["Voltage (V)", "Current (A)"]);
  expect(viewsOf(figureOf({ channels: ["i"] }))).toHaveLength(1);
});

test("is drawn", async () => {
  expect(await drawn(figureOf())).toContain(">Voltage (V)<");
});

test("a window of two sample intervals holds two samples, as the refusal of a shorter one says", () => {
  const refused = problemsOf(() => figureOf({ from: 0.30001, to: 0.30002 }))[0];
  // 2/6400 Hz = 0.0003125 s.
  expect(refused?.expected).toBe("a window of 0.0003125 s or more, so that it holds 2 samples at 6400 Hz");
  expect(rowsOf(figureOf({ from: 0.30001, to: 0.30001 + 0.0003125 }), /^current course/)).toHaveLength(2);
});

describe("refuses", () => {
  test.each([
    ["an unknown option", { rate: 1 }, "rate"],
    ["a channel that is not wired", { channels: ["x"] }, "channels[0]"],
    ["a sample rate below twice the highest frequency", { sampleRate: 250 }, "sampleRate"],
    ["a sample rate that is none", { sampleRate: Number.NaN }, "sampleRate"],
    ["a window before the start", { from: -1 }, "from"],
    ["a window beyond the end", { to: 0.9 }, "to"],
    ["a window that ends before it begins", { from: 0.3, to: 0.2 }, "to"],
    ["a window with one sample", { from: 0.2999, to: 0.30001 }, "to"],
    ["a window without a sample", { from: 0.30001, to: 0.30002 }, "to"],
    ["more samples than a picture holds", { sampleRate: 1e6 }, "to"],
  ])("%s", (_what, change, path) => {
    expect(problemsOf(() => figureOf(change as Partial<WaveformFigureOptions>))[0]?.path).toBe(path);
  });
});
