/** The look of every figure: thin dark axes, pale grid, nothing said by colour alone. */
import type { FigureView, Heading, JsonValue, SideBySideFigure, SingleFigure, StackedFigure } from "./specification.js";

/** How one series is drawn: colour, dashes and shape each tell it apart, so that grey print does too. */
export interface SeriesStyle {
  readonly color: string;
  readonly strokeDash: readonly number[];
}

const INK = "#1a1a1a";
const SOFT = "#595959";

/** Colours of Okabe and Ito, Color Universal Design (2008), without the yellow, which paper does not show. */
const STYLES: readonly SeriesStyle[] = [
  { color: "#0072B2", strokeDash: [1, 0] },
  { color: "#D55E00", strokeDash: [8, 3] },
  { color: "#009E73", strokeDash: [2, 3] },
  { color: "#CC79A7", strokeDash: [10, 3, 2, 3] },
  { color: "#000000", strokeDash: [5, 5] },
  { color: "#56B4E9", strokeDash: [14, 4] },
  { color: "#E69F00", strokeDash: [6, 2, 2, 2, 2, 2] },
];

/** The style of the n-th series, from 0; after seven they begin anew. */
export const styleOf = (n: number): SeriesStyle => STYLES[n % STYLES.length] as SeriesStyle;

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

const wholeOf = ({ title, subtitle = [], description }: Heading) => ({
  $schema: SCHEMA,
  title: { text: plainText(title), ...(subtitle.length > 0 && { subtitle: subtitle.map(plainText) }) },
  description: plainText(description),
  background: "#ffffff",
  config: CONFIG,
});

/** Without the layers that have nothing to draw. */
const filled = (panel: FigureView): FigureView => ({
  ...panel,
  layer: panel.layer.filter(({ data }) => data.values.length > 0),
});

/** A figure of one panel. */
export const single = (heading: Heading, view: FigureView): SingleFigure => ({ ...filled(view), ...wholeOf(heading) });

/** Names must be unique within a figure: those of layers begin with that of their panel. */
const apart = (panels: readonly FigureView[]): FigureView[] =>
  panels.map(filled).map((panel) => ({
    ...panel,
    layer: panel.layer.map((layer) => ({ ...layer, name: `${panel.name} ${layer.name}` })),
  }));

/** Panels above one another. */
export const stacked = (heading: Heading, vconcat: readonly FigureView[]): StackedFigure => ({
  ...wholeOf(heading),
  spacing: 14,
  vconcat: apart(vconcat),
});

/** Panels side by side. */
export const sideBySide = (heading: Heading, hconcat: readonly FigureView[]): SideBySideFigure => ({
  ...wholeOf(heading),
  spacing: 40,
  hconcat: apart(hconcat),
});

/** Text as a drawing can hold it: one line, without control characters and without halves of characters. */
export const plainText = (text: string): string => text.replace(/[\p{Cc}\p{Cs}\u2028\u2029]+/gu, " ");
