import {
  checkedDefinition,
  definiteTimeOf,
  definitionOf,
  type ElementSetting,
  functionNumbers,
  operateTimeOf,
  type RelayInputs,
} from "tripwright/element";
import { describe, expect, test } from "vitest";
import { usualSettings } from "../support/arbitraries.js";
import { ulps } from "../support/distance.js";
import { problemsOf } from "../support/failure.js";

const setting = (number: string, change: object = {}): ElementSetting =>
  ({ ...usualSettings.find((one) => one.function === number)!, ...change }) as ElementSetting;
const amperes = (ia: number): RelayInputs => ({ ia: { re: 0, im: ia, frequency: 50 } });
const volts = (v: number, frequency = 50): RelayInputs =>
  Object.fromEntries(["va", "vb", "vc"].map((name) => [name, { re: v, im: 0, frequency }]));

const { POSITIVE_INFINITY: never } = Number;

describe("operateTimeOf follows the law at the multiple that it reads", () => {
  // IEC 60255-151:2009 Annex A, Table A.1: curve B is 13.5/(M − 1), curve C is 80/(M² − 1); times the multiplier.
  test.each([
    ["iec-very-inverse", 0.2, 3, (0.2 * 13.5) / 2],
    ["iec-very-inverse", 1, 2, 13.5],
    ["iec-very-inverse", 0.5, 10, (0.5 * 13.5) / 9],
    ["iec-extremely-inverse", 1, 3, 10],
    ["iec-extremely-inverse", 0.3, 5, (0.3 * 80) / 24],
  ])("%s, multiplier %d, at %d times the setting", (curve, multiplier, multiple, seconds) => {
    const relay = setting("51", { law: { curve, multiplier }, pickup: 2 });
    expect(ulps(operateTimeOf(relay, amperes(2 * multiple)), seconds)).toBeLessThanOrEqual(4);
  });

  // IEC 60255-127:2010 Annex A: T/(1 − V/Vs) below the setting, T/(V/Vs − 1) above it.
  test.each([
    ["27", "undervoltage-inverse", 40, 2],
    ["27", "undervoltage-inverse", 20, 4 / 3],
    ["27", "undervoltage-inverse", 0, 1],
    ["59", "overvoltage-inverse", 120, 2],
    ["59", "overvoltage-inverse", 100, 4],
  ])("%s with %s at %d V against 80 V", (number, curve, measured, seconds) => {
    const relay = setting(number, { law: { curve }, pickup: 80, watches: "line-to-neutral", phases: "all" });
    expect(ulps(operateTimeOf(relay, volts(measured)), seconds)).toBeLessThanOrEqual(4);
  });

  test("a function that starts only at 1.1 times its setting still takes the multiple on the setting", () => {
    const relay = setting("51", { pickup: 2, law: { curve: "iec-very-inverse", startRatio: 1.1 } });
    expect([2.1, 2.2].map((i) => operateTimeOf(relay, amperes(i)))).toEqual([never, never]);
    // 13.5/(1.25 − 1), IEC 60255-151:2009 Table A.1 curve B.
    expect(ulps(operateTimeOf(relay, amperes(2.5)), 54)).toBeLessThanOrEqual(4);
  });

  test("a definite time is that time, plus what is added, wherever it operates", () => {
    const law = { curve: { form: "definite", time: 0.25 }, addedTime: 0.125 };
    expect([21, 30, 400].map((i) => operateTimeOf(setting("50", { law }), amperes(i)))).toEqual([0.375, 0.375, 0.375]);
  });
});

describe("the time of a definite-time law", () => {
  const curve = { form: "definite", time: 0.25 } as const;
  test.each([
    [{ curve }, 0.25],
    [{ curve, addedTime: 0.125 }, 0.375],
    [{ curve, multiplier: 2, addedTime: 0.125 }, 0.625],
    [{ curve, minimumTime: 0.5, addedTime: 0.125 }, 0.625],
  ])("of %j is %d s, which is what the function takes", (law, seconds) => {
    expect(definiteTimeOf(law)).toBe(seconds);
    expect(operateTimeOf(setting("50", { law }), amperes(400))).toBe(seconds);
  });

  test("there is none where the time depends on the quantity", () => {
    const curves = ["iec-inverse", { form: "energy", k: 1 }] as const;
    expect(curves.map((own) => definiteTimeOf({ curve: own, minimumTime: 1 }))).toEqual([undefined, undefined]);
  });
});

