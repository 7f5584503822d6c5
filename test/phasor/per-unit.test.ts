import fc from "fast-check";
import { changeBase, fromPerUnit, type PerUnitBase, type PerUnitKind, perUnit } from "tripwright/phasor";
import { describe, expect, test } from "vitest";
import { D, exactly, type Reference, ulpsOff } from "../base/reference.js";
import { spread } from "../base/spread.js";
import { ulps } from "../support/distance.js";
import { problemsOf } from "../support/failure.js";
import { holds } from "../support/holds.js";

const KINDS = ["current", "voltage", "impedance", "power"] as const;
const kinds = fc.constantFrom(...KINDS);
const between = (low: number, high: number) => spread(low, high).map((power) => 10 ** power);
const values = fc.tuple(fc.constantFrom(1, -1), between(-6, 6)).map(([sign, size]) => sign * size);
const phases = fc.constantFrom(1, 3, undefined);
const based = (power: fc.Arbitrary<number>, voltage: fc.Arbitrary<number>): fc.Arbitrary<PerUnitBase> =>
  fc
    .record({ power, voltage, phases })
    .map(({ phases, ...rest }) => (phases === undefined ? rest : { ...rest, phases: phases === 1 ? 1 : 3 }));
const bases = based(between(0, 10), between(0, 6));

/** The base of a quantity at 50 digits. */
function baseOf(kind: PerUnitKind, { power, voltage, phases = 3 }: PerUnitBase): Reference {
  const [s, v] = [exactly(power), exactly(voltage)];
  return { current: s.div(v).div(new D(phases).sqrt()), voltage: v, impedance: v.pow(2).div(s), power: s }[kind];
}

describe("values in per unit", () => {
  test("and back are within 4 units in the last place of 50-digit values", () => {
    holds(
      fc.property(values, kinds, bases, (value, kind, base) => {
        const of = baseOf(kind, base);
        expect(ulpsOff(perUnit(value, { kind, ...base }), exactly(value).div(of))).toBeLessThanOrEqual(4);
        expect(ulpsOff(fromPerUnit(value, { kind, ...base }), exactly(value).times(of))).toBeLessThanOrEqual(4);
      }),
      200,
    );
  });

  test("are so wherever the result fits a double, though partial products do not", () => {
    const huge = between(-200, 200);
    holds(
      fc.property(huge, kinds, based(huge, huge), (value, kind, base) => {
        const exact = exactly(value).div(baseOf(kind, base));
        const work = () => perUnit(value, { kind, ...base });
        if (exact.gt("1e-300") && exact.lt("1.79e308")) expect(ulpsOff(work(), exact)).toBeLessThanOrEqual(4);
        if (exact.gt("1.8e308")) expect(problemsOf(work)).toMatchObject([{ code: "out-of-range", path: "value" }]);
      }),
      200,
    );
  });

  test("are so by the base alone, where its square leaves the range of a double", () => {
    const at = (voltage: number) => perUnit(2 ** -190, { kind: "impedance", power: 2 ** -190, voltage });
    expect([at(2 ** -600), at(2 ** 340)]).toEqual([2 ** 820, 2 ** -1060]);
    expect(fromPerUnit(2 ** -190, { kind: "impedance", power: 2 ** 190, voltage: 2 ** 600 })).toBe(2 ** 820);
  });

  test("come back", () => {
    holds(
      fc.property(values, kinds, bases, (value, kind, base) => {
        const of = { kind, ...base };
        expect(ulps(fromPerUnit(perUnit(value, of), of), value)).toBeLessThanOrEqual(8);
        expect(ulps(perUnit(fromPerUnit(value, of), of), value)).toBeLessThanOrEqual(8);
      }),
    );
  });

  test("keep to Ohm's law: of one phase V = Z · I, and of three V = √3 · Z · I needs no √3 any more", () => {
    holds(
      fc.property(between(-2, 4), between(-2, 3), bases, (amperes, ohms, base) => {
        const volts = (base.phases === 1 ? 1 : Math.sqrt(3)) * ohms * amperes;
        const product = perUnit(ohms, { kind: "impedance", ...base }) * perUnit(amperes, { kind: "current", ...base });
        expect(ulps(product, perUnit(volts, { kind: "voltage", ...base }))).toBeLessThanOrEqual(16);
      }),
    );
  });

  test("are 1 for the base itself, and the base is what 1 comes to", () => {
    const base = { power: 20e6, voltage: 33e3 };
    expect(fromPerUnit(1, { kind: "power", ...base })).toBe(20e6);
    expect(fromPerUnit(1, { kind: "voltage", ...base })).toBe(33e3);
    expect(fromPerUnit(1, { kind: "impedance", ...base })).toBe(54.45); // 33²/20
    expect(fromPerUnit(1, { kind: "current", power: 66e3, voltage: 11e3, phases: 1 })).toBe(6);
    expect(perUnit(20e6, { kind: "power", ...base })).toBe(1);
    expect(Object.is(perUnit(-0, { kind: "voltage", ...base }), 0)).toBe(true);
    expect(Object.is(fromPerUnit(-0, { kind: "current", ...base }), 0)).toBe(true);
  });
});

