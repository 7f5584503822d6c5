import fc from "fast-check";
import {
  add,
  angleBetween,
  lineToLine,
  lineToNeutral,
  type PhasePairs,
  type Phases,
  scale,
  subtract,
  threePhase,
  toComponents,
} from "tripwright/phasor";
import { describe, expect, test } from "vitest";
import { complex, exactly, gap, ulpsOff } from "../base/reference.js";
import { problemsOf } from "../support/failure.js";
import { holds } from "../support/holds.js";
import { largest, minus, over, real } from "./decimals.js";
import { angles, distance, extremePhasors, phasors, sizeOf } from "./phasors.js";

const phases = (of = phasors): fc.Arbitrary<Phases> => fc.record({ a: of, b: of, c: of });
const pairs = (of = phasors): fc.Arbitrary<PhasePairs> => fc.record({ ab: of, bc: of, ca: of });
const greatest = (given: Phases | PhasePairs) => Math.max(...Object.values(given).map(sizeOf));

describe("voltages between phases", () => {
  test("are the nearest doubles to the differences", () => {
    holds(
      fc.property(phases(), ({ a, b, c }) => {
        const { ab, bc, ca } = lineToLine({ a, b, c });
        for (const [actual, p, q] of [
          [ab, a, b],
          [bc, b, c],
          [ca, c, a],
        ] as const) {
          const { re, im } = minus(complex(p), complex(q));
          expect(ulpsOff(actual.re, re)).toBeLessThanOrEqual(0.5);
          expect(ulpsOff(actual.im, im)).toBeLessThanOrEqual(0.5);
        }
      }),
    );
  });

  test("of a balanced set are √3 as large, and lead by 30° in ABC, lag in ACB", () => {
    holds(
      fc.property(fc.double({ min: 1, max: 1e6, noNaN: true }), angles, (size, degrees) => {
        for (const [rotation, lead] of [
          ["ABC", 30],
          ["ACB", -30],
        ] as const) {
          const set = threePhase(size, degrees, rotation);
          const { ab, bc, ca } = lineToLine(set);
          for (const [line, phase] of [
            [ab, set.a],
            [bc, set.b],
            [ca, set.c],
          ] as const) {
            expect(Math.abs(sizeOf(line) / size - Math.sqrt(3))).toBeLessThanOrEqual(3e-15);
            expect(Math.abs(angleBetween({ from: phase, to: line }) - lead)).toBeLessThanOrEqual(5e-13);
          }
        }
      }),
    );
  });

  test("do not see what the phases have in common, and close", () => {
    const whole = fc.record({ re: fc.integer({ min: -9999, max: 9999 }), im: fc.integer({ min: -9999, max: 9999 }) });
    holds(
      fc.property(phases(whole), whole, ({ a, b, c }, common) => {
        const lines = lineToLine({ a, b, c });
        expect(lineToLine({ a: add(a, common), b: add(b, common), c: add(c, common) })).toEqual(lines);
        expect(add(add(lines.ab, lines.bc), lines.ca)).toEqual({ re: 0, im: 0 });
        expect(lineToNeutral(lines).misclosure).toEqual({ re: 0, im: 0 });
      }),
    );
  });

  test("are those of lines from a delta where b and c change places: 1 A within is √3 A outside, 30° behind", () => {
    const within = lineToLine(threePhase(1, 0)); // any balanced currents ab, bc, ca
    const { ab, bc, ca } = within;
    const line = lineToLine({ a: ab, b: ca, c: bc });
    expect(line.ab).toEqual(subtract(ab, ca));
    expect(sizeOf(line.ab)).toBeCloseTo(3, 14);
    expect(angleBetween({ from: ab, to: line.ab })).toBeCloseTo(-30, 12);
  });
});

describe("voltages of phases from those between them", () => {
  test("are within 3e-16 of the largest of 50-digit values, at every size", () => {
    holds(
      fc.property(pairs(fc.oneof(phasors, extremePhasors).map((p) => scale(p, 0.3))), (lines) => {
        const [ab, bc, ca] = [complex(lines.ab), complex(lines.bc), complex(lines.ca)];
        const slack = largest(ab, bc, ca)
          .times(3e-16)
          .plus(exactly(2 * 5e-324));
        const { a, b, c } = lineToNeutral(lines);
        for (const [actual, p, q] of [
          [a, ab, ca],
          [b, bc, ab],
          [c, ca, bc],
        ] as const)
          expect(gap(actual, over(minus(p, q), real(3))).lte(slack)).toBe(true);
      }),
      100,
    );
  });

  test("come back, less their zero sequence", () => {
    holds(
      fc.property(phases(), ({ a, b, c }) => {
        const { zero } = toComponents({ a, b, c });
        const back = lineToNeutral(lineToLine({ a, b, c }));
        const slack = 2e-15 * greatest({ a, b, c });
        for (const [name, phase] of Object.entries({ a, b, c }))
          expect(distance(add(back[name as "a"], zero), phase)).toBeLessThanOrEqual(slack);
        expect(sizeOf(back.misclosure)).toBeLessThanOrEqual(slack);
        expect(sizeOf(toComponents(back).zero)).toBeLessThanOrEqual(slack);
      }),
    );
  });

  test("share out equally what the lines are short of closing, which is the nearest there is", () => {
    holds(
      fc.property(pairs(), (lines) => {
        const found = lineToNeutral(lines);
        const closed = lineToLine(found);
        const third = scale(found.misclosure, 1 / 3);
        for (const name of ["ab", "bc", "ca"] as const)
          expect(distance(subtract(lines[name], closed[name]), third)).toBeLessThanOrEqual(2e-15 * greatest(lines));
      }),
    );
  });
});

describe("three phasors that are none", () => {
  const good = { re: 1, im: 0 };
  const doors: readonly (readonly [(given: never) => unknown, readonly string[]])[] = [
    [lineToLine, ["a", "b", "c"]],
    [lineToNeutral, ["ab", "bc", "ca"]],
  ];
  const problem = (work: () => unknown) => problemsOf(work).map(({ path, code }) => `${path} ${code}`);

  test.each(doors)("are told by name: %o", (door, names) => {
    const set = Object.fromEntries(names.map((name) => [name, good]));
    for (const name of names) {
      const told = (value: unknown) => problem(() => door({ ...set, [name]: value } as never));
      expect(told(undefined)).toEqual([`${name} missing`]);
      expect(told(null)).toEqual([`${name} wrong-type`]);
      expect(told(63.5)).toEqual([`${name} wrong-type`]);
      expect(told({ re: 1, im: "0" })).toEqual([`${name}.im wrong-type`]);
      expect(told({ re: Number.NaN, im: 0 })).toEqual([`${name}.re not-finite`]);
    }
    for (const none of [null, "abc", 3, [good, good, good]])
      expect(problem(() => door(none as never))).toEqual([" wrong-type"]);
    expect(problem(() => door(undefined as never))).toEqual([" missing"]);
    expect(() => door({ ...set, n: "another key" } as never)).not.toThrow();
  });

  test("have no difference beyond the range of a double, but one within it at 1e300", () => {
    const huge = { re: 1.7e308, im: 0 };
    const turnedHuge = { re: -1.7e308, im: 0 };
    expect(problem(() => lineToLine({ a: huge, b: turnedHuge, c: good }))).toEqual([" out-of-range"]);
    expect(problem(() => lineToNeutral({ ab: huge, bc: good, ca: turnedHuge }))).toEqual([" out-of-range"]);
    expect(lineToLine(threePhase(1e300)).ab.re).toBe(1.5e300);
  });
});
