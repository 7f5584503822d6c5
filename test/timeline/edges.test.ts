/** Edges that once went wrong: each was found by a property, and is kept by name. */
import { atLevel, faultSequence, levels, linearRamp, ramp, stateAt, totalTime } from "tripwright/timeline";
import { describe, expect, test } from "vitest";
import { problemsOf } from "../support/failure.js";

const wiring = { i: { quantity: "current", feeds: { ia: 1 } } } as const;
const state = { rms: 1, frequency: 50 };
const lever = { i: { rms: 1 } };
const piece = { duration: 1, from: 1, to: 1 };

describe("ramps", () => {
  test.each([
    ["a base that moves by itself", { base: { i: { ...state, slope: { angle: 10 } } } }, "base.i.slope"],
    ["no pieces", { pieces: undefined }, "pieces"],
    ["an empty list of pieces", { pieces: [] }, "pieces"],
    ["a piece that takes no time", { pieces: [{ ...piece, duration: 0 }] }, "pieces[0].duration"],
  ])("%s is refused by name", (_what, change, path) => {
    const moved = { base: { i: state }, lever, pieces: [piece], wiring, ...change };
    expect(problemsOf(() => ramp(moved as never))).toMatchObject([{ path }]);
  });

  test("a level that leads to 0 may do so by way of a rounding: 0.3 − 3 · 0.1", () => {
    expect(atLevel({ i: { rms: 0.3, frequency: 50 } }, { lever: { i: { rms: -0.1 } }, level: 3 })["i"]?.rms).toBe(0);
    expect(
      problemsOf(() => atLevel({ i: { rms: 0.3, frequency: 50 } }, { lever: { i: { rms: -0.1 } }, level: 3.001 })),
    ).toHaveLength(1);
  });

  test("a ramp that would take no time, and steps that doubles cannot tell apart, are refused", () => {
    expect(problemsOf(() => linearRamp({ from: 0, to: 1e-300, rate: 1e300 }))).toMatchObject([{ path: "rate" }]);
    expect(problemsOf(() => levels({ from: 1e17, to: 1e17 + 32, step: 4 }))).toMatchObject([{ path: "step" }]);
  });
});

describe("states", () => {
  const timeline = (change: object) => ({
    wiring,
    segments: [{ name: "on", duration: 1, channels: { i: state }, ...change }],
  });
  test.each([
    ["an end that is nothing", { endsOn: null }, "segments[0].endsOn"],
    ["an end that is neither", { endsOn: { contact: "trip", to: "shut" } }, "segments[0].endsOn.to"],
    ["a slope that is nothing", { channels: { i: { ...state, slope: null } } }, "segments[0].channels.i.slope"],
    [
      "a misspelt slope",
      { channels: { i: { ...state, slope: { freqency: 1 } } } },
      "segments[0].channels.i.slope.freqency",
    ],
    [
      "an offset that is no number",
      { channels: { i: { ...state, offset: Number.NaN } } },
      "segments[0].channels.i.offset",
    ],
  ])("%s is refused by name", (_what, change, path) => {
    expect(problemsOf(() => totalTime(timeline(change) as never))).toMatchObject([{ path }]);
  });

  test("what follows a fault may not carry keys of its own", () => {
    const afterwards = { channels: { i: state }, duration: 1, clock: "starts" } as never;
    const sequence = { before: { i: state }, fault: { i: state }, settleFor: 1, giveUpAfter: 1, afterwards, wiring };
    expect(problemsOf(() => faultSequence(sequence))).toMatchObject([{ path: "afterwards.clock" }]);
  });

  test("a channel that is never on has no frequency, in however many states", () => {
    const segments = Array.from({ length: 5_000 }, (_, i) => ({ name: `${i}`, duration: 0.02, channels: {} }));
    expect(stateAt({ wiring, segments }, 99).channels["i"]).toEqual({ rms: 0, frequency: 0, phase: 0 });
  });
});
