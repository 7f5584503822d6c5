import { fail, finite, object, options } from "../base/check.js";
import { within } from "../base/input-error.js";
import { readEach } from "../base/read-each.js";
import type { Phasor } from "../phasor/index.js";
import type { PointVerdict } from "./marks.js";
import { type NamedPoint, type Outline, planeFigure } from "./plane-figure.js";
import type { SingleFigure } from "./specification.js";

/** An impedance with its name. */
export interface NamedImpedance {
  readonly name: string;
  readonly impedance: Phasor;
  readonly verdict?: PointVerdict;
}

/** Zones and impedances. */
export interface ImpedanceFigureOptions {
  readonly title: string;
  /** On which side of the instrument transformers; stands on the axes. Default `secondary`. */
  readonly side?: "primary" | "secondary";
  /** Boundaries as `outlineOf` gives them: x is R, y is X, in ohm. */
  readonly outlines?: readonly Outline[];
  /** R and X as real and imaginary part, in ohm. */
  readonly points?: readonly NamedImpedance[];
}

/**
 * {@link planeFigure} for impedances: reactance over resistance, one ohm as long on both axes.
 *
 * @throws A {@link InputError} as `planeFigure` does.
 * @source definition
 *
 * @example
 * import { mho, outlineOf } from "tripwright/characteristic";
 * import { impedanceFigure } from "tripwright/figure";
 * import { polar } from "tripwright/phasor";
 * const figure = impedanceFigure({
 *   title: "21, zone 1",
 *   outlines: [{ name: "Zone 1", points: outlineOf(mho({ reach: 4, angle: 60 })) }],
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
  const unit = `Ω ${side}`;
  return planeFigure({
    title,
    axes: { x: { quantity: "Resistance", unit }, y: { quantity: "Reactance", unit } },
    outlines,
    points: readEach(points, "points", "a list of points", placed),
    equal: true,
  });
}

function placed(given: NamedImpedance): NamedPoint {
  const { impedance, ...point } = options(given, ["name", "impedance", "verdict"]);
  return within("impedance", () => {
    const { re, im } = object(impedance, "", "an impedance { re, im }");
    return { ...point, x: finite(re, "re", "a resistance in ohm"), y: finite(im, "im", "a reactance in ohm") };
  });
}
