/** Curves, bands and readings on an axis of times; shared by multiples and primary currents. */
import type { Seconds } from "../base/units.js";
import type { Anchor, Box } from "./labels.js";
import { labelRows, markAt, type Pixel, placeLabels, spread } from "./labels.js";
import { plainText, styleOf } from "./look.js";
import {
  areaLayer,
  lineLayer,
  type PointVerdict,
  pointLayer,
  type RimmedText,
  rimmedText,
  ruleLayer,
  textLayer,
  verdictLayers,
} from "./marks.js";
import { extentOf, logScale, pixelOf, positionOn, type Scale, valueAtPixel } from "./scale.js";
import type { FigureLayer, FigureRow, FigureView, JsonValue } from "./specification.js";

/** A reading beside a curve. */
export interface DrawnReading {
  readonly at: number;
  /** Absent: it never operated. */
  readonly time?: Seconds;
  readonly verdict: PointVerdict | undefined;
  /** Empty: none. */
  readonly label: string;
}

/** One curve with everything that belongs to it. */
export interface DrawnSeries {
  readonly name: string;
  readonly curve: readonly { readonly at: number; readonly time: Seconds }[];
  readonly band: readonly { readonly at: number; readonly low?: Seconds; readonly high?: Seconds }[];
  readonly readings: readonly DrawnReading[];
}

/** Where the series are drawn. */
export interface TimePanel {
  /** The field under which places on the horizontal axis stand in the rows. */
  readonly field: "multiple" | "current";
  readonly title: string;
  readonly scale: Scale;
  readonly series: readonly DrawnSeries[];
  /** More layers, given the channels of both axes and the scale of times. */
  readonly more?: (axes: TimeAxes) => readonly FigureLayer[];
}

/** The axes of a panel of times. */
export interface TimeAxes {
  readonly x: (field: string) => { readonly [name: string]: JsonValue };
  readonly y: (field: string) => { readonly [name: string]: JsonValue };
  readonly times: Scale;
}

export const WIDTH = 560;
export const HEIGHT = 400;

/** The whole panel. */
export function timePanel({ field, title, scale, series, more = () => [] }: TimePanel): FigureView {
  const times = scaleOfTimes(series);
  const axes = {
    x: positionOn(scale, { title, across: WIDTH }),
    y: positionOn(times, { title: "Operate time (s)" }),
    times,
  };
  const panel = { ...axes, field, scale };
  const labels = readingLabels(series, panel);
  return {
    name: "times",
    width: WIDTH,
    height: HEIGHT,
    layer: [
      ...series.flatMap((one, i) => bandLayers(one, i, panel)),
      ...series.map((one, i) => curveLayer(one, i, panel)),
      ...more(axes),
      labels.rim,
      ...series.flatMap((one, i) => readingLayers(one, i, panel)),
      ...nameLayers(series, panel),
      labels.text,
    ],
  };
}

/** The axis of times for these curves, bands and readings. */
export const scaleOfTimes = (series: readonly DrawnSeries[]): Scale => logScale(series.flatMap(timesOf));

interface Panel extends TimeAxes {
  readonly field: string;
  readonly scale: Scale;
}

/** The times that an axis must hold. The edge of a band may be far away near a start; there the band leaves the panel. */
function timesOf({ curve, band, readings }: DrawnSeries): Seconds[] {
  const sure = [...curve.map(({ time }) => time), ...readings.flatMap(({ time }) => time ?? [])];
  const [low, high] = extentOf(sure);
  const edges = band.flatMap((edge) => [edge.low ?? high, edge.high ?? low]);
  return [...sure, ...edges.filter((edge) => edge > low / 3 && edge < high * 3)];
}

function bandLayers({ band }: DrawnSeries, i: number, { x, y, times, field }: Panel): FigureLayer[] {
  const { color } = styleOf(i);
  const [bottom, top] = times.domain;
  const inside = (time: Seconds) => Math.min(Math.max(time, bottom), top);
  const areas = band.map(({ at, low = bottom, high = top }) => ({ [field]: at, low: inside(low), high: inside(high) }));
  const edges = (["low", "high"] as const).flatMap((side) => edgeRows(band, side, times.domain, field));
  return [
    areaLayer(`band ${i + 1}`, areas, { x: x(field), y: y("low"), y2: { field: "high" } }, { color }),
    lineLayer(`limits ${i + 1}`, edges, { x: x(field), y: y("time") }, { color, strokeWidth: 0.8 }),
  ];
}

/** The limits on one side that lie in the panel; where they leave it, the line ends, and another begins where they come back. */
function edgeRows(
  band: DrawnSeries["band"],
  side: "low" | "high",
  [bottom, top]: readonly [Seconds, Seconds],
  field: string,
): FigureRow[] {
  let gaps = 0;
  return band.flatMap(({ at, [side]: time }) => {
    const isIn = time !== undefined && time >= bottom && time <= top;
    if (!isIn) gaps++;
    return isIn ? [{ [field]: at, time, side, run: `${side} ${gaps}` }] : [];
  });
}

