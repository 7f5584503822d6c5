import fc from "fast-check";
import {
  add,
  complexPower,
  conjugate,
  multiply,
  negate,
  type Phases,
  type Phasor,
  polar,
  type Rotation,
  rotate,
  scale,
  threePhase,
  toComponents,
} from "tripwright/phasor";
import { describe, expect, test } from "vitest";
import { complex, cosineOf, D, exactly, gap, modulus, turned, ulpsOff } from "../base/reference.js";
import { spread } from "../base/spread.js";
import { problemsOf } from "../support/failure.js";
import { holds } from "../support/holds.js";
import { plus, times } from "./decimals.js";
import { angles, distance, isZero, phasors, sizeOf } from "./phasors.js";

const sets: fc.Arbitrary<Phases> = fc.record({ a: phasors, b: phasors, c: phasors });
const sizes = spread(-3, 5).map((power) => 10 ** power);
const asPhasor = ({ active, reactive }: { active: number; reactive: number }): Phasor => ({ re: active, im: reactive });
const exactPower = (v: Phasor, i: Phasor) => times(complex(v), complex({ re: i.re, im: -i.im }));

describe("the power of one voltage and one current", () => {
  test("is within 4e-16 of its size of 50-digit values, and apparent is its size", () => {
    holds(
      fc.property(phasors, phasors, (v, i) => {
        const power = complexPower(v, i);
        const exact = exactPower(v, i);
        const size = modulus(exact);
        expect(gap(asPhasor(power), exact).lte(size.times(4e-16))).toBe(true);
        expect(exactly(power.apparent).minus(size).abs().lte(size.times(6.3e-16))).toBe(true);
      }),
      200,
    );
  });

  test("has the cosine of the angle between them as its power factor, with the sign of active power", () => {
    holds(
      fc.property(sizes, sizes, angles, angles, (volts, amperes, at, lead) => {
        const { powerFactor, active } = complexPower(polar(volts, at), rotate(polar(amperes, at), lead));
        expect(Math.abs(Number(powerFactor) - cosineOf(turned(lead)).toNumber())).toBeLessThanOrEqual(2e-15);
        expect(Math.sign(Number(powerFactor))).toBe(Math.sign(active));
        expect(Math.abs(Number(powerFactor))).toBeLessThanOrEqual(1);
      }),
    );
  });

  test("is told in words: a current behind its voltage lags, and less than a quarter turn away it delivers", () => {
    const clear = spread(0.001, 89.999);
    holds(
      fc.property(sizes, sizes, spread(-180, 180), clear, (volts, amperes, at, less) => {
        const words = (lead: number) => {
          const { sense, direction } = complexPower(polar(volts, at), polar(amperes, at + lead));
          return [sense, direction];
        };
        expect(words(-less)).toEqual(["lagging", "delivered"]);
        expect(words(less)).toEqual(["leading", "delivered"]);
        expect(words(less - 180)).toEqual(["lagging", "received"]);
        expect(words(180 - less)).toEqual(["leading", "received"]);
      }),
    );
  });

  test("keeps its words against the rounding of the angles, at the quarters of every direction", () => {
    holds(
      fc.property(sizes, sizes, spread(-180, 180), (volts, amperes, at) => {
        const words = (lead: number) => {
          const { sense, direction } = complexPower(polar(volts, at), rotate(polar(amperes, at), lead));
          return `${sense} ${direction}`;
        };
        expect([0, 90, 180, -90].map(words)).toEqual([
          "unity delivered",
          "leading none",
          "unity received",
          "lagging none",
        ]);
      }),
      200,
    );
  });

  test("takes the words of a part from 8 ε of the apparent power on", () => {
    const at = (reactive: number) => complexPower({ re: 1, im: 0 }, { re: 1, im: -reactive }).sense;
    expect([at(8 * Number.EPSILON), at(9 * Number.EPSILON), at(-9 * Number.EPSILON)]).toEqual([
      "unity",
      "lagging",
      "leading",
    ]);
    const across = (active: number) => complexPower({ re: 1, im: 0 }, { re: active, im: 1 }).direction;
    expect([across(-8 * Number.EPSILON), across(9 * Number.EPSILON), across(-9 * Number.EPSILON)]).toEqual([
      "none",
      "delivered",
      "received",
    ]);
  });

  test("turns round with the current, conjugates with both, and does not mind where both are counted from", () => {
    holds(
      fc.property(phasors, phasors, angles, (v, i, degrees) => {
        const power = complexPower(v, i);
        const { active, reactive, apparent } = power;
        expect(complexPower(v, negate(i))).toMatchObject({ active: 0 - active, reactive: 0 - reactive, apparent });
        expect(complexPower(conjugate(v), conjugate(i))).toMatchObject({ active, reactive: 0 - reactive, apparent });
        const turnedBoth = complexPower(rotate(v, degrees), rotate(i, degrees));
        expect(distance(asPhasor(turnedBoth), asPhasor(power))).toBeLessThanOrEqual(2e-15 * sizeOf(v) * sizeOf(i));
        expect(complexPower(i, v)).toMatchObject({ active, reactive: 0 - reactive });
      }),
    );
  });

  test("of nothing has no power factor, and no −0", () => {
    for (const none of [
      { re: 0, im: 0 },
      { re: -0, im: -0 },
    ]) {
      const power = complexPower(none, { re: -3, im: 4 });
      expect(power).toEqual({ active: 0, reactive: 0, apparent: 0, sense: "unity", direction: "none" });
      expect(Object.keys(power)).not.toContain("powerFactor");
      expect([power.active, power.reactive, power.apparent].some((x) => Object.is(x, -0))).toBe(false);
    }
  });

  test("reaches the ends of the range of a double", () => {
    // |P + jQ| is beyond it, each part is not: only the apparent power is refused.
    const [v, i] = [
      { re: 1e200, im: 0 },
      { re: 1.6e108, im: -1.6e108 },
    ];
    expect(problemsOf(() => complexPower(v, i))).toMatchObject([{ code: "out-of-range" }]);
    expect(complexPower({ re: 3e-200, im: 0 }, { re: 0, im: 4e-100 })).toMatchObject({
      active: 0,
      sense: "leading",
      powerFactor: 0,
    });
    const small = complexPower({ re: 1e-160, im: 1e-160 }, { re: 1e-140, im: 0 });
    expect(ulpsOff(small.apparent, exactly(1e-160).times(exactly(1e-140)).times(new D(2).sqrt()))).toBeLessThan(3);
  });
});

