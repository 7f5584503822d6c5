/** Waves over one axis of time: voltages and currents in panels of their own, under the states they pass through. */
import { fail } from "../base/check.js";
import type { Hertz, Seconds } from "../base/units.js";
import { stacked } from "./look.js";
import { linearScale } from "./scale.js";
import type { StackedFigure } from "./specification.js";
import { type DrawnState, stateNames } from "./state-names.js";
import { type Course, coursePanel, type TimeBase, WIDTH } from "./time-axis.js";

/** More samples than this are no picture any more. */
export const MOST_SAMPLES = 20_000;

/** From when to when. */
export interface Window {
  readonly from: Seconds;
  readonly to: Seconds;
}

/** The quantities that have a panel. */
export type WaveQuantity = "voltage" | "current";

/** One wave, as far as the window shows it. */
export interface Wave {
  readonly quantity: WaveQuantity;
  readonly course: Course;
}

/** What is drawn. */
export interface Waves {
  readonly title: string;
  readonly window: Window;
  /** All states; those outside the window are left out. */
  readonly states: readonly DrawnState[];
  readonly waves: readonly Wave[];
}

const TITLES = { voltage: "Voltage (V)", current: "Current (A)" } as const;

/** The figure of some waves. */
export function wavesFigure({ title, window, states, waves }: Waves): StackedFigure {
  const scale = linearScale([window.from, window.to], { exact: true, count: 10 });
  const seen = statesIn(states, window);
  const { names, list } = stateNames(seen, scale, WIDTH);
  const base: TimeBase = { scale, states: seen, names, instants: [] };
  const kinds = (["voltage", "current"] as const).filter((kind) => waves.some(({ quantity }) => quantity === kind));
  const views = kinds.map((kind, i) => {
    const courses = waves.filter(({ quantity }) => quantity === kind).map(({ course }) => course);
    const place = { height: 180, isFirst: i === 0, isLast: i === kinds.length - 1 };
    return coursePanel({ name: kind, title: TITLES[kind], courses, ...place }, base);
  });
  return stacked({ title, subtitle: list, description: `${title}. ${inWords(waves, window, seen)}` }, views);
}

/** A window must hold something to draw, and no more than a picture can show. */
export function checkSamples({ waves }: Pick<Waves, "waves">, sampleRate: Hertz, { to }: Window): void {
  if (waves.every(({ course }) => course.points.length >= 2)) return;
  const shortest = `${Number((2 / sampleRate).toPrecision(4))} s`;
  fail("out-of-range", "to", `a window of ${shortest} or more, so that it holds 2 samples at ${sampleRate} Hz`, to);
}

/** Refused before it is made. */
export function checkCount(count: number): void {
  if (count > MOST_SAMPLES)
    fail("too-many", "to", `a window of at most ${MOST_SAMPLES} samples`, `${Math.ceil(count)} samples`);
}

/** The states that a window shows, as far as it shows them. */
export const statesIn = (states: readonly DrawnState[], { from, to }: Window): DrawnState[] =>
  states
    .map(({ name, startedAt, endedAt }) => ({
      name,
      startedAt: Math.max(startedAt, from),
      endedAt: Math.min(endedAt, to),
    }))
    .filter(({ startedAt, endedAt }) => endedAt > startedAt);

function inWords(waves: readonly Wave[], { from, to }: Window, states: readonly DrawnState[]): string {
  const drawn = waves.map(({ course: { name, points } }) => {
    const values = points.map(({ value }) => value);
    return `${name} from ${short(from)} to ${short(to)} s, between ${short(Math.min(...values))} and ${short(Math.max(...values))}`;
  });
  const changes = states.slice(1).map(({ name, startedAt }) => `${name} begins at ${short(startedAt)} s`);
  return `${[...drawn, ...changes].join("; ")}.`;
}

const short = (x: number): number => Number(x.toPrecision(4));
