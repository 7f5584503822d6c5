/** Where the equations of the forms have kinks. */
import type { Curve } from "./curve.js";
import type { CurveOf } from "./form.js";

const NONE = (): readonly number[] => [];

const KINKS: { readonly [F in Curve["form"]]: (curve: CurveOf<F>) => readonly number[] } = {
  inverse: NONE,
  under: NONE,
  definite: NONE,
  excess: NONE,
  energy: ({ k, maximumTime }) => (maximumTime === undefined ? [] : [Math.sqrt(k / maximumTime)]),
  thermal: NONE,
  table: ({ points }) => points.map(({ multiple }) => multiple),
};

/** The multiples between which an equation is smooth, its start aside. */
export const kinksOf = (curve: Curve): readonly number[] =>
  (KINKS[curve.form] as (curve: Curve) => readonly number[])(curve);
