import { Decimal } from "decimal.js";
import fc from "fast-check";
import { offsetSinusoid, valueAt } from "tripwright/sinusoid";
import { faultSequence, stateAt } from "tripwright/timeline";
import { describe, expect, test } from "vitest";
import { problemsOf } from "../support/failure.js";
import { holds } from "../support/holds.js";
import { apart, hundredths, milliseconds, PROMISED } from "./phases.js";

const D = Decimal.clone({ defaults: true, precision: 60 });

const wiring = {
  i: { quantity: "current", feeds: { ia: 1 } },
  v: { quantity: "voltage", feeds: { va: 1 } },
} as const;
const struck = (given: { frequency?: number; angle?: number; settleFor: number; inception: number }) => {
  const { frequency = 50, angle = 0, settleFor, inception } = given;
  const v = { rms: 63.5, frequency, angle };
  return faultSequence({
    before: { v },
    fault: { v: { ...v, rms: 20 } },
    settleFor,
    giveUpAfter: 1,
    inception: { channel: "v", angle: inception },
    wiring,
  });
};
const startOf = (given: Parameters<typeof struck>[0]) => struck(given).segments[0]!.duration;

describe("the inception of a fault", () => {
  const given = fc.record({
    frequency: hundredths(16, 70),
    angle: hundredths(-400, 400),
    settleFor: milliseconds(1, 5000),
    inception: hundredths(-400, 400),
  });

  test("is the phase that the channel has when the fault begins", () => {
    holds(
      fc.property(given, (one) => {
        const timeline = struck(one);
        const { phase } = stateAt(timeline, timeline.segments[0]!.duration).channels["v"]!;
        expect(apart(phase, one.inception)).toBeLessThanOrEqual(PROMISED);
      }),
    );
  });

  test("is as near as the duration, a double, lets it be: 8e-14° for each cycle before the fault", () => {
    const settling = fc.tuple(fc.integer({ min: 1, max: 999 }), fc.integer({ min: -2, max: 3 }));
    holds(
      fc.property(given, settling, (one, [digits, power]) => {
        const timeline = struck({ ...one, settleFor: Number(`${digits}e${power}`) });
        const { duration } = timeline.segments[0]!;
        const { phase } = stateAt(timeline, duration).channels["v"]!;
        // A unit in the last place, 2^-52 of the duration at most: half of it where the double was rounded, half where it is read
        // as its shortest decimal. The phase is rounded as well.
        const cycles = one.frequency * duration;
        expect(apart(phase, one.inception)).toBeLessThanOrEqual(360 * 2 ** -52 * cycles + 1e-13);
        expect(360 * 2 ** -52).toBeLessThan(8e-14);
      }),
    );
  });

  test("comes with the first fitting cycle that is not before the settling time is over", () => {
    holds(
      fc.property(given, (one) => {
        const beyond = new D(startOf(one)).minus(one.settleFor).times(one.frequency);
        // A duration is a double: it may lie its own rounding beside the instant.
        expect(beyond.gte(-1e-12)).toBe(true);
        expect(beyond.lt(1)).toBe(true);
      }),
    );
  });

  test("does not wait a cycle where the settling time ends on it, at 50 and 60 Hz", () => {
    holds(
      fc.property(fc.constantFrom(50, 60), fc.integer({ min: 1, max: 2000 }), fc.nat(3), (frequency, n, quarters) => {
        const settleFor = (4 * n + quarters) / (4 * frequency);
        expect(startOf({ frequency, settleFor, inception: 90 * quarters })).toBe(settleFor);
        expect(startOf({ frequency, settleFor, inception: 90 * quarters + 30, angle: 30 })).toBe(settleFor);
      }),
    );
    expect(startOf({ frequency: 60, settleFor: 1 / 240, inception: 90 })).toBe(1 / 240);
  });

  test("by hand: a second at 50 Hz, then a quarter of a cycle to 90°, three quarters to −90°", () => {
    expect(startOf({ settleFor: 1, inception: 90 })).toBe(1.005);
    expect(startOf({ settleFor: 1, inception: -90 })).toBe(1.015);
    expect(startOf({ settleFor: 1, inception: -90, angle: 90 })).toBe(1.01);
    expect(startOf({ settleFor: 1, inception: 720 })).toBe(1);
  });

  test("counts with the angle of the healthy state: the fault's own angle is a jump from there", () => {
    const timeline = faultSequence({
      before: { v: { rms: 63.5, frequency: 50, angle: 10 } },
      fault: { v: { rms: 20, frequency: 50, angle: 40 } },
      settleFor: 1,
      giveUpAfter: 1,
      inception: { channel: "v", angle: 90 },
      wiring,
    });
    expect(stateAt(timeline, timeline.segments[0]!.duration).channels["v"]!.phase).toBeCloseTo(120, 9);
  });

  test("changes nothing but how long the healthy state lasts", () => {
    const { segments } = struck({ settleFor: 1, inception: 90 });
    const { segments: without } = struck({ settleFor: 1, inception: 0 });
    expect(segments).toEqual([{ ...without[0], duration: 1.005 }, without[1]]);
  });

  test("a current with its decaying part begins at 0 and is the current that was computed", () => {
    const cases = fc.record({
      healthy: hundredths(-180, 180),
      zeroCrossing: hundredths(-180, 180),
      xOverR: hundredths(1, 40),
      frequency: fc.constantFrom(50, 60),
      settleFor: milliseconds(1, 3000),
    });
    holds(
      fc.property(cases, milliseconds(0, 200), ({ healthy, zeroCrossing, xOverR, frequency, settleFor }, since) => {
        const current = offsetSinusoid({ rms: 20, frequency, inception: zeroCrossing, xOverR });
        // From the crest, a zero crossing upward is at −90°.
        const fromCrest = zeroCrossing - 90;
        const timeline = faultSequence({
          before: { v: { rms: 63.5, frequency, angle: healthy } },
          fault: {
            v: { rms: 20, frequency, angle: healthy },
            i: { ...current, angle: current.angle! + healthy - fromCrest },
          },
          settleFor,
          giveUpAfter: 1,
          inception: { channel: "v", angle: fromCrest },
          wiring,
        });
        const start = timeline.segments[0]!.duration;
        const valueSince = (t: number) => {
          const { phase, ...wave } = stateAt(timeline, start + t).channels["i"]!;
          return valueAt({ ...wave, angle: phase }, 0);
        };
        expect(Math.abs(valueSince(0))).toBeLessThanOrEqual(20 * 1e-10);
        expect(Math.abs(valueSince(since) - valueAt(current, since))).toBeLessThanOrEqual(20 * 1e-10);
      }),
    );
  });

  const v = { rms: 63.5, frequency: 50 };
  test.each([
    ["a channel that is not wired", { inception: { channel: "w", angle: 0 } }, "not-applicable", "inception.channel"],
    [
      "a channel that is not named before",
      { inception: { channel: "i", angle: 0 } },
      "not-applicable",
      "inception.channel",
    ],
    [
      "a name that objects have from birth",
      { inception: { channel: "constructor", angle: 0 } },
      "not-applicable",
      "inception.channel",
    ],
    ["a channel without voltage", { before: { v: { ...v, rms: 0 } } }, "not-applicable", "inception.channel"],
    ["a channel of direct voltage", { before: { v: { ...v, frequency: 0 } } }, "not-applicable", "inception.channel"],
    [
      "a healthy state that moves",
      { before: { v, i: { ...v, slope: { rms: 1 } } } },
      "not-applicable",
      "before.i.slope",
    ],
    ["an angle that is text", { inception: { channel: "v", angle: "90" } }, "wrong-type", "inception.angle"],
    ["an angle that is no number", { inception: { channel: "v", angle: Number.NaN } }, "not-finite", "inception.angle"],
    ["no channel", { inception: { angle: 0 } }, "not-applicable", "inception.channel"],
    ["no angle", { inception: { channel: "v" } }, "missing", "inception.angle"],
    ["nothing", { inception: null }, "wrong-type", "inception"],
    ["a misspelt key", { inception: { channel: "v", angel: 0 } }, "unknown-key", "inception.angel"],
    ["an endless cycle", { before: { v: { ...v, frequency: 5e-324 } } }, "out-of-range", "inception"],
  ])("%s is refused with its path", (_, change, code, path) => {
    const sequence = {
      before: { v },
      fault: { v },
      settleFor: 1,
      giveUpAfter: 1,
      inception: { channel: "v", angle: 90 },
      wiring,
    };
    expect(problemsOf(() => faultSequence({ ...sequence, ...change } as never))).toMatchObject([{ code, path }]);
  });
});
