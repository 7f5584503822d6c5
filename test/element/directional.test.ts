import fc from "fast-check";
import { comparedOf, directionalProduct } from "tripwright/characteristic";
import {
  checkedDefinition,
  type DirectionalSetting,
  definitionOf,
  type InputState,
  inputsOf,
  operateTimeOf,
  type PowerSetting,
  type RelayInputs,
} from "tripwright/element";
import { angle, complexPower, normalizeAngle, polar, rotate } from "tripwright/phasor";
import { atLevel } from "tripwright/timeline";
import { describe, expect, test } from "vitest";
import { setups } from "../support/arbitraries.js";
import { problemsOf } from "../support/failure.js";
import { holds } from "../support/holds.js";

const number = (min: number, max: number) => fc.double({ min, max, noNaN: true });
const setting = (change: object = {}): DirectionalSetting =>
  ({
    id: "67P",
    function: "67",
    watches: "phase",
    polarising: "quadrature",
    characteristicAngle: 45,
    operates: "forward",
    rotation: "ABC",
    pickup: 4,
    law: { curve: { form: "definite", time: 0.3 } },
    measuringDelay: 0.04,
    contact: "trip",
    accuracy: { pickup: { percent: 5 }, time: { percent: 5 } },
    ...change,
  }) as DirectionalSetting;
const seen = (size: number, turn: number): InputState => ({ ...polar(size, turn), frequency: 50 });
const healthyVoltages = { va: seen(63.5, 0), vb: seen(63.5, -120), vc: seen(63.5, 120) };
const withCurrent = (size: number, turn: number): RelayInputs => ({ ...healthyVoltages, ia: seen(size, turn) });
const operates = (given: DirectionalSetting, inputs: RelayInputs) => Number.isFinite(operateTimeOf(given, inputs));

