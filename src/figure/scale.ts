/** Axes on which a value can be read off: domains that end on round numbers, ticks at 1, 2 and 5. */
import { fail } from "../base/check.js";
import { widthOf } from "./labels.js";
import type { JsonValue } from "./specification.js";

/** An axis from one value to another. */
export interface Scale {
  readonly type: "linear" | "log";
  readonly domain: readonly [number, number];
  readonly ticks: readonly number[];
  /** The ticks that carry a number; the others only have a line. */
  readonly labelled: readonly number[];
}

/** Smallest and largest. */
export const extentOf = (values: readonly number[]): readonly [number, number] => [
  values.reduce((a, b) => Math.min(a, b), Number.POSITIVE_INFINITY),
  values.reduce((a, b) => Math.max(a, b), Number.NEGATIVE_INFINITY),
];

/** m · 10^e as the decimal that a person would type. */
const decade = (mantissa: number, exponent: number): number => Number(`${mantissa}e${exponent}`);

/** All m · 10^e from low to high, of these mantissas. */
function steps([low, high]: readonly [number, number], mantissas: readonly number[]): number[] {
  const [first, last] = [Math.floor(Math.log10(low)) - 1, Math.ceil(Math.log10(high)) + 1];
  const exponents = Array.from({ length: last - first + 1 }, (_, i) => first + i);
  return exponents
    .flatMap((exponent) => mantissas.map((mantissa) => decade(mantissa, exponent)))
    .filter((tick) => tick >= low && tick <= high);
}

/** More numbers than these do not fit beside one another. */
const MOST_DECADES = 8;
const FINE = [1, 2, 3, 4, 5, 6, 7, 8, 9];
const ROUND = [1, 2, 5];

/** A logarithmic axis over these values, all above 0. `exact` keeps its ends where they are. */
export function logScale(values: readonly number[], exact = false): Scale {
  const given = extentOf(values);
  if (!(given[0] > TINY && given[1] < HUGE)) failRange(given);
  const domain = exact && given[0] < given[1] ? given : rounded(given);
  const [low, high] = domain;
  if (high / low < 4) return { type: "log", domain, ...evenTicks(domain) };
  if (high / low > 1e6) {
    const decades = steps(domain, [1]);
    const every = Math.ceil(decades.length / MOST_DECADES);
    return { type: "log", domain, ticks: decades, labelled: decades.filter((_, i) => i % every === 0) };
  }
  const labelled = steps(domain, ROUND);
  const ticks = steps(domain, FINE);
  return { type: "log", domain, ticks, labelled: labelled.length < 3 ? ticks : labelled };
}

/** The next of 1, 2, 5 on either side. */
function rounded([low, high]: readonly [number, number]): readonly [number, number] {
  const below = steps([low / 10, low], ROUND).at(-1) ?? low;
  const above = steps([high, high * 10], ROUND)[0] ?? high;
  return below < above ? [below, above] : [below / 2, above * 2];
}

/** A linear axis over these values; round ends unless they are to be kept. */
export function linearScale(
  values: readonly number[],
  { exact = false, count = 6, steps: round = stepFor } = {},
): Scale {
  const [low, high] = widened(extentOf(values));
  const step = round((high - low) / count);
  // Rounding must not leave a value a hair beyond the end of its axis.
  const ends = [Math.min(low, down(low, step)) + 0, Math.max(high, -down(-high, step) + 0)] as const;
  const domain = exact ? ([low + 0, high + 0] as const) : ends;
  return { type: "linear", domain, ...evenTicks(domain, count, round) };
}

/** Something to see where all values are one. */
function widened([low, high]: readonly [number, number]): readonly [number, number] {
  const size = Math.max(Math.abs(low), Math.abs(high));
  if (!(size < HUGE)) return failRange([low, high]);
  if (size < TINY) return [-1, 1];
  return high - low > 1e-9 * size ? [low, high] : [low - 0.1 * size, high + 0.1 * size];
}

/** Beyond these a double leaves no room for the ticks of an axis. */
const TINY = 1e-280;
const HUGE = 1e280;

const failRange = ([low, high]: readonly [number, number]): never =>
  fail("out-of-range", "", "values that fit on one axis", `${low} to ${high}`);

/** The next of 1, 2, 5 times a power of ten. */
const stepFor = (raw: number): number => steps([raw, raw * 10], ROUND)[0] ?? raw;

/** Steps in which angles are counted; small ones as any number. */
export const angleStepFor = (raw: number): number =>
  raw <= 10 ? stepFor(raw) : ([15, 30, 45, 60, 90, 180, 360].find((step) => step >= raw) ?? stepFor(raw));

const tidy = (x: number): number => Number(x.toPrecision(12)) + 0;
const down = (x: number, step: number): number => tidy(Math.floor(tidy(x / step)) * step);

