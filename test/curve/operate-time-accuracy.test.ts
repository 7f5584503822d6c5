/** The forms beside the inverse equation against 50-digit decimals; their laws stand in forms.test.ts. */
import fc from "fast-check";
import { type Curve, operateTime } from "tripwright/curve";
import { describe, expect, test } from "vitest";
import { D, exactly, type Reference, ulpsOff } from "../base/reference.js";
import { spread } from "../base/spread.js";
import { holds } from "../support/holds.js";
import { multipliers, overMultiples } from "./curves.js";

/** What the doc comment states, in units in the last place. */
const ACCURACY = 4;
const THERMAL_ACCURACY = 6;
const constants = fc.double({ min: 1e-3, max: 3600, noNaN: true });
const powers = fc.oneof(fc.constantFrom(0.5, 1, 2), fc.double({ min: 0.1, max: 4, noNaN: true }));

interface Point {
  readonly multiple: number;
  readonly time: number;
}

interface Where {
  readonly multiple: number;
  readonly multiplier?: number;
  readonly preload?: number;
}

function off(curve: Curve, { multiple, multiplier = 1, preload }: Where, bare: Reference): number {
  const time = operateTime({ curve, multiplier }, multiple, preload === undefined ? {} : { preload });
  return ulpsOff(time, bare.times(exactly(multiplier)));
}

describe("the operate time against 50-digit decimals", () => {
  test("is within 4 units in the last place on a curve of the excess: k/(M − 1)^power", () => {
    holds(
      fc.property(constants, powers, multipliers, overMultiples, (k, power, multiplier, multiple) => {
        const bare = exactly(k).div(exactly(multiple).minus(1).pow(exactly(power)));
        expect(off({ form: "excess", k, power }, { multiple, multiplier }, bare)).toBeLessThanOrEqual(ACCURACY);
      }),
    );
  });

  test("is within 4 units in the last place on a curve of constant energy: k/M², from small multiples on", () => {
    const multiples = fc.double({ min: 1e-3, max: 100, noNaN: true });
    holds(
      fc.property(constants, multipliers, multiples, (k, multiplier, multiple) => {
        const bare = exactly(k).div(exactly(multiple).pow(2));
        expect(off({ form: "energy", k }, { multiple, multiplier }, bare)).toBeLessThanOrEqual(ACCURACY);
      }),
    );
  });

  const thermal = (tau: number, where: Where & { readonly preload: number }): number => {
    const [above, before] = [exactly(where.multiple).pow(2), exactly(where.preload).pow(2)];
    const bare = D.ln(above.minus(before).div(above.minus(1))).times(exactly(tau));
    return off({ form: "thermal", tau }, where, bare);
  };

  test("is within 6 units in the last place on a thermal curve: tau · ln((M² − p²)/(M² − 1)), cold and nearly as hot as can be", () => {
    const preloads = fc.oneof(
      fc.constant(0),
      spread(0, 1).filter((preload) => preload < 1),
      spread(-15, 0).map((power) => 1 - 10 ** power),
    );
    holds(
      fc.property(constants, overMultiples, preloads, (tau, multiple, preload) => {
        expect(thermal(tau, { multiple, preload })).toBeLessThanOrEqual(THERMAL_ACCURACY);
      }),
    );
    // Found by search: where the roundings add up worst.
    const where = { multiple: 3.0443616083016356, multiplier: 1.0259852736459534, preload: 0.09022244570226683 };
    expect(thermal(533.1174244770567, where)).toBeLessThanOrEqual(THERMAL_ACCURACY);
  });

  /** How far off between two points, in units of the stated accuracy: 1e-15, and as much for each factor of e. */
  function offBetween(left: Point, right: Point, multiple: number): number {
    const time = exactly(operateTime({ curve: { form: "table", points: [left, right] } }, multiple));
    const log = (x: number): Reference => D.ln(exactly(x));
    const [across, down] = [log(right.multiple).minus(log(left.multiple)), log(left.time).minus(log(right.time))];
    const share = log(multiple).minus(log(left.multiple)).div(across);
    const reference = exactly(left.time).times(D.exp(down.times(share).neg()));
    return time.minus(reference).abs().div(reference).div(down.plus(1).times(1e-15)).toNumber();
  }

  test("is within 1e-15 for each factor of e between the times of two points of a table", () => {
    const factor = spread(-3, 1).map((power) => 1 + 10 ** power);
    const start = fc.record({ multiple: fc.double({ min: 1, max: 20, noNaN: true }), time: constants });
    holds(
      fc.property(start, factor, factor, spread(0, 1), (left, wider, faster, share) => {
        const right = { multiple: left.multiple * wider, time: left.time / faster };
        const multiple = left.multiple + (right.multiple - left.multiple) * share;
        fc.pre(multiple <= right.multiple);
        expect(offBetween(left, right, multiple)).toBeLessThanOrEqual(1);
      }),
      100,
    );
    // Found by search: a steep stretch, the multiple near its first point.
    const steep = [
      { multiple: 4.268055449879567, time: 35.42801819049174 },
      { multiple: 4.757654630876555, time: 0.3622789460781193 },
    ] as const;
    expect(offBetween(...steep, 4.2847467030218045)).toBeLessThanOrEqual(1);
  });
});
