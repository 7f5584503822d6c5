/** The part of a Vega-Lite specification that the figures of this library use; plain data that survives JSON. */

/** Any value of JSON. */
export type JsonValue =
  | string
  | number
  | boolean
  | null
  | readonly JsonValue[]
  | { readonly [name: string]: JsonValue };

/** One row of the data that a layer draws. */
export interface FigureRow {
  readonly [field: string]: string | number | boolean;
}

/** One layer: its own rows, one kind of mark, and which field goes to which channel. */
export interface FigureLayer {
  /** What it shows, such as `curve 1` or `voltage course 2`; unique within the figure, and never text of the caller. */
  readonly name: string;
  readonly data: { readonly values: readonly FigureRow[] };
  readonly mark: {
    readonly type: "line" | "area" | "point" | "rule" | "rect" | "text";
    readonly [option: string]: JsonValue;
  };
  readonly encoding: { readonly [channel: string]: JsonValue };
}

/** One panel: layers on common axes. */
export interface FigureView {
  readonly name: string;
  readonly title?: JsonValue;
  /** In pixels, without axes. */
  readonly width: number;
  readonly height: number;
  readonly layer: readonly FigureLayer[];
}

/** What every figure carries beside its panels. */
export interface FigureWhole {
  readonly $schema: string;
  readonly title: {
    /** Lines, where it is longer than the figure is wide. */
    readonly text: string | readonly string[];
    readonly subtitle?: readonly string[];
    readonly [option: string]: JsonValue | undefined;
  };
  /** The same in words, for those who cannot see it. */
  readonly description: string;
  readonly background: string;
  readonly config: { readonly [name: string]: JsonValue };
}

/** A figure of one panel. */
export type SingleFigure = FigureWhole & FigureView & { readonly title: FigureWhole["title"] };
/** Panels above one another. */
export type StackedFigure = FigureWhole & { readonly spacing: number; readonly vconcat: readonly FigureView[] };
/** Panels side by side. */
export type SideBySideFigure = FigureWhole & { readonly spacing: number; readonly hconcat: readonly FigureView[] };

/** A whole Vega-Lite specification, version 6. */
export type FigureSpec = SingleFigure | StackedFigure | SideBySideFigure;

/** What every figure says of itself. */
export interface Heading {
  readonly title: string;
  /** Smaller lines below the title, such as what the marks mean. */
  readonly subtitle?: readonly string[];
  readonly description: string;
}
