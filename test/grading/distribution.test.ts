/** Student's t and the normal distribution, far out, with many degrees of freedom, and on both sides of the middle. */
import fc from "fast-check";
import { acceptanceRisks, conformanceProbability, coverageFactor, guardBand } from "tripwright/grading";
import { describe, expect, test } from "vitest";
import { holds } from "../support/holds.js";

/** The value that is exceeded with a probability: a guard band of one limit in units of the uncertainty. */
function exceeded(risk: number, degreesOfFreedom?: number): number {
  const known = { standardUncertainty: 1, ...(degreesOfFreedom !== undefined && { degreesOfFreedom }) };
  const answer = guardBand({ risk, ...known });
  return answer.kind === "found" ? answer.width : Number.NaN;
}

/** The probability beyond x: of a reading that lies so far above its only limit. */
const tail = (x: number, degreesOfFreedom?: number): number =>
  conformanceProbability(
    x,
    { nominal: 0, high: 0 },
    {
      standardUncertainty: 1,
      ...(degreesOfFreedom !== undefined && { degreesOfFreedom }),
    },
  );

const freedoms = fc.constantFrom(undefined, 1, 2, 4.5, 30, 1e6);

describe("the value that is exceeded", () => {
  test("with a small probability has closed forms for one and two degrees of freedom, to 1e-12 of itself", () => {
    holds(
      fc.property(fc.integer({ min: 2, max: 200 }), fc.integer({ min: 1, max: 9 }), (power, more) => {
        const q = 2 ** -power / more;
        // t₁: cot(πq); t₂: (1 − 2q)/√(2q(1 − q)) (Abramowitz and Stegun 26.7).
        fc.pre(q < 0.2);
        expect(exceeded(q, 1) * Math.tan(Math.PI * q)).toBeCloseTo(1, 11);
        expect((exceeded(q, 2) * Math.sqrt(2 * q * (1 - q))) / (1 - 2 * q)).toBeCloseTo(1, 11);
      }),
    );
  });

  test("of many degrees of freedom is that of the normal distribution and the first terms beyond", () => {
    holds(
      fc.property(fc.integer({ min: 5, max: 16 }), fc.integer({ min: 1, max: 499 }), (power, thousandths) => {
        const [n, z] = [10 ** power, exceeded(thousandths / 1000)];
        // Abramowitz and Stegun 26.7.5; the next term is below 1e-13.
        const [one, two] = [(z ** 3 + z) / 4, (5 * z ** 5 + 16 * z ** 3 + 3 * z) / 96];
        expect(exceeded(thousandths / 1000, n)).toBeCloseTo(z + one / n + two / n ** 2, 12);
      }),
      60,
    );
  });

  test("with a probability above one half is that of the rest, below the middle; with one half 0 itself", () => {
    holds(
      fc.property(freedoms, fc.integer({ min: 1, max: 2 ** 20 - 1 }), (degreesOfFreedom, parts) => {
        const risk = parts / 2 ** 21;
        expect(exceeded(1 - risk, degreesOfFreedom)).toBe(-exceeded(risk, degreesOfFreedom));
        expect(exceeded(risk, degreesOfFreedom)).toBeGreaterThan(0);
        expect(exceeded(0.5, degreesOfFreedom)).toBe(0);
      }),
    );
  });

  test("comes back from the probability beyond it, be that one half or next to nothing", () => {
    const powers = fc.integer({ min: 1, max: 800 });
    holds(
      fc.property(freedoms, powers, fc.integer({ min: 10, max: 19 }), (degreesOfFreedom, power, tenths) => {
        const risk = (2 ** -power * tenths) / 20;
        expect(tail(exceeded(risk, degreesOfFreedom), degreesOfFreedom) / risk).toBeCloseTo(1, 11);
        const known = degreesOfFreedom === undefined ? {} : { degreesOfFreedom };
        fc.pre(power < 10);
        const factor = coverageFactor({ coverage: 1 - 2 * risk, ...known });
        expect(factor / exceeded(risk, degreesOfFreedom)).toBeCloseTo(1, 11);
      }),
    );
  });
});

describe("the probability beyond a value", () => {
  test("falls to that of the normal distribution as the degrees of freedom grow, far out too", () => {
    holds(
      fc.property(fc.integer({ min: 0, max: 1200 }), (hundredths) => {
        const x = hundredths / 100;
        expect(tail(x, 1e16) / tail(x)).toBeCloseTo(1, 11);
        expect(tail(x, 1e4)).toBeGreaterThanOrEqual(tail(x));
      }),
    );
  });

  test("lies between x/(1 + x²) and 1/x of the normal density (Gordon, 1941, from memory)", () => {
    holds(
      fc.property(fc.integer({ min: 1, max: 3500 }), (hundredths) => {
        const x = hundredths / 100;
        const density = Math.exp(-0.5 * x * x) / Math.sqrt(2 * Math.PI);
        expect(tail(x) / density).toBeLessThan(1 / x);
        expect(tail(x) / density).toBeGreaterThan(x / (1 + x * x));
      }),
    );
  });

  test("of a process whose mean lies outside the band is what a reading there would have", () => {
    const process = { standardDeviation: 0.5 };
    holds(
      fc.property(fc.integer({ min: -400, max: 400 }), (hundredths) => {
        const mean = hundredths / 100;
        const band = { nominal: 0, low: -1, high: 1 };
        const { conforming } = acceptanceRisks({ band, process: { ...process, mean }, standardUncertainty: 0.1 });
        expect(conforming).toBeCloseTo(conformanceProbability(mean, band, { standardUncertainty: 0.5 }), 14);
      }),
      60,
    );
  });
});
