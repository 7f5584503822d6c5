/** Readings of several groups; the Zener standard of the GUM stands in test/published/grading/groups.json. */
import { Decimal } from "decimal.js";
import fc from "fast-check";
import { betweenGroups, coverageFactor, type GroupScatter } from "tripwright/grading";
import { describe, expect, test } from "vitest";
import { ulps } from "../support/distance.js";
import { problemsOf } from "../support/failure.js";
import { holds } from "../support/holds.js";

const D = Decimal.clone({ defaults: true, precision: 60 });

/** Groups of one size, of readings as they are typed; not all readings of each group alike. */
const lists = fc
  .tuple(fc.integer({ min: 2, max: 6 }), fc.integer({ min: 2, max: 6 }))
  .chain(([groups, size]) =>
    fc.array(fc.array(fc.integer({ min: -9999, max: 9999 }), { minLength: size, maxLength: size }), {
      minLength: groups,
      maxLength: groups,
    }),
  )
  .filter((groups) => groups.some((group) => new Set(group).size > 1));

const meanOf = (values: readonly Decimal[]): Decimal => D.sum(...values).div(values.length);
const squares = (values: readonly Decimal[], about: Decimal): Decimal =>
  D.sum(...values.map((value) => value.minus(about).pow(2)));

describe("groups of readings", () => {
  test("come apart into sums of squares within and between that add up to the whole, in 60 digits", () => {
    holds(
      fc.property(lists, (groups) => {
        const ours = betweenGroups(groups.map((group) => group.map((reading) => reading / 1000)));
        const exact = groups.map((group) => group.map((reading) => new D(reading).div(1000)));
        const mean = meanOf(exact.flat());
        const [size, means] = [exact[0]?.length ?? 0, exact.map(meanOf)];
        const within = D.sum(...exact.map((group, i) => squares(group, means[i] as Decimal)));
        const between = squares(means, mean).times(size);
        expect(within.plus(between).minus(squares(exact.flat(), mean)).abs().lt("1e-50")).toBe(true);

        expect(Math.abs(ours.mean - mean.toNumber())).toBeLessThan(1e-14);
        expect(ours.degreesBetween + ours.degreesWithin).toBe(exact.flat().length - 1);
        expect(ours.within ** 2 * ours.degreesWithin).toBeCloseTo(within.toNumber(), 10);
        expect(ours.standard ** 2 * groups.length * size * ours.degreesBetween).toBeCloseTo(between.toNumber(), 10);
        const ratio = between.div(ours.degreesBetween).div(within.div(ours.degreesWithin));
        expect(Math.abs((ours.ratio ?? Number.NaN) - ratio.toNumber())).toBeLessThan(1e-12 * (1 + ratio.toNumber()));
        const component = between.div(ours.degreesBetween).minus(within.div(ours.degreesWithin)).div(size);
        expect(Math.abs(ours.between ** 2 - Math.max(0, component.toNumber()))).toBeLessThan(1e-11);
      }),
    );
  });

  test("in any order are the same, and a shift of all readings moves the mean alone", () => {
    const close = ({ mean, ...rest }: GroupScatter) => [mean, ...Object.values(rest).map((x) => x as number)];
    holds(
      fc.property(lists, fc.integer({ min: -5000, max: 5000 }), (groups, shift) => {
        const plain = close(betweenGroups(groups));
        const turned = close(betweenGroups([...groups].reverse().map((group) => [...group].reverse())));
        const moved = close(betweenGroups(groups.map((group) => group.map((reading) => reading + shift))));
        for (const [i, value] of turned.entries()) expect(value).toBeCloseTo(plain[i] as number, 8);
        for (const [i, value] of moved.entries())
          expect(value).toBeCloseTo((plain[i] as number) + (i === 0 ? shift : 0), 8);
      }),
    );
  });

  test("are scaled by a power of two to the bit, their ratio and its chance not at all", () => {
    holds(
      fc.property(lists, (groups) => {
        const plain = betweenGroups(groups);
        const scaled = betweenGroups(groups.map((group) => group.map((reading) => reading / 1024)));
        expect(scaled).toEqual({
          ...plain,
          mean: plain.mean / 1024,
          within: plain.within / 1024,
          between: plain.between / 1024,
          standard: plain.standard / 1024,
        });
      }),
    );
  });

  test("have the same ratio and chance in any unit, also where squares leave the range of a double", () => {
    // Means 2 and 4, so 3 · 2 over 1.
    for (const unit of [1e-200, 1, 1e200]) {
      const found = betweenGroups([
        [unit, 2 * unit, 3 * unit],
        [3 * unit, 4 * unit, 5 * unit],
      ]);
      expect(found.within / unit).toBeCloseTo(1, 12);
      expect(found.ratio).toBeCloseTo(6, 12);
      expect(found.standard / unit).toBeCloseTo(1, 12);
    }
  });

  test("without any scatter within have no ratio, and without any at all nothing but a mean", () => {
    expect(
      betweenGroups([
        [3, 3, 3],
        [5, 5, 5],
      ]),
    ).toEqual({
      mean: 4,
      within: 0,
      between: Math.SQRT2,
      degreesBetween: 1,
      degreesWithin: 4,
      standard: 1,
    });
    expect(
      betweenGroups([
        [0.1, 0.1],
        [0.1, 0.1],
      ]),
    ).toMatchObject({ mean: 0.1, between: 0, standard: 0 });
  });

  test("says which code, and how many readings are wanted", () => {
    const ask = (groups: unknown) => problemsOf(() => betweenGroups(groups as never))[0];
    expect(ask(undefined)).toMatchObject({ code: "missing", path: "groups" });
    expect(ask("12")).toMatchObject({ code: "wrong-type", path: "groups" });
    expect(ask([])).toMatchObject({ code: "wrong-length", path: "groups" });
    const wanted = { code: "wrong-length", path: "groups[1]", expected: expect.stringContaining("(3)") };
    expect(
      ask([
        [1, 2, 3],
        [1, 2],
      ]),
    ).toMatchObject(wanted);
    expect(ask([[1, 2, 3], { length: 3 }])).toMatchObject({ ...wanted, code: "wrong-type" });
    expect(ask([[1], [2]])).toMatchObject({ code: "wrong-length", path: "groups[0]" });
    expect(
      ask([
        [1, 2],
        [1, undefined],
      ]),
    ).toMatchObject({ code: "missing", path: "groups[1][1]" });
  });

  test.each([
    [undefined, "groups"],
    [null, "groups"],
    [[[1, 2]], "groups"],
    [[null, [1, 2]], "groups[0]"],
    [[[1], [2]], "groups[0]"],
    [[[1, 2], [1]], "groups[1]"],
    [[[1, 2], "12"], "groups[1]"],
    [
      [
        [1, 2],
        [1, Number.NaN],
      ],
      "groups[1][1]",
    ],
    [
      [
        [1, "2"],
        [1, 2],
      ],
      "groups[0][1]",
    ],
    [
      [
        [-1.7e308, 1.7e308],
        [1, 2],
      ],
      "groups",
    ],
  ])("%j is refused at %s", (given, path) => {
    expect(problemsOf(() => betweenGroups(given as never))).toMatchObject([{ path }]);
  });
});