describe("a directional overcurrent function", () => {
  test("in the 90° connection at 45° is most sensitive where the current lags its own voltage by 45°, and limited at 45° lead and 135° lag", () => {
    for (const [turn, expected] of [
      [-45, true],
      [44, true],
      [46, false],
      [-134, true],
      [-136, false],
      [135, false],
    ] as const)
      expect([turn, operates(setting(), withCurrent(5, turn))]).toEqual([turn, expected]);
  });

  test("with its own voltage at −45° has its limits at 45° lead and 135° lag too", () => {
    const self = setting({ polarising: "self", characteristicAngle: -45 });
    for (const [turn, expected] of [
      [44, true],
      [46, false],
      [-134, true],
      [-136, false],
    ] as const)
      expect([turn, operates(self, withCurrent(5, turn))]).toEqual([turn, expected]);
  });

  test("operates forward or in reverse and never both, but for the limits themselves", () => {
    holds(
      fc.property(number(-179, 179), number(-180, 180), number(4.01, 20), (characteristicAngle, turn, size) => {
        const given = setting({ polarising: "self", characteristicAngle });
        const off = Math.abs(Math.cos(((turn - characteristicAngle) * Math.PI) / 180));
        const both = [given, { ...given, operates: "reverse" } as const].map((one) =>
          operates(one, withCurrent(size, turn)),
        );
        if (off > 1e-9) expect(both.filter(Boolean)).toHaveLength(1);
      }),
    );
  });

  test("does not change when everything turns together, and needs its own phase alone", () => {
    const polarising = fc.constantFrom("self" as const, "quadrature" as const);
    holds(
      fc.property(polarising, number(-180, 180), number(-180, 180), number(1, 20), (kind, turn, whole, size) => {
        const given = setting({ polarising: kind, characteristicAngle: 10 });
        const inputs = withCurrent(size, turn);
        const turned = Object.fromEntries(
          Object.entries(inputs).map(([name, state]) => [name, { ...rotate(state, whole), frequency: 50 }]),
        );
        const compared = comparedOf({
          v: { a: healthyVoltages.va, b: healthyVoltages.vb, c: healthyVoltages.vc },
          i: { a: inputs["ia"] as InputState, b: { re: 0, im: 0 }, c: { re: 0, im: 0 } },
          polarising: kind,
          phase: "a",
        });
        const off = Math.abs(Math.cos(((angle(directionalProduct(compared, 10)) + 0) * Math.PI) / 180));
        if (off > 1e-9) expect(operates(given, turned)).toBe(operates(given, inputs));
      }),
    );
  });

  test("along the angle measures I·cos φ: half of the current at 60°", () => {
    const given = setting({ polarising: "self", characteristicAngle: 0, measures: "current-cosine" });
    const { read } = definitionOf("67");
    expect(read(withCurrent(8, 60), given).quantity).toBeCloseTo(4, 12);
    expect(read(withCurrent(8, 0), given).quantity).toBeCloseTo(8, 12);
    expect(operates(given, withCurrent(8, 59))).toBe(true);
    expect(operates(given, withCurrent(8, 61))).toBe(false);
  });

  test("without enough voltage to polarise with is blocked", () => {
    const given = setting({ polarising: "self", characteristicAngle: 0, minimumVoltage: 2 });
    const low = (volts: number) => ({ ...withCurrent(8, 0), va: seen(volts, 0) });
    expect([operates(given, low(2.1)), operates(given, low(1.9)), operates(given, { ia: seen(8, 0) })]).toEqual([
      true,
      false,
      false,
    ]);
    expect(operates({ ...given, minimumVoltage: 0 }, { ia: seen(8, 0) })).toBe(false);
  });

  test("of the residual current compares it with −3V0: an earth fault ahead on a system earthed through a resistance", () => {
    const given = setting({
      function: "67N",
      watches: "residual",
      polarising: "-3V0",
      characteristicAngle: 0,
      pickup: 0.2,
    });
    // Phase a on earth: 3V0 = −3·va; the fault current stands in phase with va, and −3V0 with it.
    const fault = (sense: number) => ({ vb: seen(110, -150), vc: seen(110, 150), ia: seen(0.5, sense > 0 ? 0 : 180) });
    expect([operates(given, fault(1)), operates(given, fault(-1))]).toEqual([true, false]);
    expect(operates({ ...given, polarising: "3V0" }, fault(-1))).toBe(true);
  });

  test("edges lie where it begins to operate, on every bench and for every kind", () => {
    const kinds = [
      { watches: "phase", polarising: "self" },
      { watches: "phase", polarising: "quadrature" },
      { watches: "negative-sequence", polarising: "-V2" },
      { function: "67N", watches: "residual", polarising: "-3V0" },
      { function: "67N", watches: "residual", polarising: "3V0" },
    ];
    const measures = fc.constantFrom("current" as const, "current-cosine" as const);
    holds(
      fc.property(
        fc.constantFrom(...kinds),
        fc.constantFrom(...setups),
        fc.record({
          characteristicAngle: number(-180, 180),
          leading: number(20, 120),
          lagging: number(20, 120),
          measures,
        }),
        fc.constantFrom("forward", "reverse"),
        (kind, setup, angles, way) => {
          const given = setting({ ...kind, ...angles, operates: way, rotation: setup.rotation });
          const edges = definitionOf(given.function).edges?.(given as never, setup) ?? [];
          expect(edges.map(({ name }) => name)).toEqual(["leading", "lagging"]);
          for (const { pose, at, side } of edges) {
            if (pose.kind === "none") throw new Error(pose.reason);
            const operatesAt = (level: number) =>
              operates(given, inputsOf(atLevel(pose.base, { lever: pose.lever, level }), pose.wiring));
            const inward = side === "under" ? -1 : 1;
            expect([operatesAt(at + 0.01 * inward), operatesAt(at - 0.01 * inward)]).toEqual([true, false]);
          }
        },
      ),
    );
  });

  test("is polarised with rated voltage, and has to stay quiet for a current right opposite", () => {
    const setup = {
      frequency: 50,
      rotation: "ABC",
      currentChannels: 3,
      voltageChannels: 3,
      ratedVoltage: 110,
    } as const;
    const given = setting({ polarising: "self", characteristicAngle: -30 });
    const [still] = definitionOf("67").stills?.(given, setup) ?? [];
    if (still?.pose.kind !== "found") throw new Error("no pose");
    const { va, ia } = atLevel(still.pose.base, { lever: still.pose.lever, level: still.level });
    expect(va?.rms).toBeCloseTo(110 / Math.sqrt(3), 12);
    expect(ia?.rms).toBeCloseTo(8, 12);
    // −30° and half a turn.
    expect(normalizeAngle((ia?.angle ?? 0) - (va?.angle ?? 0))).toBeCloseTo(150, 12);
  });

  test.each([
    [{ polarising: "-V2" }, "polarising"],
    [{ watches: "negative-sequence", polarising: "self" }, "polarising"],
    [{ function: "67N", watches: "residual", polarising: "quadrature" }, "polarising"],
    [{ polarising: "vbc" }, "polarising"],
    [{ characteristicAngle: Number.NaN }, "characteristicAngle"],
    [{ leading: 0 }, "leading"],
    [{ lagging: 171 }, "lagging"],
    [{ operates: "both" }, "operates"],
    [{ measures: "power" }, "measures"],
    [{ minimumVoltage: -1 }, "minimumVoltage"],
    [{ accuracy: { pickup: { percent: 5 }, time: { percent: 5 }, angle: { percent: 2 } } }, "accuracy.angle.percent"],
    [{ accuracy: { pickup: { percent: 5 }, time: { percent: 5 }, angle: { absolute: 0 } } }, "accuracy.angle.absolute"],
  ])("refuses %j", (change, path) => {
    expect(problemsOf(() => checkedDefinition(setting(change)))).toMatchObject([{ path }]);
  });
});