const curveLayer = ({ curve }: DrawnSeries, i: number, { x, y, field }: Panel): FigureLayer =>
  lineLayer(
    `curve ${i + 1}`,
    curve.map(({ at, time }) => ({ [field]: at, time })),
    { x: x(field), y: y("time") },
    { ...styleOf(i) },
  );

/** A relay that never operated has no time: an arrow at the top of the panel, and below it the mark of its verdict. */
function readingLayers({ readings }: DrawnSeries, i: number, { x, y, times, field }: Panel): FigureLayer[] {
  const on = { x: x(field), y: y("time") };
  const points = readings.flatMap(({ at, time, verdict }) =>
    time === undefined ? [] : [{ row: { [field]: at, time }, verdict }],
  );
  const never = readings
    .filter(({ time }) => time === undefined)
    .map(({ at, verdict }) => ({ row: { [field]: at, time: times.domain[1] }, verdict }));
  const judged = never.filter(({ verdict }) => verdict !== undefined);
  return [
    ...verdictLayers(`readings ${i + 1}`, points, on),
    ...verdictLayers(`never ${i + 1}`, judged, on, { yOffset: BELOW }),
    pointLayer(
      `never ${i + 1}`,
      never.map(({ row }) => row),
      on,
      { shape: "triangle-up", size: 110 },
    ),
  ];
}

/** How far below its arrow the mark of a verdict stands, in pixels. */
const BELOW = 15;

/** Each curve is named where it ends, on the right of the panel, beside a piece of its line. */
function nameLayers(series: readonly DrawnSeries[], { x, y, times, scale, field }: Panel): FigureLayer[] {
  const ends = series.map(({ curve }) => curve.at(-1) as { at: number; time: Seconds });
  const heights = spread(
    ends.map(({ time }) => pixelOf(times, time, HEIGHT)),
    HEIGHT,
  );
  const [from, to, text] = [8, 36, 42].map((pixel) => valueAtPixel(scale, WIDTH + pixel, WIDTH)) as [
    number,
    number,
    number,
  ];
  const on = { x: x(field), y: y("time") };
  const height = (i: number) => valueAtPixel(times, heights[i] as number, HEIGHT);
  const names = series.map(({ name }, i) => ({ [field]: text, time: height(i), label: plainText(name) }));
  return [
    ...series.map((_, i) =>
      ruleLayer(
        `sample ${i + 1}`,
        [{ [field]: from, to, time: height(i) }],
        { ...on, x2: { field: "to" } },
        { ...styleOf(i) },
      ),
    ),
    textLayer("names", names, on),
  ];
}

/** The names on the right of the panel, which no other label may cover. */
export const besidePanel: Box = {
  left: WIDTH + 2,
  right: Number.POSITIVE_INFINITY,
  low: Number.NEGATIVE_INFINITY,
  high: Number.POSITIVE_INFINITY,
};

/** Where curves and the edges of bands run, in pixels. */
export function linesOf(series: readonly DrawnSeries[], scale: Scale, times: Scale): Pixel[] {
  const pixel = (at: number, time: Seconds) => ({ x: pixelOf(scale, at, WIDTH), y: pixelOf(times, time, HEIGHT) });
  return series.flatMap(({ curve, band }) => [
    ...curve.map(({ at, time }) => pixel(at, time)),
    ...band.flatMap(({ at, low, high }) =>
      [low, high].flatMap((edge) => (edge === undefined || edge <= 0 ? [] : pixel(at, edge))),
    ),
  ]);
}

function readingLabels(series: readonly DrawnSeries[], { x, y, times, scale, field }: Panel): RimmedText {
  const pixel = (at: number, time: Seconds) => ({ x: pixelOf(scale, at, WIDTH), y: pixelOf(times, time, HEIGHT) });
  const readings = series.flatMap((one) => one.readings);
  const marks = readings.flatMap(({ at, time, verdict }) => {
    if (time !== undefined) return [pixel(at, time)];
    const arrow = pixel(at, times.domain[1]);
    return verdict === undefined ? [arrow] : [arrow, { ...arrow, y: arrow.y - BELOW }];
  });
  const anchors: Anchor[] = readings
    .filter(({ label }) => label !== "")
    .map(({ at, time = times.domain[1], label, verdict }) => ({
      ...pixel(at, time),
      text: plainText(label),
      isUrgent: verdict === "outside",
    }));
  const places = placeLabels(anchors, {
    width: WIDTH,
    height: HEIGHT,
    avoid: linesOf(series, scale, times),
    blocked: [...marks.map(markAt), besidePanel],
  });
  const rows = labelRows(anchors, places, (place) => ({
    [field]: valueAtPixel(scale, place.x, WIDTH),
    time: valueAtPixel(times, place.y, HEIGHT),
  }));
  return rimmedText("reading labels", rows, { x: x(field), y: y("time") });
}
