import fc from "fast-check";
import { type Compared, frequencyError, type PhasorParts, rocofError, totalVectorError } from "tripwright/sinusoid";
import { describe, expect, test } from "vitest";
import { complex, modulus, ulpsOff } from "../base/reference.js";
import { spread } from "../base/spread.js";
import { problemsOf } from "../support/failure.js";
import { holds } from "../support/holds.js";

const phasors = fc.record({ re: spread(-100, 100), im: spread(-100, 100) });
const radians = (degrees: number): number => (degrees * Math.PI) / 180;

describe("the total vector error", () => {
  test("is the length of the difference over that of the reference, within 4 units in the last place of 50-digit values", () => {
    const near = fc.tuple(phasors, spread(-1, 1), spread(-1, 1)).map(([{ re, im }, x, y]) => ({
      reference: { re, im },
      measured: { re: re + x, im: im + y },
    }));
    const pairs = fc.oneof(near, fc.record({ reference: phasors, measured: phasors }));
    holds(
      fc.property(pairs, fc.constantFrom(1e-280, 1, 1e300), ({ reference, measured }, unit) => {
        const [m, r] = [measured, reference].map(({ re, im }) => ({ re: re * unit, im: im * unit })) as [
          PhasorParts,
          PhasorParts,
        ];
        const [exactM, exactR] = [complex(m), complex(r)];
        const away = modulus({ re: exactM.re.minus(exactR.re), im: exactM.im.minus(exactR.im) });
        expect(ulpsOff(totalVectorError(m, r), away.div(modulus(exactR)))).toBeLessThanOrEqual(4);
      }),
    );
  });

  test("is √(2(1 + e)(1 − cos d) + e²) for an error e of magnitude and d of angle, whatever the reference", () => {
    holds(
      fc.property(spread(-0.5, 0.5), spread(-180, 180), spread(1, 1e4), spread(-180, 180), (e, d, size, angle) => {
        const at = (magnitude: number, degrees: number) => ({
          re: magnitude * Math.cos(radians(degrees)),
          im: magnitude * Math.sin(radians(degrees)),
        });
        const expected = Math.sqrt(2 * (1 + e) * (1 - Math.cos(radians(d))) + e * e);
        expect(Math.abs(totalVectorError(at(size * (1 + e), angle + d), at(size, angle)) - expected)).toBeLessThan(
          1e-7,
        );
      }),
    );
  });

  test("is 0 for the reference itself, 1 for nothing, 2 for its opposite", () => {
    holds(
      fc.property(phasors, ({ re, im }) => {
        fc.pre(re !== 0 || im !== 0);
        const errorOf = (factor: number) => totalVectorError({ re: factor * re, im: factor * im }, { re, im });
        expect([errorOf(1), errorOf(0), errorOf(-1)]).toEqual([0, 1, 2]);
      }),
    );
  });

  test("takes phasors with more to them", () => {
    expect(totalVectorError({ re: 3, im: 5, name: "va" } as PhasorParts, { re: 3, im: 4 })).toBe(0.2);
  });

  test("is refused for phasors that are none, at their path", () => {
    const good = { re: 1, im: 0 };
    const problem = (measured: unknown, reference: unknown) => {
      const [first, ...more] = problemsOf(() => totalVectorError(measured as PhasorParts, reference as PhasorParts));
      expect(more).toEqual([]);
      return `${first?.path} ${first?.code}`;
    };
    const rows: readonly (readonly [unknown, string])[] = [
      [undefined, " missing"],
      [null, " wrong-type"],
      [5, " wrong-type"],
      [[1, 0], " wrong-type"],
      [{ re: 1 }, ".im missing"],
      [{ re: "1", im: 0 }, ".re wrong-type"],
      [{ re: Number.NaN, im: 0 }, ".re not-finite"],
      [{ re: 1, im: Number.NEGATIVE_INFINITY }, ".im not-finite"],
    ];
    for (const [wrong, expected] of rows) {
      expect(problem(wrong, good)).toBe(`measured${expected}`);
      expect(problem(good, wrong)).toBe(`reference${expected}`);
    }
  });

  test("has no answer against nothing, nor where it leaves the range of a double", () => {
    for (const [measured, reference, path] of [
      [1, 0, "reference"],
      [0, 0, "reference"],
      [1e200, 1e-200, "measured"],
      [1.7e308, -1.7e308, "measured"],
    ] as const) {
      const problems = problemsOf(() => totalVectorError({ re: measured, im: 0 }, { re: reference, im: 0 }));
      expect(problems.map(({ path, code }) => `${path} ${code}`)).toEqual([`${path} out-of-range`]);
    }
  });
});

describe.each([
  ["frequency", frequencyError],
  ["rate of change of frequency", rocofError],
])("the error of a %s", (_, errorOf) => {
  test("is how far the measured value lies from the true one, on either side", () => {
    holds(
      fc.property(spread(-100, 100), spread(-100, 100), (measured, reference) => {
        const error = errorOf({ measured, reference });
        expect(error).toBe(measured > reference ? measured - reference : reference - measured);
        expect(errorOf({ measured: reference, reference: measured })).toBe(error);
      }),
    );
    expect(Object.is(errorOf({ measured: -0, reference: 0 }), 0)).toBe(true);
  });

  test("is refused for what is no finite number, and where it leaves the range of a double", () => {
    const problem = (given: unknown) => {
      const [first, ...more] = problemsOf(() => errorOf(given as Compared));
      expect(more).toEqual([]);
      return `${first?.path} ${first?.code}`;
    };
    const good = { measured: 50, reference: 50 };
    const rows: readonly (readonly [unknown, string])[] = [
      [undefined, " missing"],
      [null, " wrong-type"],
      [50, " wrong-type"],
      [{ measured: 50 }, "reference missing"],
      [{ reference: 50 }, "measured missing"],
      [{ ...good, measured: "50" }, "measured wrong-type"],
      [{ ...good, reference: Number.NaN }, "reference not-finite"],
      [{ ...good, true: 50 }, "true unknown-key"],
      [{ measured: 1.7e308, reference: -1.7e308 }, "measured out-of-range"],
    ];
    for (const [given, expected] of rows) expect(problem(given)).toBe(expected);
  });
});
