import fc from "fast-check";
import { offsetSinusoid, type Sinusoid, timeConstant, valueAt, xOverROf } from "tripwright/sinusoid";
import { describe, expect, test } from "vitest";
import { exactly, PI } from "../base/reference.js";
import { spread } from "../base/spread.js";
import { ulps } from "../support/distance.js";
import { holds } from "../support/holds.js";
import { near } from "./integrals.js";

const rms = fc.double({ min: 1e-3, max: 1e5, noNaN: true });
const frequency = fc.constantFrom(16.7, 50, 60);
const angles = spread(-720, 720);
const ratios = fc.double({ min: 1e-3, max: 1e3, noNaN: true });
const degrees = (radians: number): number => (radians * 180) / Math.PI;

/** Apart by less than a turn, or by whole turns. */
const apart = (a: number, b: number): number => Math.abs((((a - b) % 360) + 540) % 360) - 180;

describe("the current of a fault", () => {
  test("begins at exactly 0, from whatever it is made", () => {
    const where = fc.oneof(fc.record({ angle: angles }), fc.record({ inception: angles }));
    const decays = fc.oneof(
      fc.record({ xOverR: fc.oneof(ratios, fc.constant(Number.POSITIVE_INFINITY)) }),
      fc.record({ tau: fc.oneof(spread(1e-4, 10), fc.constant(Number.POSITIVE_INFINITY)) }),
    );
    holds(
      fc.property(rms, frequency, where, decays, (rms, frequency, at, decay) => {
        expect(valueAt(offsetSinusoid({ rms, frequency, ...at, ...decay }), 0)).toBe(0);
      }),
    );
  });

  test("is what the circuit says: L · di/dt + R · i is the voltage, counted from its zero crossing upward", () => {
    const cases = fc.record({ frequency, inception: spread(-180, 180), xOverR: ratios });
    holds(
      fc.property(cases, spread(0, 0.1), ({ frequency, inception, xOverR }, t) => {
        // R = 1 Ω, X = X/R Ω, and as much voltage as drives a current of 1 A rms through both.
        const current = offsetSinusoid({ rms: 1, frequency, inception, xOverR });
        const { value, slope } = near(current, exactly(t));
        const inductance = exactly(xOverR).div(PI.times(2).times(exactly(frequency)));
        const drop = slope.times(inductance).plus(value).toNumber();
        const peak = Math.SQRT2 * Math.hypot(1, xOverR);
        const voltage = peak * Math.sin(2 * Math.PI * ((frequency * t) % 1) + (inception * Math.PI) / 180);
        expect(Math.abs(drop - voltage)).toBeLessThanOrEqual(1e-12 * peak);
      }),
      40,
    );
  });

  test("has no d.c. component where the voltage stands at the angle of the circuit, and the most at right angles to it", () => {
    holds(
      fc.property(ratios, (xOverR) => {
        const line = degrees(Math.atan(xOverR));
        const initial = (inception: number): number =>
          offsetSinusoid({ rms: 1, frequency: 50, inception, xOverR }).decay?.initial ?? Number.NaN;
        expect(Math.abs(initial(line))).toBeLessThanOrEqual(1e-15 * Math.SQRT2 * 2);
        expect(initial(line - 90)).toBeCloseTo(Math.SQRT2, 14);
        expect(initial(line + 90)).toBeCloseTo(-Math.SQRT2, 14);
      }),
    );
  });

  test("of 0 and 180 is fully offset, of 90 and −90 not at all, to the last digit", () => {
    const initial = (angle: number) => offsetSinusoid({ rms: 100, frequency: 50, angle, tau: 0.045 }).decay?.initial;
    expect([0, 180, 90, -90].map(initial)).toEqual([-100 * Math.SQRT2, 100 * Math.SQRT2, 0, 0]);
  });

  test("lags its voltage by the angle of the circuit, counted from the crest", () => {
    holds(
      fc.property(angles, ratios, (inception, xOverR) => {
        const { angle = Number.NaN } = offsetSinusoid({ rms: 1, frequency: 50, inception, xOverR });
        expect(Math.abs(apart(angle, inception - 90 - degrees(Math.atan(xOverR))))).toBeLessThanOrEqual(1e-12);
        expect(Math.abs(angle)).toBeLessThanOrEqual(180);
      }),
    );
  });

  test("is the same by X/R and by the time constant that belongs to it", () => {
    holds(
      fc.property(frequency, angles, ratios, (frequency, inception, xOverR) => {
        const given = { rms: 1, frequency, inception };
        const [byRatio, byTime] = [
          offsetSinusoid({ ...given, xOverR }),
          offsetSinusoid({ ...given, tau: timeConstant({ xOverR, frequency }) }),
        ];
        expect(byTime.decay?.tau).toBe(byRatio.decay?.tau);
        expect(Math.abs(apart(byTime.angle ?? Number.NaN, byRatio.angle ?? Number.NaN))).toBeLessThanOrEqual(1e-13);
        expect(ulps(xOverROf({ tau: byRatio.decay?.tau ?? Number.NaN, frequency }), xOverR)).toBeLessThanOrEqual(3);
      }),
    );
  });

  test("of a circuit without resistance keeps its d.c. component, as an offset", () => {
    const full: Sinusoid = { rms: 1, frequency: 50, angle: 180, offset: Math.SQRT2 };
    for (const decay of [{ xOverR: Number.POSITIVE_INFINITY }, { tau: Number.POSITIVE_INFINITY }]) {
      expect(offsetSinusoid({ rms: 1, frequency: 50, angle: 180, ...decay })).toEqual(full);
      expect(offsetSinusoid({ rms: 1, frequency: 50, inception: 0, ...decay })).toMatchObject({ offset: Math.SQRT2 });
    }
  });

  test("of a circuit without inductance has no d.c. component, and is in phase with the voltage", () => {
    for (const decay of [{ xOverR: 0 }, { tau: 0 }, { xOverR: -0 }])
      expect(offsetSinusoid({ rms: 1, frequency: 50, inception: 30, ...decay })).toEqual({
        rms: 1,
        frequency: 50,
        angle: -60,
      });
  });

  test("survives JSON, and holds no −0", () => {
    holds(
      fc.property(
        rms,
        fc.constantFrom(-0, 0, 90, -90, 180),
        fc.constantFrom(-0, 0.001, 1e300),
        (rms, angle, xOverR) => {
          const fault = offsetSinusoid({ rms, frequency: 50, angle, xOverR });
          expect(JSON.parse(JSON.stringify(fault))).toEqual(fault);
          for (const x of [fault.angle, fault.offset, fault.decay?.initial]) expect(Object.is(x, -0)).toBe(false);
        },
      ),
    );
  });
});
