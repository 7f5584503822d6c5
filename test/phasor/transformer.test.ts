import fc from "fast-check";
import { type Transformers, toPrimary, toSecondary } from "tripwright/phasor";
import { describe, expect, test } from "vitest";
import { exactly, type Reference, ulpsOff } from "../base/reference.js";
import { spread } from "../base/spread.js";
import { ulps } from "../support/distance.js";
import { problemsOf } from "../support/failure.js";
import { holds } from "../support/holds.js";

const KINDS = ["current", "voltage", "impedance", "power"] as const;
type Ratios = Required<Omit<Transformers, "kind">>;

const kinds = fc.constantFrom(...KINDS);
const values = spread(-1e6, 1e6).filter((x) => x === 0 || Math.abs(x) > 1e-6);
const sides = (low: number, high: number) => fc.oneof(fc.integer({ min: low, max: high }), spread(low, high));
const ratios: fc.Arbitrary<Ratios> = fc.record({
  ct: fc.record({ primary: sides(1, 5000), secondary: sides(1, 5) }),
  vt: fc.record({ primary: sides(100, 500_000), secondary: sides(50, 200) }),
});

/** Primary over secondary of each kind at 50 digits: impedance is voltage over current, power voltage times current. */
function factor(kind: Transformers["kind"], { ct, vt }: Ratios): Reference {
  const [ctr, vtr] = [ct, vt].map(({ primary, secondary }) => exactly(primary).div(exactly(secondary))) as [
    Reference,
    Reference,
  ];
  return { current: ctr, voltage: vtr, impedance: vtr.div(ctr), power: vtr.times(ctr) }[kind];
}

const offPrimary = (value: number, kind: Transformers["kind"], ratio: Ratios): number =>
  ulpsOff(toPrimary(value, { kind, ...ratio }), exactly(value).times(factor(kind, ratio)));
const offSecondary = (value: number, kind: Transformers["kind"], ratio: Ratios): number =>
  ulpsOff(toSecondary(value, { kind, ...ratio }), exactly(value).div(factor(kind, ratio)));

describe("values across instrument transformers", () => {
  test("are within 4 units in the last place of 50-digit values", () => {
    holds(
      fc.property(values, kinds, ratios, (value, kind, ratio) => {
        expect(offPrimary(value, kind, ratio)).toBeLessThanOrEqual(4);
        expect(offSecondary(value, kind, ratio)).toBeLessThanOrEqual(4);
      }),
      200,
    );
  });

  test("are within 4 units in the last place where four roundings add up worst", () => {
    // Found by search.
    const worst = {
      ct: { primary: 1.0003530481471705, secondary: 1.0009297409489855 },
      vt: { primary: 1.0064637581991507, secondary: 1.015205380929755 },
    };
    expect(offPrimary(0.9951387150459323, "impedance", worst)).toBeLessThanOrEqual(4);
  });

  test("are so wherever the result fits a double, though partial products do not", () => {
    const huge = spread(-300, 300).map((power) => 10 ** power);
    const sidesOf = fc.record({ primary: huge, secondary: huge });
    holds(
      fc.property(huge, kinds, fc.record({ ct: sidesOf, vt: sidesOf }), (value, kind, ratio) => {
        for (const [carry, exact] of [
          [toPrimary, exactly(value).times(factor(kind, ratio))],
          [toSecondary, exactly(value).div(factor(kind, ratio))],
        ] as const) {
          const work = () => carry(value, { kind, ...ratio });
          if (exact.gt("1e-300") && exact.lt("1.79e308")) expect(ulpsOff(work(), exact)).toBeLessThanOrEqual(4);
          if (exact.lt("1e-330")) expect(work()).toBe(0);
          if (exact.gt("1.8e308")) expect(problemsOf(work)).toMatchObject([{ code: "out-of-range", path: "value" }]);
        }
      }),
      200,
    );
    const [steep, flat] = [
      { primary: 2 ** 1000, secondary: 2 ** -1000 },
      { primary: 2 ** -1000, secondary: 2 ** 1000 },
    ];
    for (const carry of [toPrimary, toSecondary]) {
      expect(carry(7, { kind: "power", ct: steep, vt: flat })).toBe(7);
      expect(carry(7, { kind: "impedance", ct: flat, vt: flat })).toBe(7);
    }
    expect(toPrimary(5e-324, { kind: "current", ct: { primary: 2 ** 1000, secondary: 2 ** -70 } })).toBe(2 ** -4);
  });

  test("come back from the other side", () => {
    holds(
      fc.property(values, kinds, ratios, (value, kind, ratio) => {
        const across = { kind, ...ratio };
        expect(ulps(toPrimary(toSecondary(value, across), across), value)).toBeLessThanOrEqual(6);
        expect(ulps(toSecondary(toPrimary(value, across), across), value)).toBeLessThanOrEqual(6);
      }),
    );
  });

  test("grow in proportion, to the bit for powers of two and for the sign", () => {
    holds(
      fc.property(values, kinds, ratios, fc.integer({ min: -20, max: 20 }), (value, kind, ratio, power) => {
        const across = { kind, ...ratio };
        for (const carry of [toSecondary, toPrimary]) {
          expect(carry(value * 2 ** power, across)).toBe(carry(value, across) * 2 ** power);
          expect(carry(-value, across)).toBe(0 - carry(value, across));
        }
      }),
    );
  });

  test("keep to Ohm's law and to the power of voltage and current on both sides", () => {
    holds(
      fc.property(values, values, ratios, (volts, amperes, ratio) => {
        fc.pre(volts !== 0 && amperes !== 0);
        for (const carry of [toSecondary, toPrimary]) {
          const v = carry(volts, { kind: "voltage", ...ratio });
          const i = carry(amperes, { kind: "current", ...ratio });
          expect(ulps(v / i, carry(volts / amperes, { kind: "impedance", ...ratio }))).toBeLessThanOrEqual(10);
          expect(ulps(v * i, carry(volts * amperes, { kind: "power", ...ratio }))).toBeLessThanOrEqual(10);
        }
      }),
    );
  });

  test("are the rated values of one side where they are those of the other", () => {
    const ct = { primary: 400, secondary: 5 };
    const vt = { primary: 33_000, secondary: 110 };
    expect(toSecondary(400, { kind: "current", ct })).toBe(5);
    expect(toPrimary(110, { kind: "voltage", vt })).toBe(33_000);
    expect(toSecondary(30, { kind: "impedance", ct, vt })).toBe(8); // 30 · 80/300
    expect(toPrimary(550, { kind: "power", ct, vt })).toBe(13_200_000); // 550 · 80 · 300
    expect(Object.is(toSecondary(-0, { kind: "current", ct }), 0)).toBe(true);
  });
});

