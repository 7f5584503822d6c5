/** The layers that figures are made of. */
import { nameIn } from "../base/check.js";
import { ink } from "./look.js";
import type { FigureLayer, FigureRow, JsonValue } from "./specification.js";

/** The position channels of a layer. */
export interface Channels {
  readonly [channel: string]: JsonValue;
}

type Options = { readonly [option: string]: JsonValue };

const layer = (type: FigureLayer["mark"]["type"], name: string, values: readonly FigureRow[]) => ({
  named: (mark: Options, encoding: Channels): FigureLayer => ({
    name,
    data: { values },
    mark: { type, tooltip: false, ...mark },
    encoding,
  }),
});

/** A line through the rows in their own order; each `run`, where rows have one, is a line of its own. */
export function lineLayer(name: string, rows: readonly FigureRow[], on: Channels, look: Options): FigureLayer {
  const runs = rows[0]?.["run"] === undefined ? {} : { detail: { field: "run", type: "nominal" } };
  const values = rows.map((row, order) => ({ ...row, order }));
  return layer("line", name, values).named(
    { strokeWidth: 2, strokeJoin: "round", ...look },
    { ...on, ...runs, order: { field: "order", type: "quantitative" } },
  );
}

/** The area between two fields. */
export const areaLayer = (name: string, rows: readonly FigureRow[], on: Channels, look: Options): FigureLayer =>
  layer("area", name, rows).named({ opacity: 0.16, ...look }, on);

/** Straight lines from one place to another. */
export const ruleLayer = (name: string, rows: readonly FigureRow[], on: Channels, look: Options = {}): FigureLayer =>
  layer("rule", name, rows).named({ color: ink, ...look }, on);

/** Filled rectangles. */
export const rectLayer = (name: string, rows: readonly FigureRow[], on: Channels, look: Options): FigureLayer =>
  layer("rect", name, rows).named(look, on);

/** Points of one shape. */
export const pointLayer = (name: string, rows: readonly FigureRow[], on: Channels, look: Options = {}): FigureLayer =>
  layer("point", name, rows).named({ shape: "circle", filled: true, size: 60, opacity: 1, color: ink, ...look }, on);

/**
 * The field `label` of each row at half its height; it begins at its place, or stands there as the row's `align` says.
 */
export const textLayer = (name: string, rows: readonly FigureRow[], on: Channels, look: Options = {}): FigureLayer =>
  layer("text", name, rows).named(
    {
      align: rows[0]?.["align"] === undefined ? "left" : { expr: "datum.align" },
      baseline: "middle",
      color: ink,
      ...look,
    },
    { ...on, text: { field: "label", type: "nominal" } },
  );

/** Text on a white rim, so that it can be read on top of lines; marks between the two are not covered by the rim. */
export interface RimmedText {
  readonly rim: FigureLayer;
  readonly text: FigureLayer;
}

/** The two layers of such text. */
export const rimmedText = (name: string, rows: readonly FigureRow[], on: Channels, look: Options = {}): RimmedText => ({
  rim: textLayer(`${name} rim`, rows, on, {
    ...look,
    color: "#ffffff",
    stroke: "#ffffff",
    strokeWidth: 3,
    aria: false,
  }),
  text: textLayer(name, rows, on, look),
});

/** The same with nothing between them. */
export const labelLayers = (...given: Parameters<typeof rimmedText>): FigureLayer[] => {
  const { rim, text } = rimmedText(...given);
  return [rim, text];
};

/** What came of a reading. */
export type PointVerdict = "within" | "outside" | "undecided";

const SHAPES: Readonly<Record<PointVerdict, Options>> = {
  within: { shape: "circle", filled: true },
  outside: { shape: "cross", filled: true, angle: 45, size: 150 },
  undecided: { shape: "diamond", filled: false, strokeWidth: 2, size: 90 },
};

/** The line under a title that says what the shapes mean. */
export const VERDICT_KEY = "● within · ✕ outside · ◇ undecided";

/** Checks a verdict that a caller gives to a point. */
export const checkVerdict = (verdict: PointVerdict | undefined, path: string): PointVerdict | undefined =>
  verdict === undefined ? undefined : nameIn(verdict, SHAPES, path);

/** Points with their verdicts, told apart by shape; those without one are plain dots. */
export function verdictLayers(
  name: string,
  points: readonly { readonly row: FigureRow; readonly verdict: PointVerdict | undefined }[],
  on: Channels,
  look: Options = {},
): FigureLayer[] {
  return ([undefined, "within", "undecided", "outside"] as const).map((wanted) => {
    const rows = points.filter(({ verdict }) => verdict === wanted).map(({ row }) => row);
    const shape = wanted === undefined ? {} : SHAPES[wanted];
    return pointLayer(`${name}${wanted === undefined ? "" : ` ${wanted}`}`, rows, on, { ...look, ...shape });
  });
}
