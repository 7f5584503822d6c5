import fc from "fast-check";
import { atLevel, levels, linearRamp, type Piece, ramp, staircase, stateAt, totalTime } from "tripwright/timeline";
import { describe, expect, test } from "vitest";
import { typedDecimals } from "../support/arbitraries.js";
import { problemsOf } from "../support/failure.js";
import { holds } from "../support/holds.js";

const wiring = {
  i: { quantity: "current", feeds: { ia: 1 } },
  v: { quantity: "voltage", feeds: { va: 1 } },
} as const;
const base = { i: { rms: 0, frequency: 50 }, v: { rms: 63.5, frequency: 50, angle: 10 } };
const lever = { i: { rms: 1 } };

// Levels from a millionth up: nobody ramps through the smallest doubles.
const amount = fc.oneof(fc.constant(0), fc.double({ min: 1e-6, max: 100, noNaN: true }));
const piece: fc.Arbitrary<Piece> = fc.record({
  duration: fc.double({ min: 1e-3, max: 1e3, noNaN: true }),
  from: amount,
  to: amount,
});
const quantity = fc.constantFrom("rms", "frequency", "angle");

describe("ramp", () => {
  test("a staircase makes one state for each level, held for the dwell, with no clock started", () => {
    const range = { from: 3.6, to: 4.4, step: 0.04 };
    const { segments } = ramp({ base, lever, wiring, pieces: staircase({ ...range, dwell: 0.5 }) });
    expect(segments.map(({ channels }) => channels)).toEqual(
      levels(range).map((level) => atLevel(base, { lever, level })),
    );
    expect(segments.every(({ duration, clock }) => duration === 0.5 && clock === undefined)).toBe(true);
    expect(segments[1]!.name).toContain("3.64");
  });

  test("a piece that moves starts at `from`, and slope · duration lands on `to`", () => {
    const states = { i: { rms: 50, frequency: 50, angle: 10 } };
    const by = fc.oneof(
      fc.double({ min: -0.45, max: -1e-3, noNaN: true }),
      fc.double({ min: 1e-3, max: 5, noNaN: true }),
    );
    holds(
      fc.property(piece, quantity, by, (moved, name, slope) => {
        const moving = { i: { [name]: slope } };
        const state = ramp({ base: states, lever: moving, wiring, pieces: [moved] }).segments[0]!.channels["i"]!;
        const [start, end] = [moved.from, moved.to].map(
          (level) => atLevel(states, { lever: moving, level })["i"]![name]!,
        ) as [number, number];
        expect(state[name]).toBe(start);
        // No more than ten roundings, each of at most half a unit, of numbers up to this size.
        const size = Math.abs(start) + Math.abs(end) + Math.abs(slope) * (moved.from + moved.to);
        const landed = start + (state.slope?.[name] ?? 0) * moved.duration;
        expect(Math.abs(landed - end)).toBeLessThanOrEqual(10 * 2 ** -53 * size);
      }),
    );
  });

  test("a ramp down to 0 is accepted at any rate, and ends at 0 or a hair above it", () => {
    const typed = typedDecimals({ digits: 4, places: 3, min: 1 });
    holds(
      fc.property(typed, typed, (from, rate) => {
        const timeline = ramp({ base, lever, wiring, pieces: linearRamp({ from: from.text, to: 0, rate: rate.text }) });
        const { rms } = stateAt(timeline, totalTime(timeline)).channels["i"]!;
        expect(rms).toBeGreaterThanOrEqual(0);
        expect(rms).toBeLessThanOrEqual(1e-15 * Number(from.text));
      }),
    );
  });

  test("pieces that meet make a ramp without a jump", () => {
    const pieces = [...linearRamp({ from: 0, to: 8, rate: 4 }), ...linearRamp({ from: 8, to: 2, rate: 0.5 })];
    const timeline = ramp({ base, lever, wiring, pieces });
    const current = (t: number) => stateAt(timeline, t).channels["i"]!.rms;
    expect([0, 1, 2, 4, 14].map(current)).toEqual([0, 4, 8, 7, 2]);
  });

  test("states are named by their levels: one that stands by its level, one that moves by both ends", () => {
    const pieces = [...linearRamp({ from: 1, to: 2.5, rate: 1 }), { duration: 1, from: 2.5, to: 2.5 }];
    expect(ramp({ base, lever, wiring, pieces }).segments.map(({ name }) => name)).toEqual([
      "level 1 to 2.5",
      "level 2.5",
    ]);
  });

  test("what a lever does not move stands at 0, not at −0, on the way down too", () => {
    const pieces = linearRamp({ from: 2, to: 1, rate: 1 });
    const { segments } = ramp({ base, lever: { i: { rms: 1, frequency: 0 } }, wiring, pieces });
    expect(segments[0]!.channels["i"]!.slope).toEqual({ rms: -1, frequency: 0 });
  });

  const held = { duration: 1, from: 1, to: 1 };
  test.each([
    ["a piece without duration", { pieces: [{ ...held, duration: 0 }] }, "out-of-range", /\[0\]\.duration$/],
    ["a level below 0", { pieces: [held, { ...held, from: -1, to: -1 }] }, "out-of-range", /^pieces\[1\].*rms$/],
    ["a ramp that would end below 0", { pieces: [{ ...held, to: -1 }] }, "out-of-range", /\[0\].*rms$/],
    ["a piece from nowhere", { pieces: [{ ...held, from: Number.NaN }] }, "not-finite", /^pieces\[0\]\.from$/],
    ["a piece to nowhere", { pieces: [{ ...held, to: Number.NaN }] }, "not-finite", /^pieces\[0\]\.to$/],
    ["a piece that is no object", { pieces: [held, 3] }, "wrong-type", /^pieces\[1\]$/],
    ["a lever on an unknown channel", { lever: { z: { rms: 1 } } }, "unknown-name", /^lever\.z$/],
    ["a base on an unwired channel", { wiring: { i: wiring.i } }, "unknown-name", /channels\.v$/],
    ["a misspelt key", { piece: [] }, "unknown-key", /^piece$/],
    ["a wiring that is nothing", { wiring: null }, "wrong-type", /^wiring$/],
    ["a base that is nothing", { base: null }, "wrong-type", /^base$/],
    [
      "a base that moves by itself",
      { base: { ...base, i: { ...base.i, slope: { rms: 1 } } } },
      "not-applicable",
      /^base\.i\.slope$/,
    ],
    [
      "a rate of change that would have to move",
      { lever: { i: { frequencyRate: 1 } }, pieces: [{ ...held, to: 2 }] },
      "not-applicable",
      /^lever\.i\.frequencyRate$/,
    ],
  ])("%s is refused by name", (_, change, code, path) => {
    const moved = { base, lever, wiring, pieces: [held], ...change };
    expect(problemsOf(() => ramp(moved as never))).toMatchObject([{ code, path: expect.stringMatching(path) }]);
  });
});
