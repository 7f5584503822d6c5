/** What the tests of this folder share: curves over the physical domain, and the equation in 50-digit decimals. */
import fc from "fast-check";
import type { InverseCurve, UnderCurve } from "tripwright/curve";
import { exactly, type Reference } from "../base/reference.js";
import { spread } from "../base/spread.js";

/** Constants as standards have them and beyond: exponents from 0.005 to 10, times from a millisecond to an hour. */
const constants = {
  k: fc.double({ min: 1e-3, max: 3600, noNaN: true }),
  alpha: fc.oneof(fc.constantFrom(0.02, 0.04, 0.5, 1, 2, 3), fc.double({ min: 0.005, max: 10, noNaN: true })),
  c: fc.oneof(fc.constant(0), spread(0, 10)),
};
export const inverse: fc.Arbitrary<InverseCurve> = fc.record({ form: fc.constant("inverse"), ...constants });
export const under: fc.Arbitrary<UnderCurve> = fc.record({ form: fc.constant("under"), ...constants });
export const multipliers = fc.double({ min: 0.01, max: 15, noNaN: true });

const share = spread(0, 1);
/** Above the setting, up to 100 times: evenly spread, and as near as 1e-12 on a logarithmic scale. */
export const overMultiples = fc.oneof(
  share.map((x) => 1 + 1e-12 + 99 * x),
  share.map((x) => 1 + 10 ** (2 - 14 * x)).filter((multiple) => multiple <= 100),
);
/** Below the setting, down to 0. */
export const underMultiples = fc.oneof(
  share.map((x) => x * (1 - 1e-12)),
  share.map((x) => 1 - 10 ** (-12 * x)),
);

/** k/(M^alpha − 1) + c or k/(1 − M^alpha) + c at exactly the given doubles. */
export function equation({ form, k, alpha, c }: InverseCurve | UnderCurve, multiple: number): Reference {
  const beyond = exactly(multiple).pow(exactly(alpha)).minus(1);
  return exactly(k)
    .div(form === "under" ? beyond.neg() : beyond)
    .plus(exactly(c));
}
