import fc from "fast-check";
import {
  add,
  deltaToWyeImpedance,
  divide,
  magnitude,
  multiply,
  type PhasePairs,
  type Phases,
  type Phasor,
  scale,
  wyeToDeltaImpedance,
} from "tripwright/phasor";
import { describe, expect, test } from "vitest";
import { complex, exactly, gap, modulus } from "../base/reference.js";
import { spread } from "../base/spread.js";
import { problemsOf } from "../support/failure.js";
import { holds } from "../support/holds.js";
import { over, plus, times } from "./decimals.js";
import { distance, sizeOf } from "./phasors.js";

const part = fc.tuple(fc.constantFrom(1, -1), spread(-3, 3)).map(([sign, power]) => sign * 10 ** power);
const impedances: fc.Arbitrary<Phasor> = fc.record({ re: fc.oneof(part, fc.constant(0)), im: part });
/** Resistance and inductance: nothing cancels in their sums. */
const passive: fc.Arbitrary<Phasor> = fc.record({ re: spread(0.1, 100), im: spread(0, 100) });
const deltas = (of = impedances): fc.Arbitrary<PhasePairs> => fc.record({ ab: of, bc: of, ca: of });
const wyes = (of = impedances): fc.Arbitrary<Phases> => fc.record({ a: of, b: of, c: of });
/** One size for all three, up to 1e300 and down to 1e-300. */
const units = fc.constantFrom(1, 2 ** 40, 2 ** 980, 2 ** -980);

const scaled = <T extends Phases | PhasePairs>(set: T, unit: number): T =>
  Object.fromEntries(Object.entries(set).map(([name, z]) => [name, scale(z, unit)])) as unknown as T;

/** How far a delta is from resonance: 1 where all three point the same way. */
const condition = ({ ab, bc, ca }: PhasePairs): number =>
  (sizeOf(ab) + sizeOf(bc) + sizeOf(ca)) / sizeOf(add(add(ab, bc), ca));

describe("a delta of impedances as a wye", () => {
  test("is within 1e-15 of 50-digit values where nothing cancels in the sum, and in proportion where it does", () => {
    holds(
      fc.property(deltas(), units, (delta, unit) => {
        fc.pre(condition(delta) < 1e9);
        const { ab, bc, ca } = scaled(delta, unit);
        const wye = deltaToWyeImpedance({ ab, bc, ca });
        const [p, q, r] = [complex(ab), complex(bc), complex(ca)];
        const sum = plus(p, q, r);
        for (const [actual, product] of [
          [wye.a, times(p, r)],
          [wye.b, times(q, p)],
          [wye.c, times(r, q)],
        ] as const) {
          const reference = over(product, sum);
          expect(gap(actual, reference).lte(modulus(reference).times(1e-15 * condition(delta)))).toBe(true);
        }
      }),
      80,
    );
  });

  test("has the same impedance between any two terminals, the third one open", () => {
    holds(
      fc.property(deltas(passive), ({ ab, bc, ca }) => {
        const { a, b, c } = deltaToWyeImpedance({ ab, bc, ca });
        const parallel = (p: Phasor, q: Phasor) => divide(multiply(p, q), add(p, q));
        for (const [seen, series] of [
          [parallel(ab, add(bc, ca)), add(a, b)],
          [parallel(bc, add(ca, ab)), add(b, c)],
          [parallel(ca, add(ab, bc)), add(c, a)],
        ] as const)
          expect(distance(seen, series)).toBeLessThanOrEqual(1e-14 * sizeOf(seen));
      }),
    );
  });

  test("turns with its terminals, grows with its impedances, and is a third where all are equal", () => {
    holds(
      fc.property(deltas(passive), passive, ({ ab, bc, ca }, z) => {
        const { a, b, c } = deltaToWyeImpedance({ ab, bc, ca });
        const turned = deltaToWyeImpedance({ ab: bc, bc: ca, ca: ab });
        for (const [name, leg] of [
          ["a", b],
          ["b", c],
          ["c", a],
        ] as const)
          expect(distance(turned[name], leg)).toBeLessThanOrEqual(9e-15 * sizeOf(leg));
        expect(deltaToWyeImpedance(scaled({ ab, bc, ca }, 2 ** 9))).toEqual(scaled({ a, b, c }, 2 ** 9));
        const third = deltaToWyeImpedance({ ab: z, bc: z, ca: z });
        for (const leg of Object.values(third))
          expect(distance(scale(leg, 3), z)).toBeLessThanOrEqual(9e-15 * sizeOf(z));
      }),
    );
  });

  test("by hand", () => {
    const ohms = (re: number, im = 0) => ({ re, im });
    expect(deltaToWyeImpedance({ ab: ohms(30), bc: ohms(30), ca: ohms(30) })).toEqual({
      a: ohms(10),
      b: ohms(10),
      c: ohms(10),
    });
    // An open side, as large as you like: the others are in series.
    expect(magnitude(deltaToWyeImpedance({ ab: ohms(8), bc: ohms(1e12), ca: ohms(5) }).a)).toBeLessThan(1e-10);
    // A shorted side ties its two terminals together.
    const shorted = deltaToWyeImpedance({ ab: ohms(0), bc: ohms(0, 6), ca: ohms(0, 3) });
    expect(shorted).toEqual({ a: ohms(0), b: ohms(0), c: ohms(0, 2) });
  });
});

