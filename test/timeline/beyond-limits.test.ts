/** What is told of an exceedance: which limit, in which unit, and where one ends and the next begins. */
import fc from "fast-check";
import { type ChannelState, checkSource, type SourceLimits } from "tripwright/timeline";
import { describe, expect, test } from "vitest";
import { ulps } from "../support/distance.js";
import { holds } from "../support/holds.js";
import { hundredths, milliseconds } from "./phases.js";
import { held, sequence, state } from "./sources.js";

const currentBeyond = (i: Partial<ChannelState>, current: SourceLimits["current"] & {}, duration = 1) =>
  checkSource(sequence(state(duration, i)), { current }).exceedances;

describe("an exceedance is told in its unit", () => {
  const both = sequence({
    name: "both",
    duration: 3,
    channels: { i: { rms: 10.04, frequency: 50 }, v: { rms: 100.04, frequency: 50 } },
  });
  const limits = (rms: number) => ({
    rms,
    peak: rms,
    duty: [{ above: rms, atMost: 1 }],
    frequency: { minimum: 55, maximum: 60 },
    resolution: { rms: 0.1 },
  });

  test("amperes of a current, volts of a voltage, seconds of a duty, hertz of a frequency", () => {
    const told = checkSource(both, { current: limits(5), voltage: limits(50) }).exceedances;
    const of = (name: string) =>
      Object.fromEntries(told.filter(({ channel }) => channel === name).map(({ limit, unit }) => [limit, unit]));
    expect(of("i")).toEqual({ rms: "A", peak: "A", duty: "s", frequency: "Hz", "resolution.rms": "A" });
    expect(of("v")).toEqual({ rms: "V", peak: "V", duty: "s", frequency: "Hz", "resolution.rms": "V" });
  });

  test("below the lowest frequency, and above the highest, the limit is the frequency", () => {
    const range = { frequency: { minimum: 45, maximum: 65 } };
    for (const frequency of [44, 66])
      expect(currentBeyond({ rms: 1, frequency }, range)).toMatchObject([{ limit: "frequency", amount: frequency }]);
  });
});

describe("a peak", () => {
  test("of first one sign and then the other is beyond twice in a state, in order of time", () => {
    // 10 − 20 · exp(−t/0.1) runs from −10 to 10: beyond 5 in size until exp = 3/4, and again from exp = 1/4 on.
    for (const sign of [1, -1]) {
      const i = { rms: 0, offset: sign * 10, decay: { initial: sign * -20, tau: 0.1 } };
      const [first, second, ...further] = currentBeyond(i, { peak: 5 }, 2);
      expect(further).toEqual([]);
      expect(first).toMatchObject({ at: 0, amount: 10 });
      expect(ulps(first!.lasts, 0.1 * Math.log(4 / 3))).toBeLessThanOrEqual(16);
      expect(ulps(second!.at, 0.1 * Math.log(4))).toBeLessThanOrEqual(16);
      expect(second!.at + second!.lasts).toBeCloseTo(2, 14);
      expect(ulps(second!.amount, 10 - 20 * Math.exp(-20))).toBeLessThanOrEqual(1);
    }
  });

  test("is not exceeded by √2 times an rms value, however that was rounded", () => {
    holds(
      fc.property(hundredths(1, 100), (rms) => {
        expect(currentBeyond({ rms }, { peak: Math.SQRT2 * rms })).toEqual([]);
      }),
    );
  });
});

describe("a frequency", () => {
  const range = { frequency: { minimum: 45, maximum: 65 } };
  const within = hundredths(46, 64);

  test("that a ramp moves to a limit of the range does not exceed it, however the rate was rounded", () => {
    holds(
      fc.property(within, fc.constantFrom(45, 65), milliseconds(1, 9000), (frequency, limit, duration) => {
        const slope = { frequency: (limit - frequency) / duration };
        expect(currentBeyond({ rms: 1, frequency, slope }, range, duration)).toEqual([]);
      }),
    );
  });

  test("that an angle moves to a limit of the range, 360° a second for each hertz, does not exceed it", () => {
    holds(
      fc.property(within, fc.constantFrom(45, 65), (frequency, limit) => {
        const slope = { angle: 360 * (limit - frequency) };
        expect(currentBeyond({ rms: 1, frequency, slope }, range)).toEqual([]);
      }),
    );
    expect(currentBeyond({ rms: 1, frequency: 60, slope: { angle: 2160 } }, range)).toMatchObject([{ amount: 66 }]);
  });

  test("that stands still exceeds a limit by the next double", () => {
    for (const [limit, beyond] of [
      [65, 65 * (1 + 2 ** -52)],
      [45, 45 * (1 - 2 ** -52)],
    ] as const) {
      expect(currentBeyond({ rms: 1, frequency: limit }, range)).toEqual([]);
      expect(currentBeyond({ rms: 1, frequency: beyond }, range)).toMatchObject([{ amount: beyond, allowed: limit }]);
    }
  });
});

describe("what a cosine counts", () => {
  test("that an angle holds still, against its own frequency, is the direct value at which it stands", () => {
    // 50 Hz forward and 50 · 360 ° a second back: √2 · rms · cos(angle) without end.
    const held50 = (angle: number) =>
      currentBeyond({ rms: 3, frequency: 50, angle, slope: { angle: -18_000 } }, { rms: 1 })[0]?.amount;
    expect(ulps(held50(0)!, 3 * Math.SQRT2)).toBeLessThanOrEqual(1);
    expect(ulps(held50(60)!, 1.5 * Math.SQRT2)).toBeLessThanOrEqual(4);
    expect(held50(90)).toBeUndefined();
  });

  test("that an angle turns on is its rms value all the same", () => {
    expect(currentBeyond({ rms: 3, frequency: 50, slope: { angle: 90 } }, { rms: 2 })[0]?.amount).toBe(3);
  });

  test("with a decaying part may begin a rounding above a limit: √3 times the rms value at full offset", () => {
    const fault = { rms: 10, decay: { initial: 10 * Math.SQRT2, tau: 0.1 } };
    // √300 to 30 digits, which the double 10 · √2 oversteps by 4e-17 of it.
    expect(currentBeyond(fault, { rms: "17.3205080756887729352744634151" })).toEqual([]);
    expect(currentBeyond(fault, { rms: "17.3205080756" })).toHaveLength(1);
  });
});

describe("limits of single channels", () => {
  test("may name the compliance of a current, and of channels that the timeline does not have", () => {
    const limits = { i: { burden: 0.5, compliance: 9 }, other: { compliance: 1 } };
    expect(checkSource(held([1, 20]), { channels: limits }).exceedances).toMatchObject([
      { limit: "compliance", channel: "i", amount: 10, allowed: 9, unit: "V" },
    ]);
  });

  test("a voltage needs no compliance, so that none is missing; and a burden is missing only where one is needed", () => {
    const v = sequence({ name: "v", duration: 1, channels: { v: { rms: 100, frequency: 50 } } });
    expect(checkSource(v, {}).notChecked).not.toContain("voltage.compliance");
    expect(checkSource(v, { voltage: { power: 50 } }).notChecked).toContain("voltage.burden");
    expect(checkSource(v, { voltage: { power: 50, burden: 200 } }).notChecked).not.toContain("voltage.burden");
  });
});
