import fc from "fast-check";
import { rmsFactorAt, shortCircuitPowerFactor, timeConstant, xOverROf } from "tripwright/sinusoid";
import { describe, expect, test } from "vitest";
import { D, exactly, PI, ulpsOff } from "../base/reference.js";
import { spread } from "../base/spread.js";
import { ulps } from "../support/distance.js";
import { problemsOf } from "../support/failure.js";
import { holds } from "../support/holds.js";

const INFINITE = Number.POSITIVE_INFINITY;
const ratios = fc.double({ min: 1e-6, max: 1e6, noNaN: true });
const frequencies = fc.double({ min: 1, max: 1000, noNaN: true });
const factors = fc.oneof(fc.double({ min: 1e-6, max: 1, noNaN: true, minExcluded: true }), spread(0.001, 1));

describe("X/R, time constant and power factor", () => {
  test("are those of 50-digit values", () => {
    holds(
      fc.property(ratios, frequencies, factors, (xOverR, frequency, powerFactor) => {
        const omega = PI.times(2).times(exactly(frequency));
        const one = new D(1);
        expect(ulpsOff(timeConstant({ xOverR, frequency }), exactly(xOverR).div(omega))).toBeLessThanOrEqual(2);
        expect(ulpsOff(xOverROf({ tau: xOverR, frequency }), exactly(xOverR).times(omega))).toBeLessThanOrEqual(3);
        const share = exactly(powerFactor);
        expect(ulpsOff(xOverROf({ powerFactor }), one.minus(share.pow(2)).sqrt().div(share))).toBeLessThanOrEqual(3);
        expect(
          ulpsOff(shortCircuitPowerFactor(xOverR), one.div(one.plus(exactly(xOverR).pow(2)).sqrt())),
        ).toBeLessThanOrEqual(3);
      }),
    );
  });

  test("lead back to each other", () => {
    holds(
      fc.property(ratios, frequencies, (xOverR, frequency) => {
        const tau = timeConstant({ xOverR, frequency });
        expect(ulps(xOverROf({ tau, frequency }), xOverR)).toBeLessThanOrEqual(4);
      }),
    );
    holds(
      fc.property(spread(0.01, 0.99), (powerFactor) => {
        const back = shortCircuitPowerFactor(xOverROf({ powerFactor }));
        expect(ulps(back, powerFactor)).toBeLessThanOrEqual(8);
      }),
    );
  });

  test("of circuits without resistance, and of those without inductance, lie at the ends", () => {
    expect(timeConstant({ xOverR: INFINITE, frequency: 50 })).toBe(INFINITE);
    expect(timeConstant({ xOverR: 0, frequency: 50 })).toBe(0);
    expect(xOverROf({ tau: INFINITE, frequency: 50 })).toBe(INFINITE);
    expect(xOverROf({ tau: 0, frequency: 50 })).toBe(0);
    expect(xOverROf({ powerFactor: 0 })).toBe(INFINITE);
    expect(xOverROf({ powerFactor: -0 })).toBe(INFINITE);
    expect(xOverROf({ powerFactor: 1 })).toBe(0);
    expect(shortCircuitPowerFactor(INFINITE)).toBe(0);
    expect(shortCircuitPowerFactor(0)).toBe(1);
    expect(timeConstant({ xOverR: -0, frequency: 50 })).toBe(0);
    expect(xOverROf({ tau: -0, frequency: 50 })).toBe(0);
  });
});

