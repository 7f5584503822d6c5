/** Numbers, laws and tolerances as a person reads them. */
import { plain } from "../base/written.js";
import type { Curve, CurveSetting } from "../curve/index.js";
import type { Tolerance } from "../grading/index.js";
import type { Unit } from "./check.js";

/** A typed number as typed, a computed one in at most 6 digits. */
export const asTyped = (x: number): string => (String(x).length <= 8 ? String(x) : plain(x, 6));

const NAMES: Readonly<Record<Curve["form"], string>> = {
  inverse: "a curve with constants of its own",
  under: "a curve with constants of its own",
  definite: "definite time",
  excess: "k/(M − 1)^power",
  energy: "M² · t = k",
  thermal: "thermal image from cold",
  table: "a drawn curve",
};

/** The law of a function with its factors and limits. */
export function lawInWords({ curve, multiplier, ceilingMultiple, minimumTime, addedTime }: CurveSetting): string {
  const added = addedTime === undefined ? "" : `, ${addedTime} s added`;
  if (typeof curve === "object" && curve.form === "definite") {
    return `${curve.time === 0 ? "without intended delay" : `definite time ${asTyped(curve.time)} s`}${added}`;
  }
  const name = typeof curve === "string" ? curve : NAMES[curve.form];
  const ceiling = ceilingMultiple === undefined ? "" : `, flat above ${ceilingMultiple} ×`;
  const floor = minimumTime === undefined ? "" : `, at least ${minimumTime} s`;
  return `${name}, time multiplier ${multiplier ?? 1}${ceiling}${floor}${added}`;
}

/** ± 5 %, or the greater of two. */
export function toleranceInWords({ percent, absolute, combine, side = "both" }: Tolerance, unit: Unit): string {
  const parts = [
    ...(percent === undefined ? [] : [`${percent} %`]),
    ...(absolute === undefined ? [] : [`${asTyped(Number(absolute))} ${unit}`]),
  ];
  const combined = combine === "sum" ? "the sum of" : "the greater of";
  const width = parts.length === 1 ? parts[0] : `${combined} ${parts.join(" and ")}`;
  return side === "both" ? `± ${width}` : `at most ${width} ${side === "high" ? "more" : "less"}`;
}
