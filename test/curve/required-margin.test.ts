/** requiredMargin: how much two relays in series need between them, alone and inside coordinationMargin. */
import fc from "fast-check";
import { coordinationMargin, requiredMargin } from "tripwright/curve";
import { describe, expect, test } from "vitest";
import { exactly, ulpsOff } from "../base/reference.js";
import { between } from "../support/curves.js";
import { problemsOf } from "../support/failure.js";
import { holds } from "../support/holds.js";
import { definite, very } from "./two-relays.js";

describe("the required margin", () => {
  test("is what is lost on errors of the downstream time, and three fixed times", () => {
    // Common practice, from memory: 0.25 · t + 0.25 s for electromechanical relays.
    expect(requiredMargin({ downstreamTime: 0 })).toBeCloseTo(0.25, 15);
    expect(requiredMargin({ downstreamTime: 2 })).toBeCloseTo(0.75, 15);
    const none = {
      breakerTime: 0,
      overshoot: 0,
      relayErrorsPercent: { upstream: 0, downstream: 0 },
      ctErrorPercent: 0,
      safetyTime: 0,
    };
    expect(requiredMargin({ ...none, downstreamTime: 3 })).toBe(0);
    const each = [
      [{ breakerTime: 0.5 }, 0.5],
      [{ overshoot: 0.5 }, 0.5],
      [{ safetyTime: 0.5 }, 0.5],
      [{ ctErrorPercent: 25 }, 0.75],
      [{ relayErrorsPercent: { upstream: 25, downstream: 0 } }, 0.75],
      [{ relayErrorsPercent: { upstream: 25, downstream: 50 } }, 2.25],
    ] as const;
    for (const [given, expected] of each)
      expect(requiredMargin({ ...none, ...given, downstreamTime: 3 })).toBe(expected);
    expect(requiredMargin({ ...none, relayErrorsPercent: { upstream: 2.5 }, downstreamTime: 1 })).toBeCloseTo(0.1, 15);
  });

  test("is within 4 units in the last place of 50-digit decimals", () => {
    const share = between(0, 20);
    const given = fc.record({
      breakerTime: between(0, 1),
      overshoot: between(0, 0.2),
      safetyTime: between(0, 0.5),
      ctErrorPercent: share,
    });
    holds(
      fc.property(given, share, share, between(0, 100), (rest, upstream, downstream, downstreamTime) => {
        const percent = exactly(upstream).plus(exactly(downstream)).plus(exactly(rest.ctErrorPercent));
        const times = exactly(rest.breakerTime).plus(exactly(rest.overshoot)).plus(exactly(rest.safetyTime));
        const exact = percent.div(100).times(exactly(downstreamTime)).plus(times);
        const margin = requiredMargin({ ...rest, relayErrorsPercent: { upstream, downstream }, downstreamTime });
        expect(ulpsOff(margin, exact)).toBeLessThanOrEqual(4);
      }),
    );
  });

  test("is kept by a margin that only rounding separates from it", () => {
    // In doubles 0.7 − 0.4 is 0.29999999999999993.
    const two = { upstream: definite(400, 0.7), downstream: definite(400, 0.4), currents: [1000] };
    expect(coordinationMargin({ ...two, required: 0.3 })).toMatchObject({ keeps: true, tightest: { spare: 0 } });
    expect(coordinationMargin({ ...two, required: 0.3000001 })).toMatchObject({ keeps: false });
    expect(coordinationMargin(two)).not.toHaveProperty("keeps");
  });

  test("grows with the downstream time where it is made from errors, so that the tightest place is another", () => {
    // Both times are 2.7/(I/400 − 1), the margin 0.5 s everywhere; 2.7 s at 800 A needs 0.925 s, 0.3 s at 4000 A 0.325 s.
    const { tightest, keeps, points } = coordinationMargin({
      upstream: very(400, 0.2, { addedTime: 0.5 }),
      downstream: very(400, 0.2),
      currents: { from: 800, to: 4000 },
      required: {},
    });
    expect(keeps).toBe(false);
    expect(tightest?.current).toBe(800);
    expect(tightest?.required).toBeCloseTo(0.925, 12);
    expect(tightest?.spare).toBeCloseTo(-0.425, 12);
    expect(points[1]?.spare).toBeCloseTo(0.175, 12);
    const shared = requiredMargin({ downstreamTime: points[1]?.downstream as number });
    expect(points[1]?.required).toBe(shared);
  });
});

describe("bad input is refused with its place", () => {
  test.each([
    ["no downstream time", {}, "downstreamTime"],
    ["a negative safety time", { downstreamTime: 1, safetyTime: -0.1 }, "safetyTime"],
    ["a misspelt allowance", { downstreamTime: 1, overshot: 0.1 }, "overshot"],
  ])("%s", (_what, given, path) => {
    expect(
      problemsOf(() => requiredMargin(given as { downstreamTime: number })).map((problem) => problem.path),
    ).toEqual([path]);
  });
});