describe("values across instrument transformers are refused", () => {
  const ct = { primary: 400, secondary: 5 };
  const vt = { primary: 33_000, secondary: 110 };
  const problem = (value: unknown, across: unknown) =>
    [toSecondary, toPrimary].map((carry) => {
      const [first, ...more] = problemsOf(() => carry(value as number, across as Transformers));
      expect(more).toEqual([]);
      return `${first?.path} ${first?.code}`;
    });
  const both = (text: string) => [text, text];

  test("without a ratio that the kind passes, but not for one that it does not pass", () => {
    for (const kind of ["current", "impedance", "power"]) expect(problem(1, { kind, vt })).toEqual(both("ct missing"));
    for (const kind of ["voltage", "impedance", "power"]) expect(problem(1, { kind, ct })).toEqual(both("vt missing"));
    const withoutCt = () => toPrimary(1, { kind: "impedance", vt });
    expect(withoutCt).toThrow("ct: expected the ratio of the CT, which impedance passes, received nothing");
    expect(toSecondary(80, { kind: "current", ct })).toBe(1);
    expect(toSecondary(300, { kind: "voltage", vt })).toBe(1);
  });

  test("for a ratio with a side that is no finite number above 0", () => {
    expect(problem(1, { kind: "current", ct: { ...ct, primary: 0 } })).toEqual(both("ct.primary out-of-range"));
    expect(problem(1, { kind: "current", ct: { ...ct, secondary: -5 } })).toEqual(both("ct.secondary out-of-range"));
    expect(problem(1, { kind: "power", ct, vt: { primary: "33 kV", secondary: 110 } })).toEqual(
      both("vt.primary wrong-type"),
    );
    expect(problem(1, { kind: "voltage", vt: { primary: 33_000 } })).toEqual(both("vt.secondary missing"));
    for (const wrong of [null, 80, [400, 5]])
      expect(problem(1, { kind: "current", ct: wrong })).toEqual(both("ct wrong-type"));
  });

  test("for an unknown kind, an unknown key, and a value that is no finite number", () => {
    for (const kind of ["Current", "constructor", undefined])
      expect(problem(1, { kind, ct })).toEqual(both("kind unknown-name"));
    expect(problem(1, { kind: "current", ct, pt: vt })).toEqual(both("pt unknown-key"));
    expect(problem(1, undefined)).toEqual(both(" missing"));
    expect(problem(Number.NaN, { kind: "current", ct })).toEqual(both("value not-finite"));
    expect(problem("1", { kind: "current", ct })).toEqual(both("value wrong-type"));
    const steep = { primary: 1e300, secondary: 1e-300 };
    expect(problemsOf(() => toPrimary(1e10, { kind: "current", ct: steep }))).toMatchObject([{ path: "value" }]);
  });
});
