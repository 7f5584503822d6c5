import fc from "fast-check";
import {
  definitionOf,
  type FrequencyRateSetting,
  type FrequencySetting,
  inputsOf,
  operateTimeOf,
  type RelayInputs,
  standingAt,
} from "tripwright/element";
import { polar } from "tripwright/phasor";
import { describe, expect, test } from "vitest";
import { setups, usualSettings } from "../support/arbitraries.js";
import { holds } from "../support/holds.js";

const setting = (number: "81O" | "81U") => usualSettings.find((one) => one.function === number) as FrequencySetting;
const at = (frequency: number, va: number, vb = va, vc = va): RelayInputs => ({
  va: { re: va, im: 0, frequency },
  vb: { re: vb, im: 0, frequency },
  vc: { re: vc, im: 0, frequency },
});

describe.each(["81O", "81U"] as const)("the frequency function %s", (number) => {
  const { read } = definitionOf(number);

  test("reads the frequency of the voltages, whatever their size", () => {
    holds(
      fc.property(
        fc.double({ min: 10, max: 90, noNaN: true }),
        fc.double({ min: 30, max: 200, noNaN: true }),
        (f, v) => {
          expect(read(at(f, v), setting(number))).toMatchObject({ quantity: f, blocked: false });
        },
      ),
    );
  });

  test("looks at voltages alone", () => {
    const current = { ia: { re: 5, im: 0, frequency: 90 } };
    expect(read({ ...current, ...at(50, 63.5) }, setting(number)).quantity).toBe(50);
    expect(operateTimeOf(setting(number), current)).toBe(Number.POSITIVE_INFINITY);
  });

  test("is blocked while every voltage to neutral lies below its limit, and not on it", () => {
    expect(read(at(50, 29.9), setting(number)).blocked).toBe(true);
    expect(read(at(50, 0, 29.9, 30), setting(number)).blocked).toBe(false);
    expect(read(at(50, 30, 0, 0), setting(number)).blocked).toBe(false);
  });

  test("is blocked without any voltage, even where no limit is set: nothing has no frequency", () => {
    const { blockBelow: _, ...unlimited } = setting(number);
    expect(read({}, unlimited).blocked).toBe(true);
    expect(read(at(50, 0), unlimited).blocked).toBe(true);
    expect(read(at(50, 0.1), unlimited).blocked).toBe(false);
    expect(operateTimeOf(unlimited, {})).toBe(Number.POSITIVE_INFINITY);
  });

  test("of equal voltages takes the first, whichever way their phasors stand: rounding does not decide", () => {
    const angles = fc.double({ min: -180, max: 180, noNaN: true });
    holds(
      fc.property(angles, angles, angles, fc.double({ min: 1, max: 100, noNaN: true }), (a, b, c, volts) => {
        const inputs = { va: { ...polar(volts, a), frequency: 50 }, vb: { ...polar(volts, b), frequency: 10 } };
        const all = { ...inputs, vc: { ...polar(volts, c), frequency: 60 } };
        expect(read(all, setting(number)).quantity).toBe(50);
        expect(read({ ...all, vc: { ...polar(volts * 1.0001, c), frequency: 60 } }, setting(number)).quantity).toBe(60);
      }),
    );
  });

  test("takes no frequency from a phase that is dead", () => {
    const dead = { va: { re: 0, im: 0, frequency: 0 } };
    expect(read({ ...at(50, 63.5), ...dead }, setting(number)).quantity).toBe(50);
  });
});

describe("a rate of change", () => {
  const rate = (direction: FrequencyRateSetting["direction"]) =>
    usualSettings.find(
      (one) => one.function === "81R" && (one as FrequencyRateSetting).direction === direction,
    ) as FrequencyRateSetting;

  test.each([
    ["rising", "falling", -1],
    ["falling", "rising", 1],
  ] as const)(
    "that is to be %s has to stay quiet for one that is %s, which a relay of both takes",
    (own, other, sign) => {
      for (const setup of setups) {
        const [still, ...more] = definitionOf("81R").stills?.(rate(own), setup) ?? [];
        if (still?.pose.kind !== "found") throw new Error("no pose");
        expect([still.name, still.level, more]).toEqual([other, 1.5 * rate(own).pickup, []]);
        const states = standingAt(still.pose, still.level);
        for (const { frequency, slope } of Object.values(states).filter(({ slope: moves }) => moves !== undefined))
          expect([frequency, slope?.frequency]).toEqual([setup.frequency, sign * still.level]);
        const seen = inputsOf(states, still.pose.wiring);
        expect(operateTimeOf(rate(own), seen)).toBe(Number.POSITIVE_INFINITY);
        expect(operateTimeOf({ ...rate(own), direction: "both" }, seen)).toBeLessThan(10);
      }
    },
  );

  test("of both directions has no other one, and says that one of them is not shown", () => {
    expect(definitionOf("81R").stills?.(rate("both"), setups[0]!)).toEqual([]);
    expect(definitionOf("81R").pose(rate("both"), setups[0]!)).toMatchObject({
      note: "a falling frequency; that it operates for a rising one too is not shown",
    });
    expect(definitionOf("81R").pose(rate("falling"), setups[0]!)).not.toHaveProperty("note");
  });
});
