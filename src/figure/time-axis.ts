/** Panels over one axis of time: courses of quantities, the states they pass through, and what contacts did. */
import type { Seconds } from "../base/units.js";
import { spread, widthOf } from "./labels.js";
import { ink, plainText, soft, styleOf } from "./look.js";
import { lineLayer, ruleLayer, textLayer } from "./marks.js";
import { angleStepFor, linearScale, pixelOf, positionOn, type Scale, valueAtPixel } from "./scale.js";
import type { FigureLayer, FigureRow, FigureView } from "./specification.js";

/** A quantity over time; each `run` is a line of its own. */
export interface Course {
  readonly name: string;
  readonly points: readonly { readonly time: Seconds; readonly value: number; readonly run: number }[];
}

/** A state of the sequence. */
export interface DrawnState {
  readonly name: string;
  readonly startedAt: Seconds;
  readonly endedAt: Seconds;
}

/** What all panels of a figure share. */
export interface TimeBase {
  readonly scale: Scale;
  readonly states: readonly DrawnState[];
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
  /** The first panel names the states, the last one the axis of time. */
  readonly isFirst: boolean;
  readonly isLast: boolean;
}

export const WIDTH = 600;
/** Beyond so many states their boundaries would hide what is drawn. */
const MOST_BOUNDARIES = 30;
/** All panels leave the same room on the left, so that they stand under one another. */
const EXTENT = { minExtent: 44, maxExtent: 44 };

/** The horizontal axis; only the last panel names it. */
export const timeAxis = ({ scale }: TimeBase, isLast: boolean) =>
  positionOn(scale, { title: isLast ? "Time (s)" : "", more: isLast ? {} : { labels: false } });

/** Courses with their names at the right, where each ends. */
export function coursePanel(
  { name, title, courses, height, isFirst, isLast }: CoursePanel,
  base: TimeBase,
): FigureView {
  const values = courses.flatMap(({ points }) => points.map(({ value }) => value));
  const scale = linearScale(values, {
    count: Math.max(3, height / 30),
    ...(name === "angle" && { steps: angleStepFor }),
  });
  const [x, y] = [timeAxis(base, isLast), positionOn(scale, { title, more: EXTENT })];
  const on = { x: x("time"), y: y("value") };
  return {
    name,
    width: WIDTH,
    height,
    layer: [
      ...boundaries(base, scale, isFirst, on),
      ...courses.map(({ points }, i) =>
        lineLayer(`course ${i + 1}`, points.map(asRow), on, { ...styleOf(i), strokeJoin: "miter" }),
      ),
      ...courseNames(courses, base, { scale, height, on }),
    ],
  };
}

const asRow = ({ time, value, run }: Course["points"][number]): FigureRow => ({ time, value, run });

type On = { readonly x: FigureLayer["encoding"][string]; readonly y: FigureLayer["encoding"][string] };

/** Where states begin, which of them is which, and when contacts changed. */
export function boundaries(
  { scale: time, states, instants }: TimeBase,
  scale: Scale,
  named: boolean,
  on: On,
): FigureLayer[] {
  const [bottom, top] = scale.domain;
  const upright = (times: readonly Seconds[]): FigureRow[] => times.map((at) => ({ time: at, value: bottom, top }));
  const starts = states.slice(1).map(({ startedAt }) => startedAt);
  const columns = { ...on, y2: { field: "top" } };
  const names = states.flatMap(({ name, startedAt, endedAt }) => {
    const wide = pixelOf(time, endedAt, WIDTH) - pixelOf(time, startedAt, WIDTH);
    const label = plainText(name);
    return widthOf(label) + 6 < wide ? [{ time: (startedAt + endedAt) / 2, value: top, label }] : [];
  });
  return [
    ruleLayer("states", upright(starts.length > MOST_BOUNDARIES ? [] : starts), columns, {
      color: soft,
      strokeDash: [2, 2],
    }),
    ruleLayer("contacts", upright(instants), columns, { color: ink, strokeDash: [7, 4] }),
    textLayer("state names", named ? names : [], on, { align: "center", baseline: "bottom", dy: -5, color: soft }),
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
        { ...styleOf(i), strokeWidth: 2 },
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
