import { fail, finite, object, options, text } from "../base/check.js";
import { within } from "../base/input-error.js";
import { type Anchor, labelRows, placeLabels } from "./labels.js";
import { ink, plainText, single, styleOf } from "./look.js";
import {
  checkVerdict,
  lineLayer,
  type PointVerdict,
  type RimmedText,
  rimmedText,
  ruleLayer,
  VERDICT_KEY,
  verdictLayers,
} from "./marks.js";
import { frameFor, type PlaneFrame } from "./plane-frame.js";
import { extentOf, pixelOf, positionOn, valueAtPixel } from "./scale.js";
import type { FigureLayer, SingleFigure } from "./specification.js";

/** A place in a plane. */
export interface PlanePlace {
  readonly x: number;
  readonly y: number;
}

/** A boundary through its points in their order. */
export interface Outline {
  readonly name: string;
  /** Two or more. */
  readonly points: readonly PlanePlace[];
  /** A boundary that ends where its last point is; otherwise it goes back to the first and is filled. */
  readonly open?: true;
}

/** A point with its name, such as what was injected. */
export interface NamedPoint extends PlanePlace {
  readonly name: string;
  readonly verdict?: PointVerdict;
}

/** What an axis of a plane shows. */
export interface PlaneAxis {
  readonly quantity: string;
  /** Empty for a ratio. */
  readonly unit: string;
}

/** What is drawn in a plane. */
export interface PlaneFigureOptions {
  readonly title: string;
  readonly axes: { readonly x: PlaneAxis; readonly y: PlaneAxis };
  readonly outlines?: readonly Outline[];
  readonly points?: readonly NamedPoint[];
  /** One unit is as long on both axes, so that circles are round and angles right. Default false. */
  readonly equal?: boolean;
}

/**
 * A plane with boundaries and named points: zones in the plane of impedances, the boundary in the plane of operating over
 * restraining quantity, or any other. Both axes go through the origin.
 *
 * @returns A Vega-Lite specification.
 * @throws A {@link InputError} for coordinates that are not finite, outlines with less than two points, and a plane without
 * anything in it.
 * @source design of this library
 *
 * @example
 * import { planeFigure } from "tripwright/figure";
 * const figure = planeFigure({
 *   title: "87T", axes: { x: { quantity: "Restraining current", unit: "× rated" }, y: { quantity: "Operating current", unit: "× rated" } },
 *   outlines: [{ name: "boundary", open: true, points: [{ x: 0, y: 0.2 }, { x: 0.8, y: 0.2 }, { x: 6, y: 1.5 }] }],
 *   points: [{ name: "pickup", x: 0.1, y: 0.2 }],
 * });
 * figure.description; // → "87T. Operating current (× rated) over Restraining current (× rated). boundary: (0, 0.2), (0.8, 0.2), (6, 1.5). pickup at (0.1, 0.2)."
 */
export function planeFigure(given: PlaneFigureOptions): SingleFigure {
  const {
    title,
    axes,
    outlines = [],
    points = [],
    equal = false,
  } = options(given, ["title", "axes", "outlines", "points", "equal"]);
  text(title, "title", "a title");
  object(axes, "axes", "two axes { x, y }");
  for (const name of ["x", "y"] as const) within(`axes.${name}`, () => checkAxis(axes[name]));
  if (!Array.isArray(outlines)) fail("wrong-type", "outlines", "a list of outlines", outlines);
  if (!Array.isArray(points)) fail("wrong-type", "points", "a list of points", points);
  [...outlines].forEach((outline: Outline, i) => {
    within(`outlines[${i}]`, () => checkOutline(outline));
  });
  [...points].forEach((point: NamedPoint, i) => {
    within(`points[${i}]`, () => checkPoint(point));
  });
  const places = [...outlines.flatMap((outline: Outline) => outline.points), ...points];
  if (places.length === 0) fail("missing", "outlines", "an outline or a point to draw", outlines);
  const frame = frameFor(places, equal);
  const verdicts = points.some(({ verdict }: NamedPoint) => verdict !== undefined);
  const titles = { x: titleOf(axes.x), y: titleOf(axes.y) };
  const inWords = wordsFor(places);
  const words = [...outlines.map(inWords.outline), ...points.map(inWords.point)].join(" ");
  return single(
    {
      title,
      subtitle: verdicts ? [VERDICT_KEY] : [],
      description: `${title}. ${titles.y} over ${titles.x}. ${words}`,
    },
    {
      name: "plane",
      width: frame.width,
      height: frame.height,
      layer: layersOf(outlines, points, { ...frame, on: channelsOf(frame, titles) }),
    },
  );
}

function checkAxis(axis: PlaneAxis): void {
  const { quantity, unit } = options(axis, ["quantity", "unit"]);
  text(quantity, "quantity", "the quantity on the axis");
  text(unit, "unit", "its unit");
}

function checkOutline(outline: Outline): void {
  const { name, points } = options(outline, ["name", "points", "open"]);
  text(name, "name", "the name of an outline");
  if (!Array.isArray(points) || points.length < 2)
    fail(points === undefined ? "missing" : "wrong-length", "points", "a list of two points { x, y } or more", points);
  [...points].forEach((place: PlanePlace, i) => {
    within(`points[${i}]`, () => checkPlace(place));
  });
}

function checkPoint(point: NamedPoint): void {
  const { name, verdict } = options(point, ["name", "x", "y", "verdict"]);
  text(name, "name", "the name of a point");
  checkPlace(point);
  checkVerdict(verdict, "verdict");
}