describe("an over function operates above its setting, an under function below", () => {
  test.each([
    ["50", amperes(20), never],
    ["50", amperes(20.01), 0.3],
    ["50", {}, never],
    ["81O", volts(60, 51), never],
    ["81O", volts(60, 51.01), 0.3],
    ["81U", volts(60, 49), never],
    ["81U", volts(60, 48.99), 0.3],
  ])("%s on %j takes %d s", (number, inputs, seconds) => {
    expect(operateTimeOf(setting(number), inputs)).toBe(seconds);
  });
});

describe("settings outside their domain are refused by name", () => {
  const definite = { curve: { form: "definite", time: 0.3 } };
  test.each([
    ["50", { pickup: 0 }, "out-of-range", /^pickup$/],
    ["50", { pickup: Number.NaN }, "not-finite", /^pickup$/],
    ["50", { law: undefined }, "missing", /^law$/],
    ["51", { law: { curve: "undervoltage-inverse" } }, "conflict", /^law\.curve$/],
    ["27", { law: { curve: "overvoltage-inverse" } }, "conflict", /^law\.curve$/],
    ["27", { law: definite }, "conflict", /^law\.curve$/],
    ["81U", { law: definite }, "conflict", /^law\.curve$/],
    ["81O", { law: { curve: { ...definite.curve, side: "under" } } }, "conflict", /^law\.curve$/],
    ["51", { law: { curve: "no-such-curve" } }, "unknown-name", /^law\.curve/],
    ["51", { law: { ...definite, multiplier: -1 } }, "out-of-range", /^law\.multiplier$/],
    ["51", { law: { ...definite, dial: 1 } }, "unknown-key", /^law\.dial$/],
    ["51", { function: "52" }, "unknown-name", /^function$/],
    ["59", { phases: "some" }, "unknown-name", /^phases$/],
    ["59", { watches: "phase" }, "unknown-name", /^watches$/],
    ["27", { blockBelow: Number.NaN }, "not-finite", /^blockBelow$/],
  ])("%s with %j", (number, change, code, path) => {
    const inputs = { ...volts(60), ...amperes(60) };
    expect(problemsOf(() => operateTimeOf(setting(number, change), inputs))).toMatchObject([
      { code, path: expect.stringMatching(path) },
    ]);
  });

  const tiny = { pickup: 0.03, law: definite };
  test.each([
    // An 81O lets go 0.05 Hz below its start where nothing is declared.
    [
      "81O",
      tiny,
      "pickup: expected a setting that starts above the usual dropout difference of 0.05 Hz, received 0.03",
    ],
    [
      "81O",
      { ...tiny, law: { ...definite, startRatio: 2 }, pickup: 0.025 },
      "pickup: expected a setting that starts above the usual dropout difference of 0.05 Hz, received 0.025",
    ],
    [
      "51",
      { law: { curve: "iec-inverse", startRatio: -1 } },
      "law.startRatio: expected a multiple of the setting above 0, received -1",
    ],
    ["37", { blockBelow: -1 }, "blockBelow: expected a blocking level of 0 A or more, received -1"],
    ["27", { blockBelow: -1 }, "blockBelow: expected a blocking level of 0 V or more, received -1"],
    ["81U", { blockBelow: -1 }, "blockBelow: expected a blocking level of 0 V or more, received -1"],
    ["37", { armAbove: -1 }, "armAbove: expected an arming level of 0 A or more, received -1"],
    ["25", { closingTime: -1 }, "closingTime: expected a closing time of 0 s or more, received -1"],
    ["21", { minimumCurrent: -1 }, "minimumCurrent: expected a minimum current of 0 A or more, received -1"],
    ["67", { minimumVoltage: -1 }, "minimumVoltage: expected a minimum voltage of 0 V or more, received -1"],
  ])("%s with %j is told with its unit and what came", (number, change, message) => {
    expect(() => checkedDefinition(setting(number, change))).toThrow(message);
  });

  test.each(["52", "constructor", "", 51, undefined])("there is no function %s", (name) => {
    expect(problemsOf(() => definitionOf(name as never))).toMatchObject([{ code: "unknown-name", path: "function" }]);
    expect(() => definitionOf(name as never)).toThrow(functionNumbers.join(", "));
  });
});

test.each([
  ["no inputs", undefined, "inputs"],
  ["a phasor that is no number", { ia: { re: Number.NaN, im: 0, frequency: 50 } }, "inputs.ia.re"],
  ["a harmonic that is none", { ia: { re: 1, im: 0, frequency: 50, harmonics: { 2: null } } }, "inputs.ia.harmonics.2"],
  ["a frequency that is no number", { va: { re: 1, im: 0, frequency: Number.NaN } }, "inputs.va.frequency"],
])("%s is refused by name", (_what, inputs, path) => {
  expect(problemsOf(() => operateTimeOf(setting("50"), inputs as never))).toMatchObject([{ path }]);
});