describe("the chance of a ratio", () => {
  const sizes = fc.integer({ min: 2, max: 40 });
  const steps = fc.integer({ min: 0, max: 4000 }).map((n) => n / 1000);

  /** Groups whose means lie apart by so much of the deviation within, which is 1. */
  const apart = (count: number, size: number, by: number): readonly number[][] => {
    const scatter = Array.from({ length: size }, (_, i) => i - (size - 1) / 2);
    const unit = Math.sqrt(scatter.reduce((sum, x) => sum + x * x, 0) / (size - 1));
    return Array.from({ length: count }, (_, i) => scatter.map((x) => x / unit + i * by));
  };

  test("between three groups is (1 + 2F/n)^(−n/2)", () => {
    holds(
      fc.property(sizes, steps, (size, by) => {
        const { ratio = Number.NaN, chance = Number.NaN, degreesWithin: n } = betweenGroups(apart(3, size, by));
        const exact = new D(ratio)
          .times(2)
          .div(n)
          .plus(1)
          .pow(-n / 2);
        expect(ulps(chance, exact.toNumber())).toBeLessThan(1000);
      }),
    );
  });

  test("between two groups is that of Student's t beyond ±√F", () => {
    holds(
      fc.property(sizes, fc.double({ min: 0.001, max: 0.999, noNaN: true }), (size, chance) => {
        const degreesOfFreedom = 2 * (size - 1);
        const t = coverageFactor({ coverage: 1 - chance, degreesOfFreedom });
        // The means are t · √(2/n) apart.
        const found = betweenGroups(apart(2, size, t * Math.sqrt(2 / size)));
        expect(found.chance).toBeCloseTo(chance, 10);
      }),
      100,
    );
  });

  test("falls from 1 as groups draw apart, and is never beyond 0 and 1", () => {
    expect(
      betweenGroups([
        [-1, 1],
        [1, -1],
      ]).chance,
    ).toBe(1);
    holds(
      fc.property(fc.integer({ min: 2, max: 8 }), sizes, steps, (count, size, by) => {
        const [near, far] = [by, 1.1 * by + 0.01].map((x) => betweenGroups(apart(count, size, x)).chance ?? Number.NaN);
        expect(near).toBeLessThanOrEqual(1);
        expect(far).toBeLessThanOrEqual(near as number);
        expect(far).toBeGreaterThanOrEqual(0);
      }),
    );
    expect(betweenGroups(apart(2, 1000, 1e6)).chance).toBe(0);
  });
});