test("of the negative sequence says what its channels stand for, as three make it and as one does", () => {
  const relay = setting({ watches: "negative-sequence", polarising: "-V2", pickup: 2 });
  const found = setups.map((setup) => {
    const pose = definitionOf("67").pose(relay, setup);
    if (pose.kind === "none") throw new Error(pose.reason);
    const { i, ia, v, va } = atLevel(pose.base, { lever: pose.lever, level: 2 });
    return [pose.note, (i ?? ia)?.rms.toFixed(3), (v ?? va)?.rms.toFixed(2)];
  });
  const volts = ["voltages turning backwards: V2 = V", "from line a to line b, neutral at the midpoint: V2 = V/(2√3)"];
  const amperes = ["currents turning backwards: I2 = I", "out on phase a, back on phase b: I2 = I/√3"];
  // 2 A of I2 are 2 A in each phase, or 2 · √3 A out and back.
  for (const [k, { voltageChannels, currentChannels }] of setups.entries())
    expect(found[k]).toEqual([
      `${volts[voltageChannels === 3 ? 0 : 1]}; ${amperes[currentChannels === 3 ? 0 : 1]}`,
      currentChannels === 3 ? "2.000" : "3.464",
      voltageChannels === 3 ? "63.51" : "110.00",
    ]);
});

describe("a power function", () => {
  const power = (change: object = {}): PowerSetting =>
    ({
      ...setting(),
      id: "32R",
      function: "32",
      watches: "active-power",
      operates: "reverse",
      pickup: 20,
      ...change,
    }) as never;

  test("reads the active power of all three phases, in its own direction", () => {
    holds(
      fc.property(number(0, 100), number(0, 5), number(-180, 180), (volts, amperes, turn) => {
        const inputs: RelayInputs = {
          va: seen(volts, 0),
          vb: seen(volts, -120),
          ia: seen(amperes, turn),
          ic: seen(amperes, turn),
        };
        const nothing = { re: 0, im: 0 };
        const v = { a: inputs["va"] ?? nothing, b: inputs["vb"] ?? nothing, c: nothing };
        const i = { a: inputs["ia"] ?? nothing, b: nothing, c: inputs["ic"] ?? nothing };
        const { active } = complexPower(v, i);
        const { read } = definitionOf("32");
        expect(read(inputs, power()).quantity).toBeCloseTo(-active, 9);
        expect(read(inputs, power({ operates: "forward" })).quantity).toBeCloseTo(active, 9);
      }),
    );
  });

  test("20 W in reverse are 20/(3 · 63.509) A in antiphase in each phase", () => {
    const setup = { ...setups[0]!, currentChannels: 3, voltageChannels: 3, rotation: "ABC" } as const;
    const pose = definitionOf("32").pose(power(), setup);
    if (pose.kind === "none") throw new Error(pose.reason);
    const { ia, va } = atLevel(pose.base, { lever: pose.lever, level: 20 });
    expect(ia?.rms).toBeCloseTo(20 / 3 / (110 / Math.sqrt(3)), 12);
    expect([ia?.angle, va?.angle]).toEqual([180, 0]);
  });

  test("has to stay quiet for twice its setting the other way", () => {
    for (const setup of setups) {
      const stills = definitionOf("32").stills?.(power(), setup) ?? [];
      expect(stills.map(({ name, level }) => [name, level])).toEqual([["forward", 40]]);
      const [{ pose }] = stills as [(typeof stills)[number]];
      if (pose.kind === "none") throw new Error(pose.reason);
      const inputs = inputsOf(atLevel(pose.base, { lever: pose.lever, level: 40 }), pose.wiring);
      expect(definitionOf("32").read(inputs, power()).quantity).toBeCloseTo(-40, 9);
    }
  });
});