function evenTicks(
  [low, high]: readonly [number, number],
  count = 6,
  round = stepFor,
): Pick<Scale, "ticks" | "labelled"> {
  const step = round((high - low) / count);
  const [first, last] = [Math.ceil(tidy(low / step)), Math.floor(tidy(high / step))];
  const all = Array.from({ length: last - first + 1 }, (_, i) => tidy((first + i) * step));
  const ticks = all.filter((tick) => tick >= low && tick <= high);
  return { ticks, labelled: ticks };
}

/** Where a value lies along an axis of so many pixels, from its low end. */
export function pixelOf({ type, domain: [low, high] }: Scale, value: number, length: number): number {
  const along = type === "log" ? Math.log(value / low) / Math.log(high / low) : (value - low) / (high - low);
  return along * length;
}

/** The value at a pixel; undoes {@link pixelOf}. */
export function valueAtPixel({ type, domain: [low, high] }: Scale, pixel: number, length: number): number {
  const along = pixel / length;
  return type === "log" ? low * (high / low) ** along : low + along * (high - low);
}

/** How an axis is labelled. */
export interface AxisOptions {
  /** The quantity with its unit. */
  readonly title: string;
  /** How many pixels it is long, where its numbers stand beside one another. */
  readonly across?: number;
  readonly more?: { readonly [option: string]: JsonValue };
}

/** A position channel: call it with the field. Every layer of a view carries the same axis, so that they share it. */
export function positionOn(scale: Scale, { title, across, more = {} }: AxisOptions) {
  const { type, domain, ticks, labelled } = scale;
  const axis = {
    title,
    values: ticks,
    format: ".12~g",
    labelOverlap: false,
    ...more,
    ...labels(ticks, across === undefined ? labelled : withRoom(scale, across)),
  };
  return (field: string): { readonly [name: string]: JsonValue } => ({
    field,
    type: "quantitative",
    scale: { type, domain, nice: false, ...(type === "linear" && { zero: false }) },
    axis,
  });
}

/** Longer numbers than these are written as powers of ten, so that they do not run into one another. */
const MOST_CHARACTERS = 7;
const POWER = "(datum.value == 0 ? '0' : format(datum.value, '.6~e'))";

const isLong = (labelled: readonly number[]): boolean =>
  labelled.some((tick) => written(tick).length > MOST_CHARACTERS);

/** Numbers at some of the ticks, and fainter lines at the others. */
const labels = (ticks: readonly number[], labelled: readonly number[]): { readonly [option: string]: JsonValue } => {
  const label = isLong(labelled) ? POWER : "datum.label";
  if (labelled.length === ticks.length) return isLong(labelled) ? { labelExpr: label } : {};
  const isLabelled = `indexof([${labelled.join(", ")}], datum.value) >= 0`;
  return {
    labelExpr: `${isLabelled} ? ${label} : ''`,
    gridColor: { condition: { test: isLabelled, value: "#c8c8c8" }, value: "#ededed" },
    tickSize: { condition: { test: isLabelled, value: 5 }, value: 2 },
  };
};

/** As the format of the axis writes it: with its zeros from 0.000001 on, below that as a power of ten. */
const written = (tick: number): string => `${Number(tick.toPrecision(12))}`;

/** Numbers with room between them along so many pixels: all that have one, whole powers of ten, or every second, third and so on. */
function withRoom(scale: Scale, length: number): readonly number[] {
  const { type, labelled } = scale;
  const tens = labelled.filter((tick) => type === "log" && Number.isInteger(tidy(Math.log10(tick))));
  const fewer = tens.length > 1 ? tens : labelled;
  const every = labelled.map((_, n) => fewer.filter((tick) => countOf(tick, scale) % (n + 1) === 0));
  return [labelled, ...every].find((some) => haveRoom(some, scale, length)) ?? fewer.slice(0, 1);
}

/** Which tick it is, counted from 0 or from 1. */
function countOf(tick: number, { type, labelled: [first = 0, second = 1] }: Scale): number {
  if (type === "log" && Number.isInteger(tidy(Math.log10(tick)))) return Math.round(Math.log10(tick));
  return Math.round(tick / (second - first));
}

const NUMBER_GAP = 5;

/** Those at the ends of an axis stand within it, all others about their ticks. */
function haveRoom(some: readonly number[], scale: Scale, length: number): boolean {
  const asPower = isLong(some);
  const boxes = some.map((tick) => {
    const at = pixelOf(scale, tick, length);
    const width = widthOf(asPower && tick !== 0 ? `${Number(tick.toPrecision(7)).toExponential()}` : written(tick));
    const left = at < 1 ? 0 : at > length - 1 ? length - width : at - width / 2;
    return { left, right: left + width };
  });
  return some.length > 0 && boxes.every(({ left }, i) => i === 0 || left - (boxes[i - 1]?.right ?? 0) >= NUMBER_GAP);
}
