import { fail, object, options } from "../base/check.js";
import type { Phasor } from "../phasor/index.js";
import type { PointVerdict } from "./marks.js";
import { type PlanePlace, planeFigure } from "./plane-figure.js";
import type { SingleFigure } from "./specification.js";

/** Zones and impedances, R and X as the real and imaginary parts of phasors. */
export interface ImpedanceFigureOptions {
  readonly title: string;
  /** On which side of the instrument transformers; stands on the axes. Default `secondary`. */
  readonly side?: "primary" | "secondary";
  readonly outlines?: readonly { readonly name: string; readonly points: readonly Phasor[]; readonly open?: true }[];
  readonly points?: readonly { readonly name: string; readonly impedance: Phasor; readonly verdict?: PointVerdict }[];
}

/**
 * {@link planeFigure} for impedances: reactance over resistance, one ohm as long on both axes.
 *
 * @throws A {@link InputError} as `planeFigure` does.
 * @source definition
 *
 * @example
 * import { impedanceFigure } from "tripwright/figure";
 * import { polar } from "tripwright/phasor";
 * const figure = impedanceFigure({
 *   title: "21, zone 1",
 *   outlines: [{ name: "Zone 1", points: [polar(0, 0), { re: 4, im: 0 }, { re: 4, im: 3 }, { re: -1, im: 3 }] }],
 *   points: [{ name: "reach", impedance: polar(3.5, 60), verdict: "within" }],
 * });
 * figure.layer.find(({ name }) => name === "points within")?.data.values[0]?.x; // → 1.7500000000000002
 */
export function impedanceFigure(given: ImpedanceFigureOptions): SingleFigure {
  const {
    title,
    side = "secondary",
    outlines = [],
    points = [],
  } = options(given, ["title", "side", "outlines", "points"]);
  if (side !== "primary" && side !== "secondary") fail("unknown-name", "side", "one of primary, secondary", side);
  if (!Array.isArray(outlines)) fail("wrong-type", "outlines", "a list of outlines", outlines);
  if (!Array.isArray(points)) fail("wrong-type", "points", "a list of points", points);
  const unit = `Ω ${side}`;
  return planeFigure({
    title,
    axes: { x: { quantity: "Resistance", unit }, y: { quantity: "Reactance", unit } },
    outlines: [...outlines].map((given, i) => {
      const { points: phasors, ...outline } = object(given, `outlines[${i}]`, "an outline { name, points }");
      return {
        ...outline,
        points: Array.isArray(phasors)
          ? [...phasors].map((phasor, n) =>
              placeOf(object(phasor, `outlines[${i}].points[${n}]`, "an impedance { re, im }")),
            )
          : phasors,
      };
    }),
    points: [...points].map((given, i) => {
      const { impedance, ...point } = object(given, `points[${i}]`, "a point { name, impedance }");
      return { ...point, ...placeOf(object(impedance, `points[${i}].impedance`, "an impedance { re, im }")) };
    }),
    equal: true,
  });
}

const placeOf = ({ re, im }: Phasor): PlanePlace => ({ x: re, y: im });
