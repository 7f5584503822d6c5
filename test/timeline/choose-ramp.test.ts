import { Decimal } from "decimal.js";
import fc from "fast-check";
import {
  chooseRamp,
  type LinearWish,
  levelGrid,
  linearRamp,
  rampError,
  type StaircaseWish,
  staircase,
} from "tripwright/timeline";
import { describe, expect, test } from "vitest";
import { typedDecimals } from "../support/arbitraries.js";
import { problemsOf } from "../support/failure.js";
import { holds } from "../support/holds.js";

const D = Decimal.clone({ defaults: true, precision: 60 });

const level = typedDecimals({ digits: 3, places: 1 });
const size = typedDecimals({ digits: 3, places: 3, min: 1 });
const time = typedDecimals({ digits: 4, places: 3, min: 0 });
const delays = fc.tuple(time, time).map(([one, other]) => ({
  minimum: D.min(one.text, other.text).toFixed(),
  maximum: D.max(one.text, other.text).toFixed(),
}));
const wishes = fc
  .record({
    from: level.map(({ text }) => text),
    to: level.map(({ text }) => text),
    tolerance: size.map(({ text }) => text),
    share: fc.constantFrom("0.1", "0.2", "0.25", "1"),
    operateDelay: fc.oneof(
      time.map(({ text }) => text),
      delays,
    ),
    corrected: fc.boolean(),
  })
  .filter(({ from, to }) => Number(from) !== Number(to))
  // Well below the most levels, of which a case of its own tells.
  .filter((wish) => new D(wish.to).minus(wish.from).abs().lt(allowedBy(wish).times(10_000)));

const allowedBy = ({ tolerance, share }: { tolerance: string; share: string }): Decimal =>
  new D(tolerance).times(share);
const isRound = (x: number): boolean => ["1", "2", "5"].includes(new D(x).toExponential().split("e")[0] as string);
/** The next number of 1, 2, 5, 10, …, for a round one. */
const next = (x: number): Decimal => new D(x).times(new D(x).toExponential().startsWith("2") ? 2.5 : 2);
const longest = (delay: StaircaseWish["operateDelay"]): Decimal =>
  new D(typeof delay === "object" && "maximum" in delay ? String(delay.maximum) : String(delay));
/** What has to stay within the share, of an error. */
const weighed = (error: { bias: number; spread: number }, corrected: boolean): Decimal =>
  new D(corrected ? 0 : Math.abs(error.bias)).plus(error.spread);

