import fc from "fast-check";
import { readSheet, settingsOf } from "tripwright/plan";
import { describe, expect, test } from "vitest";
import { problemsOf } from "../support/failure.js";
import { holds } from "../support/holds.js";
import { read, tanneryLane, undervoltage27, usual } from "../support/sheets.js";

const elementOf = (element: object, other: object = {}) => settingsOf(read([element], other)).elements[0];

const overcurrent = { id: "51P", function: "51", pickup: "4 A", curve: "iec-inverse", accuracy: usual };

describe("from what is typed to what the relay sees", () => {
  test.each([
    ["amperes at the relay", "4 A", "secondary", 4],
    ["milliamperes", "4000 mA", "secondary", 4],
    ["amperes on the line", "320 A", "primary", 4],
    ["kiloamperes on the line", "0.32 kA", "primary", 4],
    ["× rated", "0.8 × rated", "secondary", 4],
    ["× rated is the same on both sides", "0.8 × rated", "primary", 4],
    ["a number in SI units", 4, "secondary", 4],
  ])("%s", (_what, pickup, values, expected) => {
    expect(elementOf({ ...overcurrent, pickup }, { values })?.pickup).toBe(expected);
  });

  test.each([
    ["volts at the relay", "88 V", "secondary", 88],
    ["kilovolts on the line", "8.8 kV", "primary", 88],
    ["× rated", "0.8 × rated", "secondary", 88],
  ])("%s", (_what, pickup, values, expected) => {
    expect(elementOf({ ...undervoltage27, pickup }, { values })?.pickup).toBe(expected);
  });

  test("× rated of a function that watches voltages to neutral is that of the phase: 0.8 · 110/√3 V", () => {
    const watched = elementOf({ ...undervoltage27, watches: "line-to-neutral", pickup: "0.8 × rated" });
    expect(watched?.pickup).toBeCloseTo((0.8 * 110) / Math.sqrt(3), 12);
  });

  test("cycles are those of the sheet's frequency", () => {
    const time = (frequency: string) => elementOf({ ...undervoltage27, delay: "12 cycles" }, { frequency })?.law.curve;
    expect(time("50 Hz")).toEqual({ form: "definite", time: 0.24, side: "under" });
    expect(time("60 Hz")).toEqual({ form: "definite", time: 0.2, side: "under" });
  });

  test.each([
    ["51", { form: "inverse", k: "140 ms", alpha: 0.02, c: "0 s", reset: "0.1 min" }, { k: 0.14, c: 0, reset: 6 }],
    ["51", { form: "inverse", k: 0.14, alpha: 0.02, c: 0 }, { k: 0.14, c: 0 }],
    ["27", { form: "under", k: "1 s", alpha: 1, c: "50 cycles" }, { k: 1, c: 1 }],
    ["24", { form: "excess", k: "1500 ms", power: 2 }, { k: 1.5 }],
    ["46", { form: "energy", k: "10 s", maximumTime: "2 min" }, { k: 10, maximumTime: 120 }],
    ["46", { form: "energy", k: 10 }, { k: 10 }],
    ["49", { form: "thermal", tau: "10 min", coolingTau: "1800 s" }, { tau: 600, coolingTau: 1800 }],
    ["49", { form: "thermal", tau: "10 min" }, { tau: 600 }],
  ])("of a %s, %j: every time with its unit", (name, curve, seconds) => {
    const pickup = { "24": "110 %", "27": "88 V" }[name] ?? "4 A";
    const watches = { "24": "line-to-line", "27": "line-to-line", "46": "I2", "49": "phase" }[name];
    const element = { id: name, function: name, pickup, curve, accuracy: overcurrent.accuracy };
    const law = elementOf({ ...element, ...(watches && { watches }) })?.law;
    expect(law?.curve).toEqual({ ...curve, ...seconds });
  });

  test("points of a curve too, by themselves", () => {
    const points = [
      { multiple: 2, time: "1 s" },
      { multiple: 10, time: "250 ms" },
      { multiple: 20, time: 0.2 },
    ];
    expect(elementOf({ ...overcurrent, curve: { form: "table", points } })?.law.curve).toEqual({
      form: "table",
      points: [1, 0.25, 0.2].map((time, i) => ({ multiple: points[i]?.multiple, time })),
    });
  });

  test("accuracies and the source stay secondary on a primary sheet", () => {
    const accuracy = { pickup: { absolute: "0.1 A" }, time: { percent: 5 } };
    const settings = settingsOf(
      read([{ ...overcurrent, pickup: "320 A", accuracy }], { values: "primary", source: { maximumCurrent: "50 A" } }),
    );
    expect(settings.elements[0]?.accuracy.pickup).toEqual({ absolute: 0.1 });
    expect(settings.sourceLimits).toEqual({ current: { rms: 50 } });
  });

  test("what limits a channel of the source: the values of the quantity, and the frequencies of both", () => {
    const source = {
      maximumVoltage: "150 V",
      frequency: { minimum: "40 Hz", maximum: "1.4 × rated" },
      currentOutput: {
        burden: "200 mohm",
        power: "0.15 kVA",
        compliance: "10 V",
        duty: [
          { above: "4 × rated", atMost: "500 cycles", restTime: "1 min" },
          { above: 40, atMost: 2 },
        ],
      },
      voltageOutput: { burden: 250 },
    };
    const range = { minimum: 40, maximum: 70 };
    const duty = [
      { above: 20, atMost: 10, restTime: 60 },
      { above: 40, atMost: 2 },
    ];
    expect(settingsOf(read([overcurrent], { values: "primary", source })).sourceLimits).toEqual({
      current: { burden: 0.2, power: 150, compliance: 10, duty, frequency: range },
      voltage: { rms: 150, burden: 250, frequency: range },
    });
  });

  test("a least polarising voltage is a value of what polarises", () => {
    const directional = { ...overcurrent, id: "67P", function: "67", characteristicAngle: 45, operates: "forward" };
    const least = (kind: object) =>
      elementOf({ ...directional, watches: "phase", ...kind, minimumVoltage: "10 % of rated" }) as {
        minimumVoltage?: number;
      };
    expect(least({ polarising: "quadrature" }).minimumVoltage).toBe(11);
    expect(least({ polarising: "self" }).minimumVoltage).toBeCloseTo(11 / Math.sqrt(3), 12);
  });

  test("primary or secondary entry of the same setting is the same setting", () => {
    holds(
      fc.property(
        fc.integer({ min: 1, max: 4000 }),
        fc.constantFrom("400/5", "600/1", "1200/5", "75/5"),
        fc.constantFrom("/", ":", " : "),
        (tenths, ct, mark) => {
          const [primary, secondary] = ct.split("/").map(Number) as [number, number];
          // Exact on both sides: the secondary value is the typed decimal, the primary one the same times the ratio.
          const atRelay = tenths / 10;
          const onLine = `${(tenths * primary) / secondary}e-1 A`;
          const pickup = (typed: unknown, values: string) =>
            elementOf({ ...overcurrent, pickup: typed }, { values, ct: ct.replace("/", mark) })?.pickup;
          expect(pickup(onLine, "primary")).toBe(pickup(atRelay, "secondary"));
        },
      ),
    );
  });
});

