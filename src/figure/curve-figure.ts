import { above, atLeast, fail, object, options, text } from "../base/check.js";
import { within } from "../base/input-error.js";
import type { Seconds } from "../base/units.js";
import { type CurveSetting, curveSide } from "../curve/index.js";
import { type CurveRange, rangeOf, type Side, sideOf } from "./curve-range.js";
import { type AcceptedTimes, bandsAt, cornersOf, evenMultiples, timesAt } from "./curve-samples.js";
import { single } from "./look.js";
import { checkVerdict, type PointVerdict, VERDICT_KEY } from "./marks.js";
import { linearScale, logScale } from "./scale.js";
import type { SingleFigure } from "./specification.js";
import { type DrawnSeries, timePanel } from "./time-panel.js";

/** A measured operate time. */
export interface TimedPoint {
  readonly multiple: number;
  /** Above 0 s; absent: it never operated, which is drawn as an arrow at the top. */
  readonly time?: Seconds;
  /** Dots, crosses and diamonds; without one a plain dot. */
  readonly verdict?: PointVerdict;
  /** Default: the time in seconds. Empty: none. Where labels would cover one another or a mark, one is left out. */
  readonly label?: string;
}

/** A curve to be drawn. */
export interface CurveToDraw {
  /** Stands where the curve ends. */
  readonly name: string;
  readonly setting: CurveSetting;
  /** Where this is given, what is accepted is drawn as a band. */
  readonly accepted?: AcceptedTimes;
  readonly points?: readonly TimedPoint[];
}

/** Which curves, over which multiples. */
export interface CurveFigureOptions {
  readonly title: string;
  /** One or more, all of over or all of under functions. */
  readonly curves: readonly CurveToDraw[];
  /**
   * The multiples of the axis, above 0 for over functions. Default: over functions from where they start to 20, under
   * functions from 0 to where they start. Wider where points lie outside.
   */
  readonly multiples?: { readonly from: number; readonly to: number };
}

/**
 * Operate times over multiples of the setting, on logarithmic axes, with what is accepted and what was measured.
 *
 * Every point of a line is `operateTime`, every limit `timeBand` or `band`. Unless `multiples` say otherwise an inverse curve begins at
 * 1.1 times where it starts (under functions: ends at 0.95), since its time grows without bound towards the start. Under functions have a linear axis of multiples, which reaches 0. A limit that is
 * far away, or is none, leaves the panel.
 *
 * @returns A Vega-Lite specification: plain data, for any renderer.
 * @throws A {@link InputError} with the place of what is wrong; for over and under functions on one axis; for times of 0 s,
 * which a logarithmic axis cannot hold; for a curve that operates nowhere on the axis.
 * @source design of this library; colours: Okabe and Ito, Color Universal Design (2008)
 *
 * @example
 * import { curveFigure } from "tripwright/figure";
 * const figure = curveFigure({
 *   title: "51P of Tannery Lane",
 *   curves: [{
 *     name: "51P", setting: { curve: "iec-very-inverse", multiplier: 0.2 }, accepted: { percent: 5, absolute: 0.04 },
 *     points: [{ multiple: 3, time: 1.36, verdict: "within" }],
 *   }],
 * });
 * figure.layer.map(({ name }) => name); // → ["band 1", "limits 1", "curve 1", "reading labels rim", "readings 1 within", "sample 1", "names", "reading labels"]
 * figure.layer[4]?.data.values; // → [{ multiple: 3, time: 1.36 }]
 */
