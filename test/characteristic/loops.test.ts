import fc from "fast-check";
import {
  earthFactor,
  faultAt,
  type Loop,
  loopImpedance,
  loopQuantities,
  type WantedFault,
} from "tripwright/characteristic";
import {
  add,
  magnitude,
  multiply,
  type Phases,
  type Phasor,
  polar,
  rotate,
  scale,
  shortCircuit,
  subtract,
  threePhase,
} from "tripwright/phasor";
import { describe, expect, test } from "vitest";
import { problemsOf } from "../support/failure.js";
import { holds } from "../support/holds.js";

const number = (min: number, max: number) => fc.double({ min, max, noNaN: true });
const impedance = fc.tuple(number(0.1, 20), number(-10, 95)).map(([size, angle]) => polar(size, angle));
const k0 = fc.tuple(number(0, 1), number(-30, 30)).map(([size, angle]) => polar(size, angle));
const loop = fc.constantFrom<Loop>("ab", "bc", "ca", "a", "b", "c");
const rotation = fc.constantFrom("ABC" as const, "ACB" as const);
const held = fc.oneof(
  number(0.1, 30).map((current) => ({ current })),
  number(0.1, 60).map((loopVoltage) => ({ loopVoltage })),
  fc.tuple(impedance, k0).map(([source, sourceK0]) => ({ source, sourceK0 })),
);
const fault = fc.record({ loop, impedance, k0, healthyVoltage: number(50, 70), rotation, held });

const apart = (a: Phasor, b: Phasor) => magnitude(subtract(a, b));
const measured = (state: { v: Phases; i: Phases }, which: Loop, factor: Phasor) => {
  const answer = loopImpedance({ ...state, loop: which, k0: factor });
  if (answer.kind === "none") throw new Error(answer.reason);
  return answer.impedance;
};

describe("a fault for a wanted loop impedance", () => {
  test("is measured as that impedance by its loop", () => {
    holds(
      fc.property(fault, (wanted) => {
        const seen = measured(faultAt(wanted), wanted.loop, wanted.k0);
        expect(apart(seen, wanted.impedance)).toBeLessThan(1e-12 * magnitude(wanted.impedance));
      }),
    );
  });

  test("of three phases is measured by all six loops", () => {
    holds(
      fc.property(fault, fc.constantFrom<Loop>("ab", "bc", "ca", "a", "b", "c"), (wanted, which) => {
        const state = faultAt({ ...wanted, loop: "abc" });
        expect(apart(measured(state, which, wanted.k0), wanted.impedance)).toBeLessThan(
          1e-12 * magnitude(wanted.impedance),
        );
      }),
    );
  });

  test("leaves the other phases as they were, and no zero sequence between two phases", () => {
    holds(
      fc.property(fault, (wanted) => {
        const { v, i } = faultAt(wanted);
        const healthy = threePhase(wanted.healthyVoltage, 0, wanted.rotation);
        for (const phase of ["a", "b", "c"] as const) {
          if (wanted.loop.includes(phase)) continue;
          expect(v[phase]).toEqual(healthy[phase]);
          expect(magnitude(i[phase])).toBe(0);
        }
        if (wanted.loop.length === 2) {
          expect(magnitude(add(add(v.a, v.b), v.c))).toBeLessThan(1e-13 * wanted.healthyVoltage);
          expect(magnitude(add(add(i.a, i.b), i.c))).toBe(0);
        }
      }),
    );
  });

  test("holds the current or the voltage of the loop that is asked for", () => {
    holds(
      fc.property(fault, number(0.1, 30), number(0.1, 60), (wanted, current, loopVoltage) => {
        const [one, other] = [wanted.loop[0] as "a", wanted.loop[1] as "b" | undefined];
        expect(magnitude(faultAt({ ...wanted, held: { current } }).i[one])).toBeCloseTo(current, 10);
        const { v } = faultAt({ ...wanted, held: { loopVoltage } });
        expect(magnitude(other === undefined ? v[one] : subtract(v[one], v[other]))).toBeCloseTo(loopVoltage, 10);
      }),
    );
  });

  test("behind a source is the short circuit of the sequence networks", () => {
    holds(
      fc.property(fault, impedance, k0, (wanted, source, sourceK0) => {
        // z0 = z1·(1 + 3·k0), for the line as for the source.
        const z0 = (z1: Phasor, factor: Phasor) => multiply(z1, add({ re: 1, im: 0 }, scale(factor, 3)));
        const z1 = add(source, wanted.impedance);
        const zero = add(z0(source, sourceK0), z0(wanted.impedance, wanted.k0));
        const voltage = polar(wanted.healthyVoltage, 0);
        const { i: earth } = faultAt({ ...wanted, loop: "a", held: { source, sourceK0 } });
        const single = shortCircuit({ type: "line-to-ground", voltage, z1, z2: z1, z0: zero }).currents.a;
        expect(apart(earth.a, single)).toBeLessThan(1e-12 * magnitude(single));
        const { i: across } = faultAt({ ...wanted, loop: "bc", rotation: "ABC", held: { source } });
        const double = shortCircuit({ type: "line-to-line", voltage, z1, z2: z1 }).currents.b;
        expect(apart(across.b, double)).toBeLessThan(1e-12 * magnitude(double));
      }),
    );
  });

  test("a short right at the relay leaves no voltage in its loop", () => {
    const { v, i } = faultAt({ loop: "bc", impedance: { re: 0, im: 0 }, healthyVoltage: 63.5, held: { current: 5 } });
    expect(apart(v.b, v.c)).toBe(0);
    expect(magnitude(i.b)).toBeCloseTo(5, 14);
  });
});