describe("choosing a staircase", () => {
  test("its error, asked of rampError, stays within the share, and that of the next round step does not", () => {
    holds(
      fc.property(wishes, (wish) => {
        const chosen = chooseRamp(wish);
        if (chosen.kind === "none") throw new Error(chosen.reason);
        const { step, dwell } = chosen;
        const direction = Number(wish.to) > Number(wish.from) ? "rising" : "falling";
        const told = (width: Decimal | number) =>
          rampError({ direction, step: width, dwell, operateDelay: wish.operateDelay });
        const { bias, spread, standard, stepsLate } = chosen;
        expect({ bias, spread, standard, stepsLate }).toEqual(told(step));
        expect(stepsLate).toBe(0);
        expect(isRound(step)).toBe(true);
        expect(weighed(told(step), wish.corrected).lte(allowedBy(wish))).toBe(true);
        expect(weighed(told(next(step)), wish.corrected).gt(allowedBy(wish))).toBe(true);
      }),
    );
  });

  test("its levels and its time are those of the staircase that it describes", () => {
    const coarse = wishes.filter(({ tolerance, share }) => Number(tolerance) * Number(share) > 0.5);
    holds(
      fc.property(coarse, (wish) => {
        const chosen = chooseRamp(wish);
        if (chosen.kind === "none") throw new Error(chosen.reason);
        const pieces = staircase({ from: wish.from, to: wish.to, step: chosen.step, dwell: chosen.dwell });
        expect(chosen.levels).toBe(pieces.length);
        const total = pieces.reduce((sum, { duration }) => sum.plus(duration), new D(0));
        expect(chosen.totalTime).toBe(total.toNumber());
      }),
      50,
    );
  });

  test("each level is held for the longest delay and the margin, at least 50 ms, up to whole 10 ms and no further", () => {
    holds(
      fc.property(wishes, fc.option(size, { nil: undefined }), (wish, given) => {
        const chosen = chooseRamp({ ...wish, ...(given && { margin: given.text }) });
        if (chosen.kind === "none") throw new Error(chosen.reason);
        const held = new D(chosen.dwell);
        const needed = longest(wish.operateDelay).plus(given?.text ?? longest(wish.operateDelay));
        expect(held.gte(needed) && held.gte("0.05") && held.times(100).isInteger()).toBe(true);
        expect(held.minus("0.01").lt(needed) || held.eq("0.05")).toBe(true);
      }),
    );
  });

  test("three cycles of 60 Hz and as long again are held for 100 ms, not for 110 ms", () => {
    const cycles = { from: 1, to: 2, tolerance: 1, operateDelay: 3 / 60 };
    expect(chooseRamp(cycles)).toMatchObject({ kind: "found", dwell: 0.1 });
    expect(chooseRamp({ ...cycles, operateDelay: 1 / 60, margin: 5 / 60 })).toMatchObject({ dwell: 0.1 });
  });

  test("is a multiple of what the source can make, and the widest of those that are round", () => {
    const resolutions = fc.constantFrom(
      "0.001",
      "0.002",
      "0.0025",
      "0.005",
      "0.01",
      "0.04",
      "0.1",
      "0.25",
      "0.00390625",
    );
    holds(
      fc.property(wishes, resolutions, (wish, resolution) => {
        const chosen = chooseRamp({ ...wish, resolution });
        const limit = allowedBy(wish).times(wish.corrected ? 2 : 1);
        if (limit.lt(resolution)) {
          expect(chosen).toEqual({ kind: "none", reason: "resolution-too-coarse" });
          return;
        }
        if (chosen.kind === "none") throw new Error(chosen.reason);
        const round = Array.from({ length: 12 }, (_, i) => [1, 2, 5].map((digit) => new D(`${digit}e${i - 6}`))).flat();
        const possible = round.filter((step) => step.lte(limit) && step.mod(resolution).isZero());
        const wanted = possible.at(-1);
        if (wanted !== undefined) expect(chosen.step).toBe(wanted.toNumber());
        else {
          // None of the round steps is a multiple of the resolution: then the step is a round number of resolutions.
          const units = new D(chosen.step).div(resolution);
          expect(isRound(units.toNumber())).toBe(true);
          expect(units.times(resolution).lte(limit)).toBe(true);
          expect(next(units.toNumber()).times(resolution).gt(limit)).toBe(true);
        }
      }),
    );
  });

  test("a resolution of which no round number is a multiple is taken 1, 2 or 5 times", () => {
    const wish = { from: 3, to: 5, operateDelay: 0.04, resolution: 0.015 };
    expect(chooseRamp({ ...wish, tolerance: 0.2 })).toMatchObject({ step: 0.03 });
    expect(chooseRamp({ ...wish, tolerance: 0.1 })).toMatchObject({ step: 0.015 });
    // A third, which no decimal holds, fits three times into 1.
    expect(chooseRamp({ ...wish, resolution: 1 / 3, tolerance: 5 })).toMatchObject({ step: 1 });
  });

  test("exactly the share is within it, a hair less is not", () => {
    const wish = { from: 3, to: 5, operateDelay: 0.04, resolution: 0.04 };
    expect(chooseRamp({ ...wish, tolerance: 0.2 })).toMatchObject({ step: 0.04 });
    const none = { kind: "none", reason: "resolution-too-coarse" };
    expect(chooseRamp({ ...wish, tolerance: "0.19999999999999999999" })).toEqual(none);
    // With the bias taken off only half a step remains.
    expect(chooseRamp({ ...wish, tolerance: "0.1", corrected: true })).toMatchObject({ step: 0.04 });
    expect(chooseRamp({ ...wish, tolerance: "0.0999", corrected: true })).toEqual(none);
  });

  test("more than 100,000 levels are not walked", () => {
    const wish = { from: 0, tolerance: 5e-5, operateDelay: 0 };
    // A fifth of 5e-5 is 1e-5: 99,999 steps of it.
    expect(chooseRamp({ ...wish, to: "0.99999" })).toMatchObject({ levels: 100_000 });
    expect(chooseRamp({ ...wish, to: 1 })).toEqual({ kind: "none", reason: "too-many-levels" });
    expect(chooseRamp({ ...wish, to: 1e300 })).toEqual({ kind: "none", reason: "too-many-levels" });
    expect(levelGrid({ from: 0, to: "0.99999", step: 1e-5 })).toMatchObject({ count: 100_000 });
  });
});

