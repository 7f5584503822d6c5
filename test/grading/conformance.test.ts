/** The probability of conformance on and beside its limits, far out, and of angles. */
import fc from "fast-check";
import { type Band, conformanceProbability, type Known } from "tripwright/grading";
import { describe, expect, test } from "vitest";
import { problemsOf } from "../support/failure.js";
import { holds } from "../support/holds.js";

const UNIT = { standardUncertainty: 1 };

describe("the probability of conformance", () => {
  test("of one reading out of 68, 95 and 99.7 in a hundred (68-95-99.7 rule; NIST/SEMATECH 7.2, digits from memory)", () => {
    const within = (k: number) => conformanceProbability(0, { nominal: 0, low: -k, high: k }, UNIT);
    expect(within(1)).toBeCloseTo(0.682689492137086, 14);
    expect(within(2)).toBeCloseTo(0.954499736103642, 14);
    expect(within(3)).toBeCloseTo(0.99730020393674, 14);
    expect(within(1.959963984540054)).toBeCloseTo(0.95, 14);
  });

  test("of Cauchy's distribution, which one degree of freedom is, is the angle that the band is seen under", () => {
    const places = fc.integer({ min: -500, max: 500 }).map((n) => n / 100);
    const widths = fc.integer({ min: 1, max: 900 }).map((n) => n / 100);
    holds(
      fc.property(places, widths, widths, (reading, width, standardUncertainty) => {
        const found = conformanceProbability(
          reading,
          { nominal: 0, low: -width, high: width },
          { standardUncertainty, degreesOfFreedom: 1 },
        );
        const angle = (limit: number) => Math.atan((limit - reading) / standardUncertainty);
        expect(found).toBeCloseTo((angle(width) - angle(-width)) / Math.PI, 12);
      }),
    );
  });

  test("far outside is that of the near limit, as many digits as it has, on both sides", () => {
    holds(
      fc.property(fc.integer({ min: 1, max: 3000 }), (hundredths) => {
        const away = hundredths / 100;
        const band = { nominal: 0, low: -50, high: 50 };
        const single = conformanceProbability(away, { nominal: 0, high: 0 }, UNIT);
        expect(conformanceProbability(50 + away, band, UNIT) / single).toBeCloseTo(1, 10);
        expect(conformanceProbability(-50 - away, band, UNIT) / single).toBeCloseTo(1, 10);
        expect(conformanceProbability(-away, { nominal: 0, low: 0 }, UNIT) / single).toBeCloseTo(1, 10);
      }),
    );
  });

  test("of a narrow band far away is its width times the density there", () => {
    const density = Math.exp(-0.5 * 36) / Math.sqrt(2 * Math.PI);
    const width = 1e-5;
    for (const side of [-6, 6]) {
      const band = { nominal: 0, low: -width / 2, high: width / 2 };
      expect(conformanceProbability(side, band, UNIT) / (width * density)).toBeCloseTo(1, 8);
    }
  });

  test("is the same whether a limit is met or missed by a unit in the last place, but where nothing is uncertain", () => {
    const band = { nominal: 0, low: -1, high: 1 };
    const beyond = 1 + Number.EPSILON;
    const exact = (reading: number) => conformanceProbability(reading, band, { standardUncertainty: 0 });
    expect([-beyond, -1, 1, beyond].map(exact)).toEqual([0, 1, 1, 0]);
    const [on, off] = [1, beyond].map((reading) => conformanceProbability(reading, band, UNIT));
    expect(off).toBeCloseTo(on as number, 14);
    expect(conformanceProbability(1e9, { nominal: 0 }, { standardUncertainty: 0 })).toBe(1);
    expect(conformanceProbability(1e9, { nominal: 0 }, UNIT)).toBe(1);
  });

  const nominals = fc.integer({ min: -180, max: 180 });

  test("of an angle does not change with whole turns, wherever the nominal angle lies", () => {
    const offs = fc.integer({ min: -170, max: 170 });
    holds(
      fc.property(nominals, offs, fc.integer({ min: -3, max: 3 }), (nominal, off, turns) => {
        const band = { nominal, low: nominal - 20, high: nominal + 30, period: 360 } as const;
        const known = { standardUncertainty: 50 };
        const plain = conformanceProbability(nominal + off, band, known);
        expect(conformanceProbability(nominal + off + 360 * turns, band, known)).toBe(plain);
      }),
    );
  });

  test("of an angle that is known well is that of the line", () => {
    const offs = fc.integer({ min: -300, max: 400 }).map((n) => n / 10);
    holds(
      fc.property(nominals, offs, (nominal, off) => {
        const band = { nominal, low: nominal - 20, high: nominal + 30 };
        const known = { standardUncertainty: 10 };
        const onCircle = conformanceProbability(nominal + off, { ...band, period: 360 }, known);
        expect(onCircle).toBeCloseTo(conformanceProbability(nominal + off, band, known), 14);
      }),
    );
  });

  test("of an angle and that of the rest of the circle are one together", () => {
    const angles = fc.integer({ min: -180, max: 180 });
    holds(
      fc.property(angles, fc.integer({ min: 1, max: 359 }), angles, fc.constantFrom(1, 10, 40), (low, width, at, u) => {
        const high = low + width;
        const known = { standardUncertainty: u };
        const inside = conformanceProbability(at, { nominal: low, low, high, period: 360 }, known);
        const rest = { nominal: high, low: high, high: low + 360, period: 360 } as const;
        expect(inside + conformanceProbability(at, rest, known)).toBeCloseTo(1, 12);
      }),
    );
  });

  test("of an angle whose limits go all the way round is one", () => {
    const all = { nominal: 0, low: -200, high: 200, period: 360 } as const;
    for (const at of [0, 90, 180, -180])
      expect(conformanceProbability(at, all, { standardUncertainty: 30 })).toBeCloseTo(1, 12);
    expect(conformanceProbability(-180, { nominal: 0, high: 0, period: 360 }, UNIT)).toBe(0);
    expect(conformanceProbability(-170, { nominal: 0, high: 0, period: 360 }, UNIT)).toBe(1);
  });

  test.each<readonly [unknown, unknown, unknown, string, string]>([
    [undefined, { nominal: 0 }, UNIT, "missing", "measured"],
    [Number.NaN, { nominal: 0 }, UNIT, "not-finite", "measured"],
    [0, { nominal: 0, low: 1, high: -1 }, UNIT, "out-of-range", "band.high"],
    [0, null, UNIT, "wrong-type", "band"],
    [0, { nominal: 0 }, {}, "missing", "standardUncertainty"],
    [0, { nominal: 0 }, { standardUncertainty: -1 }, "out-of-range", "standardUncertainty"],
    [0, { nominal: 0 }, { ...UNIT, degreesOfFreedom: 0.5 }, "out-of-range", "degreesOfFreedom"],
    [0, { nominal: 0 }, { ...UNIT, degreesOfFreedom: "4" }, "wrong-type", "degreesOfFreedom"],
    [0, { nominal: 0 }, { ...UNIT, freedom: 4 }, "unknown-key", "freedom"],
  ])("of %j in %j with %j is refused: %s at %s", (measured, band, known, code, path) => {
    const ask = () => conformanceProbability(measured as number, band as Band, known as Known);
    expect(problemsOf(ask)).toMatchObject([{ code, path }]);
  });
});