describe("a wye of impedances as a delta", () => {
  test("is within 1e-15 of its terms of 50-digit values", () => {
    holds(
      fc.property(wyes(), units, (wye, unit) => {
        const set = scaled(wye, unit);
        const delta = wyeToDeltaImpedance(set);
        const [a, b, c] = [complex(set.a), complex(set.b), complex(set.c)];
        for (const [actual, p, q, far] of [
          [delta.ab, a, b, c],
          [delta.bc, b, c, a],
          [delta.ca, c, a, b],
        ] as const) {
          const across = over(times(p, q), far);
          const terms = modulus(p).plus(modulus(q)).plus(modulus(across));
          expect(gap(actual, plus(p, q, across)).lte(terms.times(1e-15))).toBe(true);
        }
      }),
      80,
    );
  });

  test("undoes and is undone by the other way", () => {
    holds(
      fc.property(deltas(passive), wyes(passive), (delta, wye) => {
        const there = wyeToDeltaImpedance(deltaToWyeImpedance(delta));
        for (const name of ["ab", "bc", "ca"] as const) {
          const slack = 3e-14 * Math.max(...Object.values(delta).map(sizeOf));
          expect(distance(there[name], delta[name])).toBeLessThanOrEqual(slack);
        }
        const across = wyeToDeltaImpedance(wye);
        const back = deltaToWyeImpedance(across);
        for (const name of ["a", "b", "c"] as const) {
          const slack = 3e-14 * Math.max(...Object.values(wye).map(sizeOf));
          expect(distance(back[name], wye[name])).toBeLessThanOrEqual(slack);
        }
      }),
    );
  });

  test("by hand", () => {
    const ohms = (re: number, im = 0) => ({ re, im });
    expect(wyeToDeltaImpedance({ a: ohms(0, 10), b: ohms(0, 10), c: ohms(0, 10) })).toEqual({
      ab: ohms(0, 30),
      bc: ohms(0, 30),
      ca: ohms(0, 30),
    });
    // 1·2 + 2·4 + 4·1 = 14, over 4, 1 and 2.
    expect(wyeToDeltaImpedance({ a: ohms(1), b: ohms(2), c: ohms(4) })).toEqual({
      ab: ohms(3.5),
      bc: ohms(14),
      ca: ohms(7),
    });
  });
});

