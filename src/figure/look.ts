/** The look of every figure: thin dark axes, pale grid, nothing said by colour alone. */
import { brokenInto } from "./lines.js";
import type { FigureView, Heading, JsonValue, SideBySideFigure, SingleFigure, StackedFigure } from "./specification.js";

/** How one series is drawn: colour tells it apart, and dashes and width do too, so that grey print does. */
export interface SeriesStyle {
  readonly color: string;
  readonly strokeDash: readonly number[];
  readonly strokeWidth: number;
}

const INK = "#1a1a1a";
const SOFT = "#595959";

/** Colours of Okabe and Ito, Color Universal Design (2008), without the yellow, which paper does not show. */
const COLORS = ["#0072B2", "#D55E00", "#009E73", "#CC79A7", "#000000", "#56B4E9", "#E69F00"] as const;

/** Twice as many as colours, so that a colour that comes again has other dashes. */
const DASHES: readonly (readonly number[])[] = [
  [1, 0],
  [8, 3],
  [2, 3],
  [10, 3, 2, 3],
  [5, 5],
  [14, 4],
  [6, 2, 2, 2, 2, 2],
  [22, 3, 2, 3],
  [2, 8],
  [12, 10],
  [8, 3, 8, 3, 2, 3],
  [24, 8],
  [2, 2, 2, 7],
  [16, 3, 4, 3, 4, 3],
];

/** The style of the n-th series, from 0: after seven the dashes are others, after fourteen the line is wider. */
export const styleOf = (n: number): SeriesStyle => ({
  color: COLORS[n % COLORS.length] as string,
  strokeDash: DASHES[n % DASHES.length] as readonly number[],
  strokeWidth: 2 + 1.2 * Math.floor(n / DASHES.length),
});

/** Dark lines and text that belong to no series. */
export const ink = INK;
/** Lines that only guide the eye. */
export const soft = SOFT;
export const FONT_SIZE = 12;

const CONFIG: { readonly [name: string]: JsonValue } = {
  font: '"Source Sans 3", "Segoe UI", "Helvetica Neue", Arial, sans-serif',
  view: { stroke: null },
  title: { anchor: "start", color: INK, fontSize: 15, subtitleColor: SOFT, subtitleFontSize: FONT_SIZE, offset: 12 },
  axis: {
    domainColor: INK,
    tickColor: INK,
    gridColor: "#dcdcdc",
    labelColor: INK,
    titleColor: INK,
    labelFontSize: FONT_SIZE,
    titleFontSize: FONT_SIZE,
    titleFontWeight: "normal",
    titlePadding: 8,
  },
  text: { fontSize: FONT_SIZE, color: INK },
};

const SCHEMA = "https://vega.github.io/schema/vega-lite/v6.json";

/** Titles stand over the axis on the left and the names on the right, too. */
const BESIDE = 70;
/** Widths of a character, bold and large in a title, in pixels. */
const TITLE_CHARACTER = 9;
const SUBTITLE_CHARACTER = 7;

function wholeOf({ title, subtitle = [], description }: Heading, width: number) {
  const lines = brokenInto(plainText(title), Math.floor((width + BESIDE) / TITLE_CHARACTER));
  const below = subtitle.flatMap((line) =>
    brokenInto(plainText(line), Math.floor((width + BESIDE) / SUBTITLE_CHARACTER)),
  );
  return {
    $schema: SCHEMA,
    title: { text: lines.length > 1 ? lines : (lines[0] as string), ...(below.length > 0 && { subtitle: below }) },
    description: plainText(description),
    background: "#ffffff",
    config: CONFIG,
  };
}

/** Without the layers that have nothing to draw. */
const filled = (panel: FigureView): FigureView => ({
  ...panel,
  layer: panel.layer.filter(({ data }) => data.values.length > 0),
});

/** A figure of one panel. */
export const single = (heading: Heading, view: FigureView): SingleFigure => ({
  ...filled(view),
  ...wholeOf(heading, view.width),
});

/** The same without its title, for a place that has a heading of its own: the smaller lines take its place. */
export const untitled = ({ title: { subtitle = [] }, ...figure }: SingleFigure): SingleFigure => ({
  ...figure,
  title: { text: subtitle.length > 0 ? subtitle : "", fontSize: FONT_SIZE, fontWeight: "normal", color: SOFT },
});

/** Names must be unique within a figure: those of layers begin with that of their panel. */
const apart = (panels: readonly FigureView[]): FigureView[] =>
  panels.map(filled).map((panel) => ({
    ...panel,
    layer: panel.layer.map((layer) => ({ ...layer, name: `${panel.name} ${layer.name}` })),
  }));

/** Panels above one another. */
export const stacked = (heading: Heading, vconcat: readonly FigureView[]): StackedFigure => ({
  ...wholeOf(heading, Math.max(...vconcat.map(({ width }) => width))),
  spacing: 14,
  vconcat: apart(vconcat),
});

/** Panels side by side. */
export const sideBySide = (heading: Heading, hconcat: readonly FigureView[]): SideBySideFigure => ({
  ...wholeOf(
    heading,
    hconcat.reduce((sum, { width }) => sum + width, 0),
  ),
  spacing: 40,
  hconcat: apart(hconcat),
});

/** Text as a drawing can hold it: one line, without control characters and without halves of characters. */
export const plainText = (text: string): string => text.replace(/[\p{Cc}\p{Cs}\u2028\u2029]+/gu, " ");
