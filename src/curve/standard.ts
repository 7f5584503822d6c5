import { nameIn } from "../base/check.js";
import type { CurveName, InverseCurve, UnderCurve } from "./curve.js";

/** The constants as the standards print them; adding a standard curve is adding a line here and its name to `CurveName`. */
const STANDARD: Readonly<Record<CurveName, InverseCurve | UnderCurve>> = {
  // IEC 60255-151 Annex A, curves A to F; D to F are those of IEEE C37.112 Table 1.
  "iec-inverse": { form: "inverse", k: 0.14, alpha: 0.02, c: 0 },
  "iec-very-inverse": { form: "inverse", k: 13.5, alpha: 1, c: 0 },
  "iec-extremely-inverse": { form: "inverse", k: 80, alpha: 2, c: 0 },
  "ieee-moderately-inverse": { form: "inverse", k: 0.0515, alpha: 0.02, c: 0.114, reset: 4.85 },
  "ieee-very-inverse": { form: "inverse", k: 19.61, alpha: 2, c: 0.491, reset: 21.6 },
  "ieee-extremely-inverse": { form: "inverse", k: 28.2, alpha: 2, c: 0.1217, reset: 29.1 },
  // Common practice; not in the standards' annexes.
  "long-time-inverse": { form: "inverse", k: 120, alpha: 1, c: 0 },
  "short-time-inverse": { form: "inverse", k: 0.05, alpha: 0.04, c: 0 },
  // IEC 60255-127 Annex A.
  "overvoltage-inverse": { form: "inverse", k: 1, alpha: 1, c: 0 },
  "undervoltage-inverse": { form: "under", k: 1, alpha: 1, c: 0 },
};

/** The names of the standard curves. */
export const curveNames: readonly CurveName[] = /* @__PURE__ */ Object.freeze(
  /* @__PURE__ */ Object.keys(STANDARD) as CurveName[],
);

/**
 * The constants of a standard curve.
 *
 * @throws A {@link InputError} for a name that is not a {@link CurveName}.
 * Accuracy: the constants as they are printed.
 * @source IEC 60255-151:2009 Annex A (A to F); IEEE C37.112-2018 Table 1 (D to F); IEC 60255-127:2010 Annex A (voltage);
 * long-time and short-time inverse: common practice
 *
 * @example
 * import { standardCurve } from "tripwright/curve";
 * standardCurve("iec-very-inverse"); // → { form: "inverse", k: 13.5, alpha: 1, c: 0 }
 */
export const standardCurve = (name: CurveName): InverseCurve | UnderCurve => lookUp(name, "name");

/** A copy, so that nobody changes a standard for everybody. */
export const lookUp = (name: CurveName, path: string): InverseCurve | UnderCurve => ({
  ...STANDARD[nameIn(name, STANDARD, path)],
});