describe("impedances that are none", () => {
  const good = { re: 1, im: 2 };
  const zero = { re: 0, im: -0 };
  const problem = (work: () => unknown) => problemsOf(work).map(({ path, code }) => `${path} ${code}`);
  const delta = (ab: unknown, bc: unknown, ca: unknown) =>
    problem(() => deltaToWyeImpedance({ ab, bc, ca } as PhasePairs));

  test("are told: a delta in resonance, also where its decimals only nearly add up to 0", () => {
    const ohms = (im: number) => ({ re: 0, im });
    const nothing = problemsOf(() => deltaToWyeImpedance({ ab: zero, bc: zero, ca: zero }));
    expect(nothing).toMatchObject([{ code: "out-of-range", path: "", expected: "a sum other than 0" }]);
    expect(delta(ohms(3), ohms(4), ohms(-7))).toEqual([" out-of-range"]);
    expect(delta(ohms(0.1), ohms(0.2), ohms(-0.3))).toEqual([" out-of-range"]);
    expect(delta(ohms(1000.1), ohms(-1000), ohms(-0.1))).toEqual([" out-of-range"]);
    expect(delta(ohms(1e300), ohms(-1e300), ohms(1e280))).toEqual([" out-of-range"]);
    // A sum of 2^−44 that is no rounding: j·j/(j·2^−44), and j·j·(2^−44 − 2)/(j·2^−44).
    expect(deltaToWyeImpedance({ ab: ohms(1), bc: ohms(1), ca: ohms(2 ** -44 - 2) })).toEqual({
      a: ohms(1 - 2 ** 45),
      b: ohms(2 ** 44),
      c: ohms(1 - 2 ** 45),
    });
  });

  test("are told: a leg of 0, by its name", () => {
    for (const name of ["a", "b", "c"])
      expect(problem(() => wyeToDeltaImpedance({ a: good, b: good, c: good, [name]: zero } as Phases))).toEqual([
        `${name} out-of-range`,
      ]);
  });

  test("are told: what is no phasor, and no three of them", () => {
    for (const [wrong, what] of [
      [undefined, " missing"],
      [null, " wrong-type"],
      [10, " wrong-type"],
      [{ re: Number.NaN, im: 0 }, ".re not-finite"],
      [{ re: 0, im: "1" }, ".im wrong-type"],
    ] as const) {
      expect(delta(wrong, good, good)).toEqual([`ab${what}`]);
      expect(delta(good, good, wrong)).toEqual([`ca${what}`]);
      expect(problem(() => wyeToDeltaImpedance({ a: good, b: wrong as Phasor, c: good }))).toEqual([`b${what}`]);
    }
    for (const door of [deltaToWyeImpedance, wyeToDeltaImpedance]) {
      for (const none of [null, 3, "zzz", [good, good, good]])
        expect(problem(() => door(none as never))).toEqual([" wrong-type"]);
      expect(problem(() => door(undefined as never))).toEqual([" missing"]);
    }
  });

  test("are told where the result does not fit a double, and it is never NaN", () => {
    const ohms = (re: number) => ({ re, im: 0 });
    expect(problem(() => wyeToDeltaImpedance({ a: ohms(1e200), b: ohms(1e200), c: ohms(1) }))).toEqual([
      " out-of-range",
    ]);
    expect(
      wyeToDeltaImpedance({ a: ohms(5e-324), b: ohms(1e-10), c: ohms(1e-10) }).bc.re / (1e-20 / 5e-324),
    ).toBeCloseTo(1, 14);
    const sizes = fc.constantFrom(0, 5e-324, -1e-310, 1e-200, -1, 1e150, 1e308, -1.7e308);
    const any = fc.record({ re: sizes, im: sizes });
    holds(
      fc.property(deltas(any), wyes(any), (someDelta, someWye) => {
        for (const work of [() => deltaToWyeImpedance(someDelta), () => wyeToDeltaImpedance(someWye)]) {
          let found: Phases | PhasePairs;
          try {
            found = work();
          } catch {
            return void problemsOf(work); // raises anything but an InputError
          }
          for (const { re, im } of Object.values(found) as Phasor[])
            expect([Number.isFinite(re) && !Object.is(re, -0), Number.isFinite(im) && !Object.is(im, -0)]).toEqual([
              true,
              true,
            ]);
        }
      }),
      500,
    );
  });

  test("keep their size where they are subnormal", () => {
    const small = 3 * 2 ** -1070;
    const { a } = deltaToWyeImpedance({ ab: { re: small, im: 0 }, bc: { re: small, im: 0 }, ca: { re: small, im: 0 } });
    expect(exactly(a.re).toNumber()).toBe(2 ** -1070);
  });
});
