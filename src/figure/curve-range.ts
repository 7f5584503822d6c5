/** Which multiples are drawn. */
import { above, atLeast, fail, finite, options } from "../base/check.js";
import { type CurveSetting, curveSide } from "../curve/index.js";

/** Over functions have a logarithmic axis of multiples, under functions a linear one that reaches 0. */
export type Side = "over" | "under";

/** The ends of the axis, and of each curve on it. */
export interface CurveRange {
  readonly from: number;
  readonly to: number;
  /** Where a line may begin (over) or end (under): not at a start towards which the time grows without bound. */
  readonly near: (setting: CurveSetting) => number;
}

interface Drawn {
  readonly setting: CurveSetting;
  readonly points?: readonly { readonly multiple: number }[];
}

/** The side of all curves; over and under functions do not fit on one axis. */
export function sideOf(curves: readonly Drawn[]): Side {
  const [first = "over", ...others] = curves.map(({ setting }) => curveSide(setting.curve));
  const other = others.findIndex((side) => side !== first);
  if (other < 0) return first;
  return fail(
    "conflict",
    `curves[${other + 1}].setting.curve`,
    `the curve of an ${first} function, as the first`,
    others[other],
  );
}

/** The multiples that were asked for or are usual, and those of the points. */
export function rangeOf(
  curves: readonly Drawn[],
  side: Side,
  given?: { readonly from: number; readonly to: number },
): CurveRange {
  const points = curves.flatMap(({ points = [] }) => points.map(({ multiple }) => multiple));
  const { from, to, near } = given === undefined ? usual(curves, side) : asked(given, side);
  return { from: Math.min(from, ...points), to: Math.max(to, ...points), near };
}

const WHAT = "a multiple of the setting";

function asked(given: { readonly from: number; readonly to: number }, side: Side): CurveRange {
  const { from, to } = options(given, ["from", "to"], "multiples");
  if (side === "over") above(from, 0, "multiples.from", WHAT);
  else atLeast(from, 0, "multiples.from", WHAT);
  above(finite(to, "multiples.to", WHAT), from, "multiples.to", WHAT);
  return { from, to, near: () => (side === "over" ? from : to) };
}

function usual(curves: readonly Drawn[], side: Side): CurveRange {
  const starts = curves.map(({ setting }) => startOf(setting));
  const near = (setting: CurveSetting) => startOf(setting) * (isBounded(setting) ? 1 : side === "over" ? 1.1 : 0.95);
  if (side === "under") return { from: 0, to: Math.max(...starts), near };
  return { from: Math.min(...starts), to: Math.max(20, ...starts.map((start) => 2 * start)), near };
}

/** Where a function starts; one that would start at nothing is drawn from a tenth of its setting. */
function startOf({ startRatio, curve }: CurveSetting): number {
  if (startRatio !== undefined && startRatio > 0) return startRatio;
  if (typeof curve === "object" && curve.form === "table") return curve.points[0]?.multiple ?? 1;
  return typeof curve === "object" && curve.form === "energy" ? 0.1 : 1;
}

/** Whether the time stays finite towards the start. */
const isBounded = ({ curve }: CurveSetting): boolean =>
  typeof curve === "object" && (curve.form === "definite" || curve.form === "energy" || curve.form === "table");
