/** What the search for a wave begins with, piece by piece. */
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { grainOf } from "../../src/sinusoid/grain.js";
import { energyAlong, liveliest, lively, withoutLine } from "../../src/sinusoid/liveliest.js";
import { strongSteps } from "../../src/sinusoid/strongest.js";
import { holds } from "../support/holds.js";
import { cosine } from "./shapes.js";
import { record } from "./traces.js";

const sizes = fc.array(fc.double({ min: -1, max: 1, noNaN: true }), { minLength: 9, maxLength: 60 });

describe("the grain of a converter", () => {
  test("is its step, whatever codes are met, and wherever its middle lies", () => {
    const codes = fc.array(fc.integer({ min: -2000, max: 2000 }), { minLength: 8, maxLength: 80 });
    holds(
      fc.property(codes, fc.double({ min: -0.5, max: 0.5, noNaN: true }), (list, middle) => {
        // Two neighbours make sure that no coarser step would do.
        const values = Float64Array.from([...list, 0, 1, 0], (code) => (code + middle) / 2001);
        expect(Math.abs(grainOf(values) * 2001 - 1)).toBeLessThan(1e-3);
      }),
      200,
    );
  });

  test("is found where neighbours are never one code apart", () => {
    // 6, 10 and 15 codes have nothing in common but one.
    expect(grainOf(Float64Array.of(0, 0.06, -0.04, 0.11, 0.11, 0.05)) * 100).toBeCloseTo(1, 9);
    expect(grainOf(Float64Array.of(0, 0.4, 0, -0.4, 0)) * 100).toBeCloseTo(40, 9);
  });

  test("is nothing where there is none", () => {
    expect(grainOf(record(200, 20, (n) => cosine(n + 0.3)))).toBe(0);
    expect(grainOf(record(50, 1000, (t) => Math.exp(-t)))).toBe(0);
  });
});

describe("what is left beside a straight line", () => {
  test("is the same with any line added, and meets no line", () => {
    const slopes = fc.double({ min: -3, max: 3, noNaN: true });
    holds(
      fc.property(sizes, slopes, slopes, (list, level, slope) => {
        const values = Float64Array.from(list);
        const rest = withoutLine(values);
        const tilted = withoutLine(values.map((x, i) => x + level + slope * i));
        for (const [i, x] of rest.entries()) expect(Math.abs(x - tilted[i]!)).toBeLessThan(1e-11);
        expect(Math.abs(rest.reduce((sum, x) => sum + x, 0))).toBeLessThan(1e-12);
        expect(Math.abs(rest.reduce((sum, x, i) => sum + i * x, 0))).toBeLessThan(1e-10);
      }),
      100,
    );
  });
});

describe("the energy along a record", () => {
  test("sums the squares", () => {
    const energy = energyAlong(Float64Array.of(1, -1, 1.5, -0.5));
    expect(Array.from(energy)).toEqual([0, 1, 2, 4.25, 4.5]);
  });

  test("counts a spike for twice the mean size", () => {
    const [spike, others] = [100, 99];
    const values = Float64Array.from({ length: others + 1 }, (_, i) => (i === 50 ? spike : 1));
    const mean = (spike + others) / 100;
    const energy = energyAlong(values);
    expect(energy[51]! - energy[50]!).toBeCloseTo((2 * mean) ** 2, 12);
    expect(energy[100]).toBeCloseTo(others + (2 * mean) ** 2, 9);
  });
});

describe("where a record is liveliest", () => {
  const held = (values: Float64Array, from: number, reach: number) =>
    values.subarray(from, from + reach).reduce((sum, x) => sum + x * x, 0);

  test("no piece that begins a whole number of eighths from the start holds more", () => {
    holds(
      fc.property(sizes, fc.integer({ min: 1, max: 9 }), (list, reach) => {
        const values = Float64Array.from(list);
        const energy = Float64Array.from({ length: values.length + 1 }, (_, i) => held(values, 0, i));
        const best = liveliest(energy, reach);
        expect(best + reach).toBeLessThanOrEqual(values.length);
        for (let from = 0; from + reach <= values.length; from++)
          expect(held(values, from, reach)).toBeLessThanOrEqual(held(values, best, reach) + 1e-12);
      }),
      200,
    );
    // Pieces of 80: they begin at every tenth sample.
    const block = Float64Array.from({ length: 400 }, (_, i) => (i >= 233 && i < 313 ? 1 : 0));
    const energy = energyAlong(block);
    expect(liveliest(energy, 80)).toBe(230);
    expect(liveliest(energy, 400)).toBe(0);
  });

  test("the middle counts as lively while it holds half as much", () => {
    const stepped = (middle: number) =>
      energyAlong(Float64Array.from({ length: 300 }, (_, i) => (i >= 100 && i < 200 ? middle : 1)));
    expect(lively(stepped(1), 40)).toBe(130);
    expect(lively(stepped(0.72), 40)).toBe(130);
    expect(lively(stepped(0.7), 40)).toBe(0);
    expect(lively(stepped(0), 41)).toBe(0);
  });
});

describe("strong components", () => {
  const among = (waves: readonly (readonly [step: number, peak: number])[], count = 2000) => {
    const values = record(count, 1, (n) => 0.3 + waves.reduce((sum, [step, peak]) => sum + peak * cosine(step * n), 0));
    return strongSteps(values, energyAlong(values));
  };

  test("are each within a tenth, from the lowest up, three at the most", () => {
    const all = [0.011, 0.05, 0.13, 0.31] as const;
    const found = among(all.map((step) => [step, 1]));
    expect(found).toHaveLength(3);
    for (const [i, step] of found.entries()) expect(Math.abs(step / all[i]! - 1)).toBeLessThan(0.1);
  });

  test("have 0.3 of the power of the strongest at the least, and no neighbour that is stronger", () => {
    expect(among([[0.02, 1], [0.11, 0.5]])).toHaveLength(1); // biome-ignore format: pairs
    expect(among([[0.02, 1], [0.11, 0.65]])).toHaveLength(2); // biome-ignore format: pairs
    expect(among([[0.02, 0.5], [0.11, 1]])[0]).toBeCloseTo(0.11, 1); // biome-ignore format: pairs
  });

  test("lie from one cycle in the record up to half the rate", () => {
    expect(Math.abs(among([[1 / 40, 1]], 40)[0]! * 40 - 1)).toBeLessThan(0.11);
    expect(Math.abs(among([[0.45, 1]], 400).at(-1)! / 0.45 - 1)).toBeLessThan(0.1);
  });
});
