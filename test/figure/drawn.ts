/** What every figure must be: good by the published schema, compiled without a warning, drawn without a hole. */
import { readFileSync } from "node:fs";
import { createRequire } from "node:module";
import { Ajv } from "ajv";
import type { FigureLayer, FigureRow, FigureSpec, FigureView } from "tripwright/figure";
import { type LoggerInterface, parse, View } from "vega";
import { compile, type TopLevelSpec } from "vega-lite";
import { expect } from "vitest";

const SCHEMA = new URL("vega-lite-schema.json", `file://${createRequire(import.meta.url).resolve("vega-lite")}`);
/** Formats such as colours are not in the schema's own words; shapes are what counts here. */
const isSpecification = new Ajv({ strict: false, validateFormats: false }).compile(
  JSON.parse(readFileSync(SCHEMA, "utf8")) as object,
);

/** The panels of a figure. */
export function viewsOf(spec: FigureSpec): readonly FigureView[] {
  if ("vconcat" in spec) return spec.vconcat;
  return "hconcat" in spec ? spec.hconcat : [spec];
}

/** Every layer of a figure. */
export const layersOf = (spec: FigureSpec): readonly FigureLayer[] => viewsOf(spec).flatMap(({ layer }) => layer);

/** The rows of the layers whose name fits. */
export const rowsOf = (spec: FigureSpec, name: RegExp): readonly FigureRow[] =>
  layersOf(spec).flatMap((layer) => (name.test(layer.name) ? layer.data.values : []));

/** Checks a figure in every way that needs no eyes, and draws it. */
export async function drawn(spec: FigureSpec): Promise<string> {
  checkData(spec);
  if (!isSpecification(spec)) throw new Error(JSON.stringify(isSpecification.errors?.slice(0, 3)));
  const logger = new Warnings();
  // Vega-Lite's own types want arrays that can be written to; the figures' are readonly.
  const compiled = compile(spec as unknown as TopLevelSpec, { logger });
  const svg = await new View(parse(compiled.spec), { renderer: "none", logger }).toSVG();
  expect(logger.told).toEqual([]);
  expect(svg).not.toMatch(/NaN|Infinity|undefined/);
  return svg;
}

/** Tells of warnings and errors, and of nothing else. */
class Warnings implements LoggerInterface {
  readonly told: string[] = [];
  level(): number;
  level(level: number): this;
  level(level?: number): this | number {
    return level === undefined ? 0 : this;
  }
  error = (...parts: readonly unknown[]): this => this.warn(...parts);
  warn = (...parts: readonly unknown[]): this => {
    this.told.push(parts.join(" "));
    return this;
  };
  info = (): this => this;
  debug = (): this => this;
}

/** Plain data that survives JSON; names used once; all that is drawn on an axis lies on it. */
export function checkData(spec: FigureSpec): void {
  expect(JSON.parse(JSON.stringify(spec))).toStrictEqual(spec);
  const names = layersOf(spec).map(({ name }) => name);
  expect(new Set(names).size).toBe(names.length);
  expect(spec.description.length).toBeGreaterThan(0);
  for (const layer of layersOf(spec)) {
    expect(layer.data.values.length).toBeGreaterThan(0);
    if (!/name|sample|label|list|remark|angles|sizes|tips/.test(layer.name)) checkDomain(layer);
  }
}

interface Axis {
  readonly field?: string;
  readonly scale?: { readonly domain?: readonly number[] };
}

function checkDomain({ name, data, encoding }: FigureLayer): void {
  for (const channel of ["x", "y"] as const) {
    const { field, scale } = (encoding[channel] ?? {}) as Axis;
    const second = (encoding[`${channel}2`] ?? {}) as Axis;
    const [low, high] = scale?.domain ?? [];
    if (typeof low !== "number" || typeof high !== "number") continue;
    for (const row of data.values)
      for (const of of [field, second.field]) {
        if (of === undefined) continue;
        const value = row[of] as number;
        if (!(value >= low && value <= high)) throw new Error(`${name}: ${of} ${value} is not on ${low} to ${high}`);
      }
  }
}

/** An axis of a layer, as it stands in the specification. */
export const axisOf = (layer: FigureLayer, channel: "x" | "y") =>
  layer.encoding[channel] as unknown as {
    readonly scale: { readonly type: string; readonly domain: readonly [number, number] };
    readonly axis: { readonly title: string; readonly values: readonly number[] };
  };