export function curveFigure(given: CurveFigureOptions): SingleFigure {
  const { title, curves, multiples } = options(given, ["title", "curves", "multiples"]);
  text(title, "title", "a title");
  if (!Array.isArray(curves) || curves.length === 0)
    fail(curves === undefined ? "missing" : "wrong-type", "curves", "a list of one curve or more", curves);
  const checked = [...curves].map((curve, i) => within(`curves[${i}]`, () => checkedCurve(curve)));
  const side = sideOf(checked);
  for (const [i, { points = [] }] of checked.entries())
    for (const [n, { multiple }] of points.entries())
      if (side === "over") above(multiple, 0, `curves[${i}].points[${n}].multiple`, "a multiple of the setting");
  const range = rangeOf(checked, side, multiples);
  const series = checked.map((curve, i) => within(`curves[${i}]`, () => seriesOf(curve, range, side)));
  const ends = [range.from, range.to];
  const panel = timePanel({
    field: "multiple",
    title: "Multiple of the setting",
    scale: side === "over" ? logScale(ends, true) : linearScale(ends, { exact: true }),
    series,
  });
  const points = checked.flatMap((curve) => curve.points ?? []);
  const key = [
    ...(points.some(({ verdict }) => verdict !== undefined) ? [VERDICT_KEY] : []),
    ...(points.some(({ time }) => time === undefined) ? ["▲ never operated"] : []),
  ];
  const subtitle = key.length > 0 ? [key.join(" · ")] : [];
  return single({ title, subtitle, description: `${title}. ${series.map(inWords).join(" ")}` }, panel);
}

function checkedCurve(curve: CurveToDraw): CurveToDraw {
  const { name, setting, points = [], accepted } = options(curve, ["name", "setting", "accepted", "points"]);
  text(name, "name", "the name of a curve");
  within("setting", () => curveSide(object(setting, "", "a setting { curve, multiplier }").curve));
  if (accepted !== undefined) object(accepted, "accepted", "a rule or a tolerance such as { percent: 5 }");
  if (!Array.isArray(points)) fail("wrong-type", "points", "a list of { multiple, time }", points);
  [...points].forEach((point: TimedPoint, i) => {
    within(`points[${i}]`, () => checkPoint(point));
  });
  return curve;
}

function checkPoint(point: TimedPoint): void {
  const { multiple, time, verdict, label } = options(point, ["multiple", "time", "verdict", "label"]);
  atLeast(multiple, 0, "multiple", "a multiple of the setting");
  if (time !== undefined) above(time, 0, "time", "an operate time", "s");
  checkVerdict(verdict, "verdict");
  if (label !== undefined) text(label, "label", "a label");
}

function seriesOf(
  { name, setting, accepted, points = [] }: CurveToDraw,
  { from, to, near }: CurveRange,
  side: Side,
): DrawnSeries {
  const ends =
    side === "over" ? ([Math.max(from, near(setting)), to] as const) : ([from, Math.min(to, near(setting))] as const);
  const all = [
    ...evenMultiples(ends, side === "over" ? "log" : "linear"),
    ...cornersOf(setting, accepted),
    ...points.map(({ multiple }) => multiple),
  ].filter((multiple) => multiple >= ends[0] && multiple <= ends[1]);
  const multiples = [...new Set(all)].sort((a, b) => a - b);
  const curve = within("setting", () => timesAt(setting, multiples));
  if (curve.length < 2)
    fail("out-of-range", "setting", `a curve that operates between ${from} and ${to} × the setting`, name);
  const band = accepted === undefined ? [] : within("accepted", () => bandsAt(setting, multiples, accepted));
  return {
    name,
    curve: curve.map(({ multiple, time }) => ({ at: multiple, time })),
    band: band.map(({ multiple, ...limits }) => ({ at: multiple, ...limits })),
    readings: points.map(({ multiple, time, verdict, label }) => ({
      at: multiple,
      ...(time !== undefined && { time }),
      verdict,
      label: label ?? (time === undefined ? "never" : `${Number(time.toPrecision(4))} s`),
    })),
  };
}

function inWords({ name, curve, readings }: DrawnSeries): string {
  const [first, last] = [curve[0], curve.at(-1)] as [DrawnSeries["curve"][number], DrawnSeries["curve"][number]];
  const short = (x: number) => Number(x.toPrecision(4));
  const line = `${name}: ${short(first.time)} s at ${short(first.at)} times the setting, ${short(last.time)} s at ${short(last.at)} times.`;
  const measured = readings.map(
    ({ at, time, verdict }) =>
      `${time === undefined ? "never operated" : `${short(time)} s`} at ${short(at)} times${verdict === undefined ? "" : `, ${verdict}`}`,
  );
  return measured.length === 0 ? line : `${line} Measured: ${measured.join("; ")}.`;
}