describe("the rms factor at an instant", () => {
  test("is that of 50-digit values, from √3 at the fault down to 1", () => {
    holds(
      fc.property(fc.double({ min: 0.01, max: 1e4, noNaN: true }), spread(0, 10), (xOverR, cycles) => {
        const left = D.exp(PI.times(-4).times(exactly(cycles)).div(exactly(xOverR)));
        expect(ulpsOff(rmsFactorAt(xOverR, { cycles }), left.times(2).plus(1).sqrt())).toBeLessThanOrEqual(2);
      }),
    );
  });

  test("lies at the ends where nothing decays, or nothing is there to decay", () => {
    expect(rmsFactorAt(INFINITE, { cycles: 5 })).toBe(Math.sqrt(3));
    expect(rmsFactorAt(INFINITE, { cycles: 1e308 })).toBe(Math.sqrt(3));
    expect(rmsFactorAt(10, { cycles: 0 })).toBe(Math.sqrt(3));
    expect(rmsFactorAt(10, { cycles: 1e308 })).toBe(1);
    for (const cycles of [0, 0.5]) expect(rmsFactorAt(0, { cycles })).toBe(1);
  });
});

describe("X/R and what belongs to it are refused", () => {
  const problem = (work: () => unknown): string => {
    const [first, ...more] = problemsOf(work);
    expect(more).toEqual([]);
    return `${first?.path} ${first?.code}`;
  };
  const wrong: readonly (readonly [unknown, string])[] = [
    [-1, "out-of-range"],
    [Number.NaN, "not-finite"],
    [Number.NEGATIVE_INFINITY, "not-finite"],
    ["10", "wrong-type"],
    [null, "wrong-type"],
    [undefined, "missing"],
  ];

  test("for an X/R ratio that is no number of 0 or more", () => {
    for (const [xOverR, code] of wrong) {
      const given = xOverR as number;
      expect(problem(() => timeConstant({ xOverR: given, frequency: 50 }))).toBe(`xOverR ${code}`);
      expect(problem(() => shortCircuitPowerFactor(given))).toBe(`xOverR ${code}`);
      expect(problem(() => rmsFactorAt(given, { cycles: 1 }))).toBe(`xOverR ${code}`);
    }
  });

  test("for a time constant, a power factor, a number of cycles or a frequency that is none", () => {
    for (const [value, code] of wrong) {
      const given = value as number;
      expect(problem(() => xOverROf({ tau: given, frequency: 50 }))).toBe(`tau ${code}`);
      expect(problem(() => rmsFactorAt(10, { cycles: given }))).toBe(`cycles ${code}`);
      // Without a power factor there is none that is wrong: it is the time constant that is missing.
      if (value !== undefined) expect(problem(() => xOverROf({ powerFactor: given }))).toBe(`powerFactor ${code}`);
    }
    expect(problem(() => xOverROf({ powerFactor: 1.0001 }))).toBe("powerFactor out-of-range");
    expect(problem(() => xOverROf({ powerFactor: INFINITE }))).toBe("powerFactor not-finite");
    expect(problem(() => rmsFactorAt(10, { cycles: INFINITE }))).toBe("cycles not-finite");
    for (const frequency of [0, -50]) {
      expect(problem(() => xOverROf({ tau: 1, frequency }))).toBe("frequency out-of-range");
      expect(problem(() => timeConstant({ xOverR: 1, frequency }))).toBe("frequency out-of-range");
    }
    expect(problem(() => xOverROf({ tau: 1 } as never))).toBe("frequency missing");
  });

  test("for both or none, for keys that are none, and for what is no object", () => {
    expect(problem(() => xOverROf({ powerFactor: 0.1, tau: 1 } as never))).toBe("powerFactor conflict");
    expect(problem(() => xOverROf({ powerFactor: 0.1, x: 1 } as never))).toBe("x unknown-key");
    expect(xOverROf({ powerFactor: 1, tau: undefined } as never)).toBe(0);
    expect(problem(() => xOverROf({} as never))).toBe("tau missing");
    expect(problem(() => timeConstant({ xOverR: 1, frequency: 50, tau: 1 } as never))).toBe("tau unknown-key");
    expect(problem(() => rmsFactorAt(1, { cycle: 1 } as never))).toBe("cycle unknown-key");
    for (const nothing of [null, 5, "x", [1]]) {
      for (const work of [xOverROf, timeConstant, (x: never) => rmsFactorAt(1, x)])
        expect(problem(() => work(nothing as never))).toBe(" wrong-type");
    }
  });
});
