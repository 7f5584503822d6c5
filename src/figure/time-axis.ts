/** Panels over one axis of time: courses of quantities, the states they pass through, and what contacts did. */
import type { Seconds } from "../base/units.js";
import { LINE, spread } from "./labels.js";
import { ink, plainText, soft, styleOf } from "./look.js";
import { labelLayers, lineLayer, ruleLayer, textLayer } from "./marks.js";
import { angleStepFor, extentOf, linearScale, pixelOf, positionOn, type Scale, valueAtPixel } from "./scale.js";
import type { FigureLayer, FigureRow, FigureView } from "./specification.js";
import { type DrawnState, MOST_STATES, type StateName } from "./state-names.js";

/** A quantity over time; each `run` is a line of its own. */
export interface Course {
  readonly name: string;
  readonly points: readonly { readonly time: Seconds; readonly value: number; readonly run: number }[];
}

/** What all panels of a figure share. */
export interface TimeBase {
  readonly scale: Scale;
  readonly states: readonly DrawnState[];
  readonly names: readonly StateName[];
  /** Instants at which contacts changed. */
  readonly instants: readonly Seconds[];
}

/** One panel. */
export interface CoursePanel {
  readonly name: string;
  /** The quantity with its unit. */
  readonly title: string;
  readonly courses: readonly Course[];
  readonly height: number;
  /** Rms values: the axis begins at 0 where they are far apart. */
  readonly isMagnitude?: boolean;
  /** A level that counts, such as a threshold. */
  readonly level?: number;
  /** The first panel names the states, the last one the axis of time. */
  readonly isFirst: boolean;
  readonly isLast: boolean;
}

export const WIDTH = 600;
/** All panels leave the same room on the left, so that they stand under one another. */
const EXTENT = { minExtent: 44, maxExtent: 44 };

/** The horizontal axis; only the last panel names it. */
export const timeAxis = ({ scale }: TimeBase, isLast: boolean) =>
  positionOn(scale, { title: isLast ? "Time (s)" : "", across: WIDTH, more: isLast ? {} : { labels: false } });

/** Courses with their names at the right, where each ends. */
export function coursePanel(
  { name, title, courses, height, isMagnitude = false, level, isFirst, isLast }: CoursePanel,
  base: TimeBase,
): FigureView {
  const values = [
    ...courses.flatMap(({ points }) => points.map(({ value }) => value)),
    ...(level === undefined ? [] : [level]),
  ];
  const how = { count: Math.max(3, height / 30), ...(name === "angle" && { steps: angleStepFor }) };
  const scale = isMagnitude ? magnitudeScale(values, how) : linearScale(values, how);
  const [x, y] = [timeAxis(base, isLast), positionOn(scale, { title, more: EXTENT })];
  const on = { x: x("time"), y: y("value") };
  return {
    name,
    width: WIDTH,
    height,
    layer: [
      ...boundaries(base, scale, isFirst, on),
      ...(level === undefined ? [] : levelLayers({ level, unit: UNITS[name] ?? "" }, base, on)),
      ...courses.map(({ points }, i) =>
        lineLayer(`course ${i + 1}`, points.map(asRow), on, { ...styleOf(i), strokeJoin: "miter" }),
      ),
      ...courseNames(courses, base, { scale, height, on }),
    ],
  };
}

/** From 0 where values are far apart, else with room below the lowest: no line runs along the foot of its panel unseen. */
function magnitudeScale(values: readonly number[], how: { readonly count: number }): Scale {
  const [low, high] = extentOf(values);
  if (low < high / 2) return linearScale([0, ...values], how);
  const scale = linearScale(values, how);
  const [first = 0, second = 0] = scale.ticks;
  return scale.domain[0] < low ? scale : linearScale([Math.max(0, low - (second - first)), ...values], how);
}

/** By the name of a panel. */
const UNITS: Readonly<Record<string, string>> = { voltage: " V", current: " A", frequency: " Hz", angle: "°" };

interface Level {
  readonly level: number;
  readonly unit: string;
}

/** A rule across the panel, with what it is. */
function levelLayers({ level, unit }: Level, { scale: { domain } }: TimeBase, on: On): FigureLayer[] {
  const row = { time: domain[0], value: level };
  return [
    ruleLayer(
      "threshold",
      [{ ...row, to: domain[1] }],
      { ...on, x2: { field: "to" } },
      { color: ink, strokeDash: [9, 3, 2, 3], strokeWidth: 1.2 },
    ),
    ...labelLayers("threshold label", [{ ...row, label: `threshold ${Number(level.toPrecision(6))}${unit}` }], on, {
      dx: 4,
      dy: -8,
    }),
  ];
}

const asRow = ({ time, value, run }: Course["points"][number]): FigureRow => ({ time, value, run });

type On = { readonly x: FigureLayer["encoding"][string]; readonly y: FigureLayer["encoding"][string] };

/** Where states begin, which of them is which, and when contacts changed. */
export function boundaries({ states, names, instants }: TimeBase, scale: Scale, named: boolean, on: On): FigureLayer[] {
  const [bottom, top] = scale.domain;
  const upright = (times: readonly Seconds[]): FigureRow[] => times.map((at) => ({ time: at, value: bottom, top }));
  const starts = states.slice(1).map(({ startedAt }) => startedAt);
  const columns = { ...on, y2: { field: "top" } };
  const rows = (row: StateName["row"]) =>
    named ? names.filter((name) => name.row === row).map(({ time, label }) => ({ time, value: top, label })) : [];
  const look = { align: "center", baseline: "bottom", color: soft };
  return [
    ruleLayer("states", upright(states.length > MOST_STATES ? [] : starts), columns, {
      color: soft,
      strokeDash: [2, 2],
    }),
    ruleLayer("contacts", upright(instants), columns, { color: ink, strokeDash: [7, 4] }),
    textLayer("state names", rows(0), on, { ...look, dy: -5 }),
    textLayer("state names above", rows(1), on, { ...look, dy: -5 - LINE }),
  ];
}

interface Placing {
  readonly scale: Scale;
  readonly height: number;
  readonly on: On;
}

/** At the right of the panel, each beside a piece of its line. */
function courseNames(
  courses: readonly Course[],
  { scale: time }: TimeBase,
  { scale, height, on }: Placing,
): FigureLayer[] {
  const ends = courses.map(({ points }) => pixelOf(scale, points.at(-1)?.value ?? scale.domain[0], height));
  const heights = spread(ends, height).map((pixel) => valueAtPixel(scale, pixel, height));
  const [from, to, text] = [8, 36, 42].map((pixel) => valueAtPixel(time, WIDTH + pixel, WIDTH)) as [
    number,
    number,
    number,
  ];
  return [
    ...courses.map((_, i) =>
      ruleLayer(
        `sample ${i + 1}`,
        [{ time: from, to, value: heights[i] as number }],
        { ...on, x2: { field: "to" } },
        { ...styleOf(i) },
      ),
    ),
    textLayer(
      "names",
      courses.map(({ name }, i) => ({ time: text, value: heights[i] as number, label: plainText(name) })),
      on,
    ),
  ];
}

/** Courses that are the same are drawn once, under all their names. */
export function together(courses: readonly Course[]): Course[] {
  const groups = new Map<string, Course>();
  for (const { name, points } of courses) {
    const key = JSON.stringify(points);
    const same = groups.get(key);
    groups.set(key, same === undefined ? { name, points } : { ...same, name: `${same.name}, ${name}` });
  }
  return [...groups.values()];
}
