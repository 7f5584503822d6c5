/** Where an input is too hot: which state it is told of, and what roundings may not decide. */
import { Decimal } from "decimal.js";
import fc from "fast-check";
import { type ChannelState, checkInput, type InputRatings, type Timeline } from "tripwright/timeline";
import { describe, expect, test } from "vitest";
import { ulps } from "../support/distance.js";
import { holds } from "../support/holds.js";
import { hundredths, milliseconds } from "./phases.js";
import { held, sequence, state } from "./sources.js";

const D = Decimal.clone({ defaults: true, precision: 60 });
const beyond = (timeline: Timeline, current: InputRatings["current"] & {}) =>
  checkInput(timeline, { current }).exceedances;

describe("heat that nothing takes away", () => {
  test("is told of the state in which it became too much, and to the end of the last", () => {
    const shortTime = { value: 500, time: 1 };
    expect(beyond(held([2, 500], [2, 500]), { shortTime })).toMatchObject([
      { index: 0, at: 1, lasts: 3, amount: 4 * 250_000, allowed: 250_000 },
    ]);
    // Too much in the first, and nothing at all in the second.
    expect(beyond(held([2, 500], [2, 0]), { shortTime })).toMatchObject([{ index: 0, at: 1, lasts: 3 }]);
  });

  test("of a ramp that just uses the rating up is not too much, however its rate was rounded, after a state that stands", () => {
    holds(
      fc.property(hundredths(1, 40), hundredths(41, 90), milliseconds(1, 9000), (from, to, duration) => {
        const ramp = state(duration, { rms: from, slope: { rms: (to - from) / duration } });
        // ∫ (from + (to − from) · t/duration)² dt, and 1 A² for the second before.
        const [a, b] = [new D(from), new D(to)];
        const heat = a.pow(2).plus(a.times(b)).plus(b.pow(2)).div(3).times(duration).plus(1);
        const rating = (time: Decimal) => ({ shortTime: { value: 1, time: time.toFixed(30) } });
        const timeline = sequence(state(1, { rms: 1 }), ramp);
        expect(beyond(timeline, rating(heat))).toEqual([]);
        expect(beyond(timeline, rating(heat.times("0.999999999")))).toHaveLength(1);
      }),
      60,
    );
  });
});

describe("heat with a time constant", () => {
  test("of a current that stands for a hundred time constants a hair above the rating is too much", () => {
    const steady = 20 * (1 + 2 ** -50);
    expect(beyond(held([6000, steady]), { continuous: 20, tau: 60 })).toMatchObject([
      { rating: "heating", allowed: 400 },
    ]);
    expect(beyond(held([6000, 20]), { continuous: 20, tau: 60 })).toEqual([]);
  });

  test("of a direct value, √2 times a rounded one, is not, after a state that stands", () => {
    // 7.0710678118654755 is 10/√2 rounded up: 100 A² and 7e-15 A² more, in the end.
    const direct: Partial<ChannelState> = { rms: 7.071_067_811_865_475_5, frequency: 0 };
    const timeline = sequence(state(1, { rms: 1 }), state(10_000, direct));
    expect(beyond(timeline, { continuous: 10, tau: 60 })).toEqual([]);
    expect(beyond(timeline, { continuous: "9.999999999", tau: 60 })).toHaveLength(1);
  });

  test("is judged by nothing where a time constant alone is known", () => {
    const { exceedances, reached, notChecked } = checkInput(held([1, 500]), { current: { tau: 60 } });
    expect([exceedances, reached]).toEqual([[], []]);
    expect(notChecked).toEqual(["inputs.ia.continuous", "inputs.ia.shortTime"]);
  });
});

describe("an input", () => {
  test("is beyond its peak twice where the direct part changes its sign, in order of time", () => {
    // 10 − 20 · exp(−t/0.1): as of a source, from −10 to 10, and beyond 5 in size at both ends.
    for (const sign of [1, -1]) {
      const i = { rms: 0, offset: sign * 10, decay: { initial: sign * -20, tau: 0.1 } };
      const [first, second, ...further] = beyond(sequence(state(2, i)), { peak: 5 });
      expect(further).toEqual([]);
      expect(first).toMatchObject({ rating: "peak", at: 0, amount: 10, unit: "A" });
      expect(ulps(first!.lasts, 0.1 * Math.log(4 / 3))).toBeLessThanOrEqual(16);
      expect(ulps(second!.at, 0.1 * Math.log(4))).toBeLessThanOrEqual(16);
    }
  });

  test("fed by two currents 45° apart is not beyond what they make, √(2 + √2), however the cosine was rounded", () => {
    const two: Timeline = {
      wiring: { a: { quantity: "current", feeds: { ia: 1 } }, b: { quantity: "current", feeds: { ia: 1 } } },
      segments: [
        {
          name: "both",
          duration: 1,
          channels: { a: { rms: 1, frequency: 50 }, b: { rms: 1, frequency: 50, angle: 45 } },
        },
      ],
    };
    const sum = new D(2).plus(new D(2).sqrt()).sqrt();
    expect(beyond(two, { continuous: sum.toFixed(40) })).toEqual([]);
    expect(beyond(two, { continuous: sum.times("0.99999999999").toFixed(40) })).toHaveLength(1);
  });
});