describe("the impedance of a loop", () => {
  test("does not change when all quantities turn together, and follows voltage over current", () => {
    holds(
      fc.property(fault, number(-180, 180), number(0.1, 5), (wanted, degrees, factor) => {
        const state = faultAt(wanted);
        const turned = (set: Phases, by: number): Phases => ({
          a: scale(rotate(set.a, degrees), by),
          b: scale(rotate(set.b, degrees), by),
          c: scale(rotate(set.c, degrees), by),
        });
        const same = measured({ v: turned(state.v, factor), i: turned(state.i, factor) }, wanted.loop, wanted.k0);
        expect(apart(same, wanted.impedance)).toBeLessThan(1e-11 * magnitude(wanted.impedance));
        const doubled = measured({ v: turned(state.v, 2), i: turned(state.i, 1) }, wanted.loop, wanted.k0);
        expect(apart(doubled, scale(wanted.impedance, 2))).toBeLessThan(1e-11 * magnitude(wanted.impedance));
      }),
    );
  });

  test("without current is none", () => {
    const { v, i } = faultAt({
      loop: "a",
      impedance: polar(1, 80),
      k0: polar(0.5, 0),
      healthyVoltage: 60,
      held: { current: 1 },
    });
    expect(loopImpedance({ v, i, loop: "bc" })).toEqual({ kind: "none", reason: "no-current" });
  });

  test("to earth is that of the line where the factor is that of the line", () => {
    const [z1, z0] = [polar(4, 75), polar(14, 70)];
    // A short at the end of a line: va = i1·z1 + i2·z1 + i0·z0 with i1 = i2 = i0.
    const va = add(scale(z1, 2), z0);
    const v = { a: va, b: polar(60, -120), c: polar(60, 120) };
    const i = { a: { re: 3, im: 0 }, b: { re: 0, im: 0 }, c: { re: 0, im: 0 } };
    expect(apart(measured({ v, i }, "a", earthFactor({ z1, z0 })), z1)).toBeLessThan(1e-14 * 14);
  });
});

describe("refused by name", () => {
  const good: WantedFault = {
    loop: "a",
    impedance: polar(4, 75),
    k0: polar(0.5, 0),
    healthyVoltage: 63.5,
    held: { current: 5 },
  };
  test.each([
    [{ ...good, loop: "ac" }, "loop"],
    [{ ...good, k0: undefined }, "k0"],
    [{ ...good, healthyVoltage: 0 }, "healthyVoltage"],
    [{ ...good, held: { current: 0 } }, "held.current"],
    [{ ...good, held: { loopVoltage: -1 } }, "held.loopVoltage"],
    [{ ...good, held: { volts: 3 } }, "held.volts"],
    [{ ...good, held: { source: polar(1, 80) } }, "held.sourceK0"],
    [{ ...good, loop: "bc", held: { source: polar(4, -105) } }, "held.source"],
    [{ ...good, impedance: { re: 0, im: 0 }, held: { loopVoltage: 5 } }, "impedance"],
    [{ ...good, rotation: "BCA" }, "rotation"],
    [{ ...good, phase: "a" }, "phase"],
    // One thing is held: the other would pass unused.
    [{ ...good, held: { current: 5, loopVoltage: 20 } }, "held.loopVoltage"],
    [{ ...good, loop: "ab", held: { current: 5, source: polar(1, 80) } }, "held.source"],
    [{ ...good, held: { loopVoltage: 20, source: polar(1, 80), sourceK0: polar(1, 0) } }, "held.source"],
    // With 1 + k0 = 0 no current of one phase counts.
    [{ ...good, k0: { re: -1, im: 0 } }, "k0"],
    [{ ...good, k0: { re: -1, im: 0 }, held: { source: polar(1, 80), sourceK0: polar(1, 0) } }, "k0"],
    [{ ...good, impedance: { re: 1, im: Number.NaN } }, "impedance.im"],
    [{ ...good, k0: { re: Number.NaN, im: 0 } }, "k0.re"],
    [{ ...good, held: { source: { re: 0, im: null }, sourceK0: polar(1, 0) } }, "held.source.im"],
    [{ ...good, held: { source: polar(1, 80), sourceK0: { re: 0, im: null } } }, "held.sourceK0.im"],
  ])("%j", (wanted, path) => {
    expect(problemsOf(() => faultAt(wanted as never))).toMatchObject([{ path }]);
  });

  test("what is no measurement", () => {
    const { v, i } = faultAt(good);
    expect(problemsOf(() => loopImpedance({ v, i, loop: "a" }))).toMatchObject([{ path: "k0" }]);
    expect(problemsOf(() => loopImpedance({ v, i, loop: "ac" as never }))).toMatchObject([{ path: "loop" }]);
    const without = (phase: string) => ({ ...v, [phase]: null }) as never;
    expect(problemsOf(() => loopImpedance({ v: without("b"), i, loop: "bc" }))).toMatchObject([{ path: "v.b" }]);
    expect(problemsOf(() => loopImpedance({ v, i: without("c"), loop: "ca" }))).toMatchObject([{ path: "i.c" }]);
    const odd = { re: Number.NaN, im: 0 };
    expect(problemsOf(() => loopQuantities({ v: { ...v, a: odd }, i, loop: "a", k0: good.k0! }))).toMatchObject([
      { path: "v.a.re" },
    ]);
    expect(problemsOf(() => loopQuantities({ v: { ...v, c: odd }, i, loop: "ca" }))).toMatchObject([
      { path: "v.c.re" },
    ]);
    expect(problemsOf(() => loopQuantities({ v, i: { ...i, c: odd }, loop: "a", k0: good.k0! }))).toMatchObject([
      { path: "i.c.re" },
    ]);
    expect(problemsOf(() => loopQuantities({ v, i, loop: "a", k0: odd }))).toMatchObject([{ path: "k0.re" }]);
  });
});
