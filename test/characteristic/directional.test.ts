import fc from "fast-check";
import {
  advanceAngle,
  comparedOf,
  directionalProduct,
  directionalSector,
  distanceTo,
  earthFactor,
  earthFactorOfRatios,
  earthRatios,
  mostSlip,
  type Polarising,
  voltagesApart,
} from "tripwright/characteristic";
import { angle, magnitude, type Phases, polar, rotate, threePhase } from "tripwright/phasor";
import { describe, expect, test } from "vitest";
import { problemsOf } from "../support/failure.js";
import { holds } from "../support/holds.js";

const number = (min: number, max: number) => fc.double({ min, max, noNaN: true });
const phasor = fc.tuple(number(0.1, 10), number(-180, 180)).map(([size, turn]) => polar(size, turn));
const phases = fc.record({ a: phasor, b: phasor, c: phasor });
const polarising = fc.constantFrom<Polarising>("self", "quadrature", "-3V0", "3V0", "-V2");
const rotation = fc.constantFrom("ABC" as const, "ACB" as const);

describe("what a directional function compares", () => {
  test("does not change its answer when all quantities turn together", () => {
    holds(
      fc.property(phases, phases, polarising, rotation, number(-180, 180), (v, i, kind, turns, degrees) => {
        const turned = (set: Phases): Phases => ({
          a: rotate(set.a, degrees),
          b: rotate(set.b, degrees),
          c: rotate(set.c, degrees),
        });
        const product = (volts: Phases, amperes: Phases) =>
          directionalProduct(comparedOf({ v: volts, i: amperes, polarising: kind, phase: "b", rotation: turns }), 45);
        const [plain, same] = [product(v, i), product(turned(v), turned(i))];
        expect(same.re).toBeCloseTo(plain.re, 9);
        expect(same.im).toBeCloseTo(plain.im, 9);
      }),
    );
  });

  test("in the 90° connection lags its own voltage by 90° in every phase, whichever way the phases turn", () => {
    for (const turns of ["ABC", "ACB"] as const) {
      for (const phase of ["a", "b", "c"] as const) {
        const v = threePhase(60, 10, turns);
        const compared = comparedOf({ v, i: v, polarising: "quadrature", phase, rotation: turns });
        // The operating current stands in phase with its own voltage here.
        expect(angle(directionalProduct(compared, 0))).toBeCloseTo(90, 12);
        expect(magnitude(compared.polarising)).toBeCloseTo(60 * Math.sqrt(3), 12);
      }
    }
  });

  test("the residual current of an earth fault on a solidly earthed system lags −3V0 by the angle of the source", () => {
    // v0 = −i0·z0 behind the relay: −3V0 = 3I0·z0.
    const [i0, z0] = [polar(2, -30), polar(3, 70)];
    const residual = { re: 3 * i0.re, im: 3 * i0.im };
    const drop = polar(3 * 2 * 3, -30 + 70 + 180);
    const zero = { re: 0, im: 0 };
    const compared = comparedOf({
      v: { a: drop, b: zero, c: zero },
      i: { a: residual, b: zero, c: zero },
      polarising: "-3V0",
    });
    expect(angle(directionalProduct(compared, 0))).toBeCloseTo(-angle(z0), 12);
    const reversed = comparedOf({
      v: { a: drop, b: zero, c: zero },
      i: { a: residual, b: zero, c: zero },
      polarising: "3V0",
    });
    expect(Math.abs(angle(directionalProduct(reversed, 0)))).toBeCloseTo(180 - 70, 12);
  });

  test("negative sequence is that of the rotation", () => {
    const v = threePhase(5, 0, "ACB");
    const { operating, polarising: against } = comparedOf({
      v,
      i: threePhase(2, -30, "ACB"),
      polarising: "-V2",
      rotation: "ABC",
    });
    expect([magnitude(operating), magnitude(against)].map((x) => x.toFixed(9))).toEqual(["2.000000000", "5.000000000"]);
    expect(angle(directionalProduct({ operating, polarising: against }, 0))).toBeCloseTo(150, 10);
  });

  test.each([
    [{ polarising: "other" }, "polarising"],
    [{ polarising: "self" }, "phase"],
    [{ polarising: "quadrature", phase: "n" }, "phase"],
    [{ polarising: "self", phase: "a", current: 1 }, "current"],
    [{ polarising: "-V2", rotation: "CAB" }, "rotation"],
  ])("refuses %j", (given, path) => {
    const [problem] = problemsOf(() => comparedOf({ v: threePhase(1), i: threePhase(1), ...given } as never));
    expect(problem?.path).toMatch(path);
  });
});