describe("what the sheet leaves out", () => {
  test("three channels, rotation ABC, simple acceptance, rated values from the transformers", () => {
    const { setup, decisionRule, sourceLimits } = settingsOf(read([overcurrent]));
    expect(setup).toEqual({
      frequency: 50,
      rotation: "ABC",
      currentChannels: 3,
      voltageChannels: 3,
      ratedVoltage: 110,
      ratedCurrent: 5,
    });
    expect([decisionRule, sourceLimits]).toEqual(["simple", {}]);
  });

  test("a trip contact, two cycles of response (eight for frequency)", () => {
    expect(elementOf(overcurrent)).toMatchObject({ contact: "trip", measuringDelay: 0.04, watches: "phase" });
    const frequency = {
      id: "81U",
      function: "81U",
      pickup: 49,
      delay: 0.2,
      accuracy: { pickup: { absolute: 0.01 }, time: { percent: 5 } },
    };
    expect(elementOf(frequency)).toMatchObject({ measuringDelay: 0.16, watches: "frequency" });
  });

  test("a 50 without a delay has none", () => {
    const { curve: _, ...rest } = overcurrent;
    expect(elementOf({ ...rest, function: "50" })?.law.curve).toEqual({ form: "definite", time: 0, side: "over" });
  });

  test("elements that are switched off are left out", () => {
    expect(settingsOf(read([{ ...overcurrent, enabled: false }])).elements).toEqual([]);
  });

  test("a relay without voltage functions needs no voltage transformer", () => {
    const sheet = readSheet(tanneryLane([overcurrent], { vt: undefined }));
    expect(settingsOf(sheet).setup.ratedVoltage).toBeUndefined();
  });
});

test.each([null, undefined, 3])("%j has no settings", (sheet) => {
  expect(problemsOf(() => settingsOf(sheet as never))).toHaveLength(1);
});

test("an empty sheet has none either: every field that it lacks is named", () => {
  const needed = ["elements", "feeder", "format", "frequency", "relay", "substation", "values"];
  const problems = problemsOf(() => settingsOf({} as never));
  expect(problems.map(({ path, code }) => `${path} ${code}`).toSorted()).toEqual(
    needed.map((path) => `${path} missing`),
  );
});