describe("a change of base", () => {
  test("is within 7 units in the last place of 50-digit values", () => {
    holds(
      fc.property(values, kinds, bases, bases, (value, kind, from, to) => {
        const exact = exactly(value).times(baseOf(kind, from)).div(baseOf(kind, to));
        expect(ulpsOff(changeBase(value, { kind, from, to }), exact)).toBeLessThanOrEqual(7);
      }),
      200,
    );
  });

  test("is so wherever the result fits a double, though partial products do not", () => {
    const wide = fc.constantFrom(59, 200).chain((most) => between(-most, most));
    holds(
      fc.property(wide, kinds, based(wide, wide), based(wide, wide), (value, kind, from, to) => {
        const exact = exactly(value).times(baseOf(kind, from)).div(baseOf(kind, to));
        const work = () => changeBase(value, { kind, from, to });
        if (exact.gt("1e-300") && exact.lt("1.79e308")) expect(ulpsOff(work(), exact)).toBeLessThanOrEqual(7);
        if (exact.lt("1e-330")) expect(work()).toBe(0);
        if (exact.gt("1.8e308")) expect(problemsOf(work)).toMatchObject([{ code: "out-of-range", path: "value" }]);
      }),
    );
    const [large, small] = [
      { power: 1e-59, voltage: 1e59 },
      { power: 1e59, voltage: 1e-59 },
    ];
    const change = (from: PerUnitBase, to: PerUnitBase) => () => changeBase(1e59, { kind: "impedance", from, to });
    expect(problemsOf(change(large, small))).toMatchObject([{ code: "out-of-range", path: "value" }]);
    expect(change(small, large)()).toBe(1e-295);
    const vanishing = { kind: "impedance", from: small, to: large } as const;
    for (const value of [5e-324, -5e-324]) expect(changeBase(value, vanishing)).toBe(0);
  });

  test("is the value itself on the other base, and comes back", () => {
    holds(
      fc.property(values, kinds, bases, bases, (value, kind, from, to) => {
        const there = changeBase(value, { kind, from, to });
        const direct = perUnit(fromPerUnit(value, { kind, ...from }), { kind, ...to });
        expect(ulps(there, direct)).toBeLessThanOrEqual(16);
        expect(ulps(changeBase(there, { kind, from: to, to: from }), value)).toBeLessThanOrEqual(14);
      }),
    );
  });

  test("of an impedance grows with the new power and with the square of the old voltage", () => {
    const base = { power: 1e6, voltage: 11e3 };
    const change = (from: PerUnitBase, to: PerUnitBase) => changeBase(0.1, { kind: "impedance", from, to });
    expect(change(base, base)).toBe(0.1);
    expect(change(base, { ...base, power: 4e6 })).toBe(0.4);
    expect(change(base, { ...base, voltage: 22e3 })).toBe(0.025);
    expect(change({ ...base, power: 2e6 }, base)).toBe(0.05);
    // A third of three phases' power on each of them: a current of one phase at V/√3 is the same.
    expect(
      changeBase(1, {
        kind: "current",
        from: { power: 3e6, voltage: 11e3 },
        to: { power: 1e6, voltage: 11e3, phases: 1 },
      }),
    ).toBeCloseTo(Math.sqrt(3), 15);
  });
});

describe("bases that are none", () => {
  const base = { power: 1e6, voltage: 11e3 };
  const problem = (work: () => unknown) => {
    const [first, ...more] = problemsOf(work);
    expect(more).toEqual([]);
    return `${first?.path} ${first?.code}`;
  };
  const eachWay = (value: unknown, of: unknown) => {
    const [one, two] = [perUnit, fromPerUnit].map((work) => problem(() => work(value as number, of as never)));
    expect(two).toBe(one);
    return one;
  };

  test("are told by name", () => {
    expect(eachWay(1, undefined)).toBe(" missing");
    expect(eachWay(1, null)).toBe(" wrong-type");
    expect(eachWay(1, { ...base })).toBe("kind unknown-name");
    expect(eachWay(1, { ...base, kind: "toString" })).toBe("kind unknown-name");
    expect(eachWay(1, { kind: "current", voltage: 11e3 })).toBe("power missing");
    expect(eachWay(1, { ...base, kind: "current", voltage: 0 })).toBe("voltage out-of-range");
    expect(eachWay(1, { ...base, kind: "current", power: "1 MVA" })).toBe("power wrong-type");
    expect(eachWay(1, { ...base, kind: "current", power: Number.POSITIVE_INFINITY })).toBe("power not-finite");
    for (const phases of [2, 0, "3", null])
      expect(eachWay(1, { ...base, kind: "power", phases })).toBe("phases out-of-range");
    expect(eachWay(1, { ...base, kind: "power", volts: 3 })).toBe("volts unknown-key");
    expect(eachWay(Number.NaN, { ...base, kind: "power" })).toBe("value not-finite");
    expect(eachWay(undefined, { ...base, kind: "power" })).toBe("value missing");
    expect(eachWay("1", { ...base, kind: "power" })).toBe("value wrong-type");
  });

  test("with what they should be, and in which unit", () => {
    const ask = (base: PerUnitBase) => () => perUnit(1, { kind: "power", ...base });
    expect(ask({ ...base, power: 0 })).toThrow("power: expected a base power above 0 VA, received 0");
    expect(ask({ ...base, voltage: -1 })).toThrow("voltage: expected a base voltage above 0 V, received -1");
  });

  test("are told by name and place in a change of base", () => {
    const change = (given: unknown, value: unknown = 1) => problem(() => changeBase(value as number, given as never));
    const good = { kind: "impedance", from: base, to: base };
    expect(change(undefined)).toBe(" missing");
    expect(change({ ...good, kind: "ohms" })).toBe("kind unknown-name");
    expect(change({ ...good, from: undefined })).toBe("from missing");
    expect(change({ ...good, to: { power: 1e6 } })).toBe("to.voltage missing");
    expect(change({ ...good, to: { ...base, phases: 2 } })).toBe("to.phases out-of-range");
    expect(change({ ...good, from: { ...base, kind: "power" } })).toBe("from.kind unknown-key");
    expect(change({ ...good, base })).toBe("base unknown-key");
    expect(change(good, Number.NaN)).toBe("value not-finite");
  });
});
