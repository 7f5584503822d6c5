import { definitionOf, healthy, inputsOf, operateTimeOf } from "tripwright/element";
import { angle, magnitude, normalizeAngle } from "tripwright/phasor";
import { describe, expect, test } from "vitest";
import { setups, usualSettings } from "../support/arbitraries.js";
import { ulps } from "../support/distance.js";
import { problemsOf } from "../support/failure.js";

const named = setups.map((setup) => [JSON.stringify(setup), setup] as const);

describe.each(named)("a healthy system on the bench %s", (_, setup) => {
  const { states, wiring } = healthy(setup);
  const inputs = inputsOf(states, wiring);

  test("has a state for every wired channel, no current, and the system frequency", () => {
    expect(Object.keys(states).sort()).toEqual(Object.keys(wiring).sort());
    expect(Object.keys(states)).toHaveLength(setup.currentChannels + setup.voltageChannels);
    expect(["ia", "ib", "ic"].map((input) => inputs[input])).toEqual([undefined, undefined, undefined]);
    expect(Object.values(states).every(({ frequency }) => frequency === setup.frequency)).toBe(true);
  });

  test("has rated voltage to neutral on all three inputs, in rotation where there are three channels", () => {
    const [a, b, c] = ["va", "vb", "vc"].map((input) => inputs[input]!);
    for (const v of [a, b, c]) expect(ulps(magnitude(v!), 110 / Math.sqrt(3))).toBeLessThanOrEqual(2);
    const lag = setup.voltageChannels === 1 ? 0 : setup.rotation === "ABC" ? 120 : -120;
    expect(normalizeAngle(angle(a!) - angle(b!))).toBeCloseTo(lag, 12);
    expect(normalizeAngle(angle(b!) - angle(c!))).toBeCloseTo(lag, 12);
  });

  // One channel in parallel on all three inputs has no voltage between the lines.
  const watched = usualSettings.filter(({ watches }) => watches !== "line-to-line" || setup.voltageChannels === 3);
  const scaled = watched.map((setting) =>
    setting.watches === "frequency" ? { ...setting, pickup: (setting.pickup * setup.frequency) / 50 } : setting,
  );

  test("leaves every function with a usual setting quiet", () => {
    expect(scaled.map((setting) => operateTimeOf(setting, inputs))).toEqual(scaled.map(() => Number.POSITIVE_INFINITY));
  });

  test("is what each function calls its healthy level", () => {
    for (const setting of scaled) {
      const definition = definitionOf(setting.function);
      const { quantity } = definition.read(inputs, setting as never);
      expect(ulps(definition.healthyLevel(setting as never, setup), quantity)).toBeLessThanOrEqual(4);
    }
  });
});

test("a relay without voltages has a healthy system of no current alone", () => {
  const { ratedVoltage: _, ...setup } = setups[0]!;
  expect(Object.values(healthy(setup).wiring).map(({ quantity }) => quantity)).toEqual(["current"]);
});

const good = { frequency: 50, rotation: "ABC", currentChannels: 1, voltageChannels: 3, ratedVoltage: 110 };
test.each([
  ["no setup", null, "setup"],
  ["a frequency that is no number", { ...good, frequency: Number.NaN }, "setup.frequency"],
  ["a voltage that is text", { ...good, ratedVoltage: "110 V" }, "setup.ratedVoltage"],
  ["an unknown rotation", { ...good, rotation: "XYZ" }, "setup.rotation"],
  ["two channels", { ...good, currentChannels: 2 }, "setup.currentChannels"],
])("%s is refused by name, and no NaN comes out", (_what, setup, path) => {
  expect(problemsOf(() => healthy(setup as never))).toMatchObject([{ path }]);
});