function checkPlace(place: PlanePlace): void {
  const { x, y } = object(place, "", "a place { x, y }");
  finite(x, "x", "a coordinate");
  finite(y, "y", "a coordinate");
}

interface Drawing extends PlaneFrame {
  readonly on: { readonly x: FigureLayer["encoding"][string]; readonly y: FigureLayer["encoding"][string] };
}

const titleOf = ({ quantity, unit }: PlaneAxis): string =>
  plainText(unit.trim() === "" ? quantity : `${quantity} (${unit})`);

const channelsOf = (
  { across, up, width }: PlaneFrame,
  titles: { readonly x: string; readonly y: string },
): Drawing["on"] => ({
  x: positionOn(across, { title: titles.x, across: width })("x"),
  y: positionOn(up, { title: titles.y })("y"),
});

function layersOf(outlines: readonly Outline[], points: readonly NamedPoint[], drawing: Drawing): FigureLayer[] {
  const { on, across, up } = drawing;
  const [[left, right], [bottom, top]] = [across.domain, up.domain];
  const drawn = points.map(({ x, y, verdict }) => ({ row: { x: x + 0, y: y + 0 }, verdict }));
  const names = namesOf(outlines, points, drawing);
  return [
    ruleLayer("axis across", [{ x: left, y: 0, to: right }], { ...on, x2: { field: "to" } }, { color: ink }),
    ruleLayer("axis up", [{ x: 0, y: bottom, to: top }], { ...on, y2: { field: "to" } }, { color: ink }),
    ...outlines.map((outline, i) => outlineLayer(outline, i, on)),
    names.outlines.rim,
    names.points.rim,
    ...verdictLayers("points", drawn, on),
    names.points.text,
    names.outlines.text,
  ];
}

function outlineLayer({ points, open }: Outline, i: number, on: Drawing["on"]): FigureLayer {
  const rows = points.map(({ x, y }) => ({ x: x + 0, y: y + 0 }));
  const style = styleOf(i);
  if (open) return lineLayer(`outline ${i + 1}`, rows, on, { ...style });
  const closed = [...rows, rows[0] as (typeof rows)[number]];
  return lineLayer(`outline ${i + 1}`, closed, on, { ...style, fill: style.color, fillOpacity: 0.07 });
}

/** Points are named beside them, outlines where they reach highest. */
function namesOf(
  outlines: readonly Outline[],
  points: readonly NamedPoint[],
  drawing: Drawing,
): { readonly points: RimmedText; readonly outlines: RimmedText } {
  const { across, up, width, height, on } = drawing;
  const pixel = ({ x, y }: PlanePlace) => ({ x: pixelOf(across, x, width), y: pixelOf(up, y, height) });
  const highest = ({ points: places }: Outline) =>
    places.reduce((best, place) => (place.y > best.y || (place.y === best.y && place.x > best.x) ? place : best));
  const anchors: Anchor[] = [
    ...points.map((point) => ({
      ...pixel(point),
      text: plainText(point.name),
      isUrgent: point.verdict === "outside",
    })),
    ...outlines.map((outline) => ({ ...pixel(highest(outline)), text: plainText(outline.name), isBold: true })),
  ];
  const avoid = outlines.flatMap(({ points: places, open }) =>
    places.flatMap((from, i) => {
      const to = places[i + 1] ?? (open ? from : (places[0] as PlanePlace));
      const [start, end] = [pixel(from), pixel(to)];
      return Array.from({ length: 12 }, (_, n) => ({
        x: start.x + ((end.x - start.x) * n) / 12,
        y: start.y + ((end.y - start.y) * n) / 12,
      }));
    }),
  );
  const places = placeLabels(anchors, { width, height, avoid });
  const rowsOf = (from: number, to: number) =>
    labelRows(anchors.slice(from, to), places.slice(from, to), (place) => ({
      x: valueAtPixel(across, place.x, width),
      y: valueAtPixel(up, place.y, height),
    }));
  return {
    points: rimmedText("point names", rowsOf(0, points.length), on),
    outlines: rimmedText("outline names", rowsOf(points.length, anchors.length), on, { fontWeight: "bold" }),
  };
}

/** Places in words, without the rest that rounding leaves where a computed coordinate should be 0. */
function wordsFor(places: readonly PlanePlace[]) {
  const sizes = {
    x: extentOf(places.map(({ x }) => Math.abs(x)))[1],
    y: extentOf(places.map(({ y }) => Math.abs(y)))[1],
  };
  const short = (value: number, size: number): number =>
    Math.abs(value) < DUST * size ? 0 : Number(value.toPrecision(4));
  const inWords = ({ x, y }: PlanePlace): string => `(${short(x, sizes.x)}, ${short(y, sizes.y)})`;
  return {
    outline({ name, points }: Outline): string {
      const shown = points.length > 8 ? [...points.slice(0, 7), points.at(-1) as PlanePlace] : points;
      const more = points.length > 8 ? `, ${points.length - 8} points between the last two` : "";
      return `${name}: ${shown.map(inWords).join(", ")}${more}.`;
    },
    point: ({ name, verdict, ...place }: NamedPoint): string =>
      `${name} at ${inWords(place)}${verdict === undefined ? "" : `, ${verdict}`}.`,
  };
}

/** A coordinate below this part of the largest one is what rounding left of 0. */
const DUST = 1e-12;