describe("the power of three phases", () => {
  test("is the sum of theirs, within 1e-15 of the sum of their sizes of 50-digit values", () => {
    holds(
      fc.property(sets, sets, (v, i) => {
        const exact = [exactPower(v.a, i.a), exactPower(v.b, i.b), exactPower(v.c, i.c)] as const;
        const slack = exact
          .map(modulus)
          .reduce((sum, size) => sum.plus(size))
          .times(1e-15);
        const power = complexPower(v, i);
        expect(gap(asPhasor(power), plus(...exact)).lte(slack)).toBe(true);
        expect(Math.abs(power.apparent - sizeOf(asPhasor(power)))).toBeLessThanOrEqual(4e-16 * power.apparent);
      }),
    );
  });

  test("is three times that of the sequences: S = 3 · (V1·I1* + V2·I2* + V0·I0*)", () => {
    holds(
      fc.property(sets, sets, fc.constantFrom<Rotation>("ABC", "ACB"), (v, i, rotation) => {
        const [vs, is] = [toComponents(v, rotation), toComponents(i, rotation)];
        const power = (name: keyof typeof vs) => multiply(vs[name], conjugate(is[name]));
        const total = scale(add(add(power("positive"), power("negative")), power("zero")), 3);
        const most = 3 * Math.max(...[v.a, v.b, v.c].map(sizeOf)) * Math.max(...[i.a, i.b, i.c].map(sizeOf));
        expect(distance(asPhasor(complexPower(v, i)), total)).toBeLessThanOrEqual(1e-14 * most);
      }),
    );
  });

  test("of a balanced set is three times that of a phase, with its words, in both rotations", () => {
    const rotations = fc.constantFrom<Rotation>("ABC", "ACB");
    holds(
      fc.property(sizes, sizes, angles, spread(-180, 180), rotations, (volts, amperes, at, lead, rotation) => {
        const one = complexPower(polar(volts, 0), polar(amperes, lead));
        const all = complexPower(threePhase(volts, at, rotation), threePhase(amperes, at + lead, rotation));
        expect(distance(asPhasor(all), scale(asPhasor(one), 3))).toBeLessThanOrEqual(2e-14 * volts * amperes);
        if (Math.abs(Math.sin((lead * Math.PI) / 90)) > 1e-9)
          expect([all.sense, all.direction]).toEqual([one.sense, one.direction]);
      }),
    );
  });

  test("does not depend on the neutral where the currents add up to nothing", () => {
    holds(
      fc.property(sets, phasors, phasors, phasors, (v, a, b, shift) => {
        const i = { a, b, c: negate(add(a, b)) };
        const moved = { a: add(v.a, shift), b: add(v.b, shift), c: add(v.c, shift) };
        const most = [v.a, v.b, v.c, shift].map(sizeOf).reduce((x, y) => x + y) * (sizeOf(a) + sizeOf(b));
        expect(distance(asPhasor(complexPower(moved, i)), asPhasor(complexPower(v, i)))).toBeLessThanOrEqual(
          1e-14 * most,
        );
      }),
    );
  });

  test("that cancels is none in words, though its rounding is left", () => {
    const [v, i] = [polar(63.5, 17), polar(4.1, -23)];
    const balanced = complexPower({ a: v, b: v, c: { re: 0, im: 0 } }, { a: i, b: negate(i), c: i });
    expect(balanced).toMatchObject({ sense: "unity", direction: "none" });
    holds(
      fc.property(phasors, phasors, phasors, (p, q, r) => {
        fc.pre(!isZero(p) && !isZero(q) && !isZero(r));
        // a and b deliver and receive the same, by different factors of it; c carries nothing.
        const set = (of: Phasor, other: Phasor): Phases => ({ a: of, b: other, c: { re: 0, im: 0 } });
        const { sense, direction } = complexPower(set(multiply(p, r), p), set(q, negate(multiply(q, conjugate(r)))));
        expect([sense, direction]).toEqual(["unity", "none"]);
      }),
    );
  });
});