describe("the forward sector", () => {
  test("holds what has a positive product, where it is 180° wide", () => {
    holds(
      fc.property(number(-180, 180), phasor, (characteristicAngle, operating) => {
        const depth = distanceTo(directionalSector({ characteristicAngle }), { x: operating.re, y: operating.im });
        const { re } = directionalProduct({ operating, polarising: { re: 1, im: 0 } }, characteristicAngle);
        expect(depth).toBeCloseTo(re, 10);
      }),
    );
  });

  test.each([
    [{ characteristicAngle: Number.NaN }, "characteristicAngle"],
    [{ characteristicAngle: 0, leading: 0 }, "leading"],
    [{ characteristicAngle: 0, lagging: 181 }, "lagging"],
    [{ characteristicAngle: 0, lagging: 180, leading: 180 }, "lagging"],
  ])("refuses %j", (given, path) => {
    expect(problemsOf(() => directionalSector(given))).toMatchObject([{ path }]);
  });
});

describe("earth factors", () => {
  test("of ratios are those of the line on its own angle", () => {
    holds(
      fc.property(phasor, number(1, 89), number(0, 3), number(0, 3), (_, lineAngle, r, x) => {
        const z1 = polar(0.4, lineAngle);
        const z0 = { re: z1.re * (1 + 3 * r), im: z1.im * (1 + 3 * x) };
        const ours = earthFactor({ z1, z0 });
        const ratios = earthRatios({ z1, z0 });
        expect(ratios.resistance).toBeCloseTo(r, 10);
        expect(ratios.reactance).toBeCloseTo(x, 10);
        const again = earthFactorOfRatios({ resistance: r, reactance: x, lineAngle });
        expect(
          [again.re, again.im].map((part, k) => Math.abs(part - ([ours.re, ours.im][k] as number)) < 1e-12),
        ).toEqual([true, true]);
      }),
    );
  });

  test("leave out a ratio to nothing, and refuse a line of nothing", () => {
    expect(earthRatios({ z1: { re: 0, im: 0.5 }, z0: { re: 0.3, im: 1.25 } })).toEqual({ reactance: 0.5 });
    expect(problemsOf(() => earthFactor({ z1: { re: 0, im: 0 }, z0: { re: 1, im: 1 } }))).toHaveLength(1);
    expect(problemsOf(() => earthFactorOfRatios({ resistance: 1, reactance: 1, lineAngle: 0 }))).toMatchObject([
      { path: "lineAngle" },
    ]);
    expect(problemsOf(() => earthFactorOfRatios({ resistance: NaN, reactance: 1, lineAngle: 80 }))).toMatchObject([
      { path: "resistance" },
    ]);
  });
});

describe("synchronism", () => {
  test("the angle is that by which the incoming voltage leads, the rest follows from the law of cosines", () => {
    holds(
      fc.property(number(0.1, 100), number(0.1, 100), number(-179.9, 179.9), number(-180, 180), (a, b, delta, turn) => {
        const apart = voltagesApart({ incoming: polar(a, turn + delta), running: polar(b, turn) });
        expect(apart.angle).toBeCloseTo(delta, 10);
        expect(apart.difference).toBeCloseTo(a - b, 10);
        expect(apart.across ** 2).toBeCloseTo(a * a + b * b - 2 * a * b * Math.cos((delta * Math.PI) / 180), 8);
      }),
    );
  });

  test("a pointer that is told to close in advance arrives at the top as the breaker closes", () => {
    holds(
      fc.property(number(-1, 1), number(0, 1), (slip, closingTime) => {
        expect(-advanceAngle({ slip, closingTime }) + 360 * slip * closingTime).toBeCloseTo(0, 12);
        expect(Object.is(advanceAngle({ slip, closingTime }), -0)).toBe(false);
      }),
    );
  });

  test.each([
    [() => advanceAngle({ slip: NaN, closingTime: 1 }), "slip"],
    [() => advanceAngle({ slip: 1, closingTime: -1 }), "closingTime"],
    [() => mostSlip({ window: 0, timer: 1 }), "window"],
    [() => mostSlip({ window: 10, timer: 0 }), "timer"],
    [() => voltagesApart({ incoming: { re: 1, im: 0 } } as never), "running"],
  ])("refused: %#", (ask, path) => {
    const [problem] = problemsOf(ask);
    expect(problem?.path).toMatch(path);
  });
});
