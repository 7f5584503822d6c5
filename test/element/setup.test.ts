import { definitionOf, healthy, inputsOf, operateTimeOf, standingAt } from "tripwright/element";
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

  // One channel in parallel on all three inputs has no voltage between the lines, and is all zero sequence. A 37 operates
  // on a healthy system without current, and has a healthy level of its own.
  const watched = usualSettings.filter(
    (setting) =>
      setting.function !== "37" &&
      (setup.voltageChannels === 3 || (setting.watches !== "line-to-line" && setting.function !== "59N")),
  );
  const scaled = watched.map((setting) => ({
    ...setting,
    ...(setting.watches === "frequency" && { pickup: (setting.pickup * setup.frequency) / 50 }),
    ...("rotation" in setting && { rotation: setup.rotation }),
    ...("ratedFrequency" in setting && { ratedFrequency: setup.frequency }),
  })) as typeof watched;

  test("leaves every function with a usual setting quiet", () => {
    for (const setting of scaled)
      expect(operateTimeOf(setting, inputs), setting.function).toBe(Number.POSITIVE_INFINITY);
  });

  test("is what each function calls its healthy level", () => {
    for (const setting of scaled) {
      const definition = definitionOf(setting.function);
      const { quantity } = definition.read(inputs, setting as never);
      // The sequences that are not there are the roundings of those that are.
      expect(Math.abs(definition.healthyLevel(setting as never, setup) - quantity)).toBeLessThanOrEqual(1e-13);
    }
  });

  test("at its own healthy level every function is quiet, on every bench that can make it", () => {
    for (const setting of usualSettings) {
      const definition = definitionOf(setting.function);
      const posed = definition.pose(setting as never, { ...setup, ratedCurrent: 5 });
      if (posed.kind === "none" || setting.watches === "frequency" || setting.function === "24") continue;
      const level = definition.healthyLevel(setting as never, { ...setup, ratedCurrent: 5 });
      const channels = posed.healthy ?? standingAt(posed, level);
      expect(operateTimeOf(setting, inputsOf(channels, posed.wiring)), setting.function).toBe(Number.POSITIVE_INFINITY);
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
  ["a frequency that is no number", { ...good, frequency: Number.NaN }, "frequency"],
  ["a voltage that is text", { ...good, ratedVoltage: "110 V" }, "ratedVoltage"],
  ["an unknown rotation", { ...good, rotation: "XYZ" }, "rotation"],
  ["two channels", { ...good, currentChannels: 2 }, "currentChannels"],
])("%s is refused by name, and no NaN comes out", (_what, setup, path) => {
  expect(problemsOf(() => healthy(setup as never))).toMatchObject([{ path }]);
});

const { voltageChannels: _, ...withoutVoltages } = good;
test.each([
  [withoutVoltages, "missing", "voltageChannels", "nothing"],
  [{ ...good, voltageChannels: 2 }, "out-of-range", "voltageChannels", "2"],
  [{ ...good, currentChannels: "3" }, "wrong-type", "currentChannels", '"3"'],
  [{ ...good, secondCurrentChannels: "3" }, "wrong-type", "secondCurrentChannels", '"3"'],
  [{ ...good, secondCurrentChannels: 5 }, "out-of-range", "secondCurrentChannels", "5"],
  [{ ...good, secondCurrentChannels: Number.NaN }, "not-finite", "secondCurrentChannels", "NaN"],
])("a number of channels that there is not: %j", (setup, code, field, received) => {
  expect(problemsOf(() => healthy(setup as never))).toMatchObject([{ code, path: field, received }]);
});

test("three channels for a second side, or none, are taken", () => {
  for (const setup of [good, { ...good, secondCurrentChannels: 3 }])
    expect(Object.keys(healthy(setup as never).states)).toEqual(["i", "va", "vb", "vc"]);
});
