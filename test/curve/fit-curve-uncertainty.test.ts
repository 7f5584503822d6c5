/** Standard uncertainties against what they mean: how often the true value lies within one and within three of them. */
import { describe, expect, test } from "vitest";
import { normalNoise } from "../support/normal-noise.js";
import { asLevels, bestOf, onCurve } from "./injections.js";

const RUNS = 1000;
const SIZE = 0.004;

/** The shares of runs that end within one and within three standard uncertainties of the truth. */
function shares(errors: readonly number[]): { one: number; three: number } {
  const within = (k: number) => errors.filter((error) => Math.abs(error) <= k).length / errors.length;
  return { one: within(1), three: within(3) };
}

const runs = <T>(one: (noisy: (time: number) => number) => T): readonly T[] => {
  const noise = normalNoise();
  return Array.from({ length: RUNS }, () => one((time) => time * (1 + SIZE * noise())));
};

/** Of a share p, over all runs, chance leaves no more than 6 √(p(1 − p)/1000): once in 500 million. */
const near = (share: number, expected: number) =>
  expect(Math.abs(share - expected)).toBeLessThan(6 * Math.sqrt((expected * (1 - expected)) / RUNS));

describe("standard uncertainties", () => {
  test("from those of the times: the truth is within one in 68.27 %, within three in 99.73 % of the fits", () => {
    const errors = runs((noisy) => {
      const points = onCurve("iec-inverse", 0.3, [2, 5, 10]).map(({ multiple, time }) => ({
        multiple,
        time: noisy(time),
        standardUncertainty: SIZE * time,
      }));
      const { multiplier, uncertainties } = bestOf(points, { curves: ["iec-inverse"] });
      return (multiplier - 0.3) / (uncertainties?.multiplier as number);
    });
    // The normal distribution, as JCGM 100:2008 Table G.2 has it (ν = ∞).
    near(shares(errors).one, 0.6827);
    near(shares(errors).three, 0.9973);
  });

  test("with the pickup free as well, of both", () => {
    const errors = runs((noisy) => {
      const points = asLevels(onCurve("ieee-very-inverse", 2, [1.5, 2, 4, 8, 15]), 4).map(({ level, time }) => ({
        level,
        time: noisy(time),
        standardUncertainty: SIZE * time,
      }));
      const { multiplier, pickup, uncertainties } = bestOf(points, { curves: ["ieee-very-inverse"], pickup: "free" });
      return [
        (multiplier - 2) / (uncertainties?.multiplier as number),
        ((pickup as number) - 4) / (uncertainties?.pickup as number),
      ] as const;
    });
    for (const place of [0, 1] as const) {
      const { one, three } = shares(errors.map((both) => both[place]));
      near(one, 0.6827);
      near(three, 0.9973);
    }
  });

  test("from the spread of three points they are those of two degrees of freedom", () => {
    const errors = runs((noisy) => {
      const points = onCurve("iec-inverse", 0.3, [2, 5, 10]).map(({ multiple, time }) => ({
        multiple,
        time: noisy(time),
      }));
      const { multiplier, uncertainties } = bestOf(points, { curves: ["iec-inverse"] });
      return (multiplier - 0.3) / (uncertainties?.multiplier as number);
    });
    // Student's t of 2 degrees of freedom has the closed form P(|t| ≤ x) = x/√(x² + 2).
    near(shares(errors).one, 1 / Math.sqrt(3));
    near(shares(errors).three, 3 / Math.sqrt(11));
  });

  test("of free constants: k, alpha and c", () => {
    const constants = { k: 19.61, alpha: 2, c: 0.491 };
    const multiples = [1.5, 2, 3, 5, 8, 12, 20];
    const errors = runs((noisy) => {
      // IEEE C37.112 Table 1, very inverse.
      const points = onCurve("ieee-very-inverse", 1, multiples).map(({ multiple, time }) => ({
        multiple,
        time: noisy(time),
        standardUncertainty: SIZE * time,
      }));
      const { curve, uncertainties } = bestOf(points, { curves: [], constants: "free" });
      const fitted = curve as unknown as typeof constants;
      return (["k", "alpha", "c"] as const).map(
        (name) => (fitted[name] - constants[name]) / (uncertainties?.[name] as number),
      );
    });
    for (const place of [0, 1, 2]) {
      const { one, three } = shares(errors.map((all) => all[place] as number));
      near(one, 0.6827);
      near(three, 0.9973);
    }
  });
});
