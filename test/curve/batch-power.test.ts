/** Times by the table of powers, and the table, against 50-digit decimals; the plain formula is powerMinusOne. */
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { fillByPowers } from "../../src/curve/batch-power.js";
import { powerMinusOne } from "../../src/curve/power.js";
import { powerTable } from "../../src/curve/power-table.js";
import { exactly, ulpsOff } from "../base/reference.js";
import { spread } from "../base/spread.js";
import { ulps } from "../support/distance.js";
import { holds } from "../support/holds.js";

const exponents = [0.001, 0.02, 0.04, 0.5, 1.3, 3, 3.7, 4];
const exact = (multiple: number, alpha: number) => exactly(multiple).pow(exactly(alpha)).minus(1);
const filled = (multiples: Float64Array, alpha: number, c = 0) => {
  const times = new Float64Array(multiples.length);
  return { complete: fillByPowers(multiples, times, alpha, Float64Array.of(1, c)), times };
};

describe("the table of powers", () => {
  test.each(exponents)("for alpha = %f is right to the last bit, and all but, at centres in each octave", (alpha) => {
    const { cells } = powerTable(alpha);
    for (let cell = 1; cell < 1_024; cell += 11) {
      const centre = cells[3 * cell] as number;
      expect(cells[3 * cell + 1]).toBe(1 / centre);
      expect(ulpsOff(cells[3 * cell + 2] as number, exact(centre, alpha))).toBeLessThan(0.6);
    }
  });

  test("has centres that the multiples of their cells are near to: by 1/128, and from 1 up in the first", () => {
    const { cells } = powerTable(0.02);
    for (let cell = 0; cell < 1_024; cell++) {
      const [octave, step] = [2 ** Math.floor(cell / 128), cell % 128];
      const [low, high] = [octave * (1 + step / 128), octave * (1 + (step + 1) / 128)];
      const centre = cells[3 * cell] as number;
      expect(centre).toBeGreaterThanOrEqual(low);
      expect(Math.max(centre - low, high - centre)).toBeLessThanOrEqual(octave / 128);
    }
    expect([cells[0], cells[2]]).toEqual([1, 0]);
  });
});

describe("times by powers, 1/(M^alpha − 1)", () => {
  /** Logarithms of M − 1, from the smallest step beside 1 to the end of the table. */
  const exponent = spread(-15, Math.log10(254.9));

  // Sum of the series, product and division are rounded by up to a unit each, and the tail of the series by far less.
  test.each(exponents)("of alpha = %f are within 3.1 units in the last place", (alpha) => {
    holds(
      fc.property(fc.array(exponent, { minLength: 1, maxLength: 20 }), (list) => {
        const multiples = Float64Array.from(list, (power) => 1 + 10 ** power);
        const { complete, times } = filled(multiples, alpha);
        expect(complete).toBe(true);
        times.forEach((time, i) => {
          expect(ulpsOff(time, exact(multiples[i] as number, alpha).pow(-1))).toBeLessThanOrEqual(3.1);
        });
      }),
      20,
    );
  });

  test("go on without a step from cell to cell and from octave to octave", () => {
    const edges = Array.from({ length: 1_023 }, (_, i) => 2 ** Math.floor((i + 1) / 128) * (1 + ((i + 1) % 128) / 128));
    const multiples = Float64Array.from(edges.flatMap((edge) => [edge * (1 - 2 ** -53), edge]));
    filled(multiples, 0.02).times.forEach((time, i) => {
      expect(ulps(time, 1 / powerMinusOne(multiples[i] as number, 0.02))).toBeLessThanOrEqual(7);
    });
  });

  test("have no bias at the far ends of cells, where the last terms of the series count", () => {
    const multiples = Float64Array.from({ length: 200 }, (_, i) => 1 + (0.98 + i / 10_001) / 128);
    const errors = Array.from(filled(multiples, 0.02).times, (time, i) => {
      const reference = exact(multiples[i] as number, 0.02).pow(-1);
      return ulpsOff(time, reference) * (exactly(time).gt(reference) ? 1 : -1);
    });
    expect(Math.abs(errors.reduce((sum, error) => sum + error, 0) / errors.length)).toBeLessThan(0.5);
  });

  test("are infinite at 1, and fall from there", () => {
    const { times } = filled(Float64Array.of(1, 1 + 2 ** -52, 1 + 2 ** -51), 0.02);
    expect(times[0]).toBe(Number.POSITIVE_INFINITY);
    expect(times[1]).toBeLessThan(Number.POSITIVE_INFINITY);
    expect(times[2]).toBeLessThan(times[1] as number);
  });

  test("beyond the table are those of the plain formula", () => {
    const { complete, times } = filled(Float64Array.of(256, 1e5, 3, 1e200), 3, 0.25);
    expect(complete).toBe(true);
    expect(Array.from(times)).toEqual([1 / (256 ** 3 - 1) + 0.25, 1 / (1e15 - 1) + 0.25, 1 / 26 + 0.25, 0.25]);
  });

  test.each([0, -0, 0.999, -5, 5e-324, Number.NaN, Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY])(
    "are not complete with %f, wherever it stands",
    (bad) => {
      for (const place of [0, 3, 6]) {
        expect(filled(new Float64Array(7).fill(2).fill(bad, place, place + 1), 0.5).complete).toBe(false);
      }
      expect(filled(Float64Array.of(1e5, bad, 2), 0.5).complete).toBe(false);
    },
  );
});