describe("what is no voltage or no current", () => {
  const good = { re: 3, im: 4 };
  const set = { a: good, b: good, c: good };
  const problem = (v: unknown, i: unknown) => {
    const [first, ...more] = problemsOf(() => complexPower(v as Phasor, i as Phasor));
    expect(more).toEqual([]);
    return `${first?.path} ${first?.code}`;
  };

  test("is told by its place", () => {
    for (const [wrong, what] of [
      [undefined, " missing"],
      [null, " wrong-type"],
      ["100∠0", " wrong-type"],
      [100, " wrong-type"],
      [{ re: Number.NaN, im: 0 }, ".re not-finite"],
      [{ re: 0, im: Number.POSITIVE_INFINITY }, ".im not-finite"],
      [{ re: "3", im: 0 }, ".re wrong-type"],
    ] as const) {
      expect(problem(wrong, good)).toBe(`v${what}`);
      expect(problem(good, wrong)).toBe(`i${what}`);
      expect(problem({ ...set, b: wrong }, set)).toBe(`v.b${what}`);
      expect(problem(set, { ...set, c: wrong })).toBe(`i.c${what}`);
    }
  });

  test("is a set beside a phasor", () => {
    expect(problem(set, good)).toBe("i.a missing");
    expect(problem(good, set)).toBe("i.re missing");
    expect(problem(set, undefined)).toBe("i missing");
  });
});