describe("choosing an even movement", () => {
  const linear = wishes.map((wish): LinearWish & typeof wish => ({ ...wish, movement: "linear" }));

  test("its error, asked of rampError, stays within the share, that of the next round rate does not; or any rate will do", () => {
    holds(
      fc.property(linear, (wish) => {
        const chosen = chooseRamp(wish);
        const direction = Number(wish.to) > Number(wish.from) ? "rising" : "falling";
        const told = (rate: Decimal | number) => rampError({ direction, rate, operateDelay: wish.operateDelay });
        if (chosen.kind === "none") {
          expect(chosen.reason).toBe("any-rate");
          expect(weighed(told(1e9), wish.corrected).isZero()).toBe(true);
          return;
        }
        const { bias, spread, standard, stepsLate, rate } = chosen;
        expect({ bias, spread, standard, stepsLate }).toEqual(told(rate));
        expect(isRound(rate)).toBe(true);
        // The doubles of bias and spread are each rounded once.
        const share = allowedBy(wish);
        expect(weighed(told(rate), wish.corrected).lte(share.times(1 + 1e-15))).toBe(true);
        expect(weighed(told(next(rate)), wish.corrected).gt(share)).toBe(true);
        const [ramp] = linearRamp({ from: wish.from, to: wish.to, rate });
        expect(chosen.totalTime).toBe(ramp?.duration);
      }),
    );
  });

  test("a share that the rate meets exactly is met, in cycles of 60 Hz too", () => {
    // 0.2 · 0.5 Hz over 6 cycles of 60 Hz, which are 0.1 s: 1 Hz/s.
    const wish = { movement: "linear", from: 50, to: 48, tolerance: 0.5, operateDelay: 6 / 60 } as const;
    expect(chooseRamp(wish)).toMatchObject({ kind: "found", rate: 1, totalTime: 2, bias: -0.1 });
    // 0.1 over 1/60 s is 6 a second, and 5 is the round one below; over 1/30 s with a tenth of it, 0.3 and 0.2.
    expect(chooseRamp({ ...wish, operateDelay: 1 / 60 })).toMatchObject({ rate: 5 });
    // A tolerance of 7/60 over 7/60 s, by a share of 1, is 1 a second.
    expect(chooseRamp({ ...wish, tolerance: 7 / 60, operateDelay: 7 / 60, share: 1 })).toMatchObject({ rate: 1 });
  });
});

describe("chooseRamp refuses by name", () => {
  const wish = { from: 1, to: 2, tolerance: 1, operateDelay: 0 };
  test.each([
    ["equal ends", { ...wish, to: "1.0" }, "out-of-range", "to"],
    ["no tolerance", { from: 1, to: 2, operateDelay: 0 }, "missing", "tolerance"],
    ["a tolerance of 0", { ...wish, tolerance: 0 }, "out-of-range", "tolerance"],
    ["a share of 0", { ...wish, share: 0 }, "out-of-range", "share"],
    ["a share of more than all", { ...wish, share: 20 }, "out-of-range", "share"],
    ["a resolution of 0", { ...wish, resolution: 0 }, "out-of-range", "resolution"],
    ["a margin of 0", { ...wish, margin: 0 }, "out-of-range", "margin"],
    ["a negative delay", { ...wish, operateDelay: -0.01 }, "out-of-range", "operateDelay"],
    ["an end that is no number", { ...wish, from: Number.NaN }, "not-finite", "from"],
    ["a correction that is no yes or no", { ...wish, corrected: "yes" }, "wrong-type", "corrected"],
    ["an unknown movement", { ...wish, movement: "jump" }, "unknown-name", "movement"],
    ["a resolution of an even movement", { ...wish, movement: "linear", resolution: 1 }, "unknown-key", "resolution"],
    ["a margin of an even movement", { ...wish, movement: "linear", margin: 1 }, "unknown-key", "margin"],
    ["a misspelt key", { ...wish, steps: 3 }, "unknown-key", "steps"],
  ])("%s", (_what, given, code, path) => {
    expect(problemsOf(() => chooseRamp(given as never))).toMatchObject([{ code, path }]);
  });

  test("what it cannot read or say, at the field from which that comes", () => {
    const said = (given: object) => problemsOf(() => chooseRamp({ ...wish, ...given } as never));
    expect(said({ to: "x" })).toMatchObject([{ code: "unreadable", path: "to" }]);
    expect(said({ margin: 0 })).toMatchObject([{ path: "margin", expected: "a time above 0 s" }]);
    // Steps, rates and times that no double holds.
    const linear = { movement: "linear", operateDelay: 1 } as const;
    for (const given of [
      { tolerance: 1.7e308, share: 1, corrected: true },
      { tolerance: 1e-300, share: "1e-300" },
      { ...linear, tolerance: 1e308, share: 1, operateDelay: 0.1 },
      { ...linear, to: 1e308, tolerance: 1e-10 },
    ])
      expect(said(given)).toMatchObject([{ code: "out-of-range", path: "tolerance" }]);
    for (const given of [{ operateDelay: 1e308 }, { to: 100, tolerance: 0.01, operateDelay: 1e304 }])
      expect(said(given)).toMatchObject([{ code: "out-of-range", path: "operateDelay" }]);
  });

  test.each([null, undefined, 1, "wish", []])("%j in place of a wish", (given) => {
    expect(problemsOf(() => chooseRamp(given as never))).toHaveLength(1);
  });
});
