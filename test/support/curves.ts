/** Curve settings for properties. */
import fc from "fast-check";
import { type Curve, type CurveSetting, curveNames, curveSide } from "tripwright/curve";

/** A double from a range, never NaN. */
export const between = (min: number, max: number) => fc.double({ min, max, noNaN: true });

const overNames = curveNames.filter((name) => curveSide(name) === "over");

/** Curves of the over side without memory, standard and with constants of their own. */
export const overCurves: fc.Arbitrary<Curve | (typeof overNames)[number]> = fc.oneof(
  fc.constantFrom(...overNames),
  fc.record({
    form: fc.constant("inverse" as const),
    k: between(0.01, 100),
    alpha: between(0.01, 3),
    c: between(0, 1),
  }),
  fc.record({ form: fc.constant("excess" as const), k: between(0.01, 100), power: between(0.5, 3) }),
  fc.record({ form: fc.constant("energy" as const), k: between(0.01, 100) }),
);

/** Settings of the over side with a multiplier and nothing else. */
export const overSettings: fc.Arbitrary<CurveSetting> = fc.record({ curve: overCurves, multiplier: between(0.05, 10) });

/** Multiples at which they operate. */
export const multiples = between(1.01, 50);
