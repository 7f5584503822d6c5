/**
 * What does it look like?
 *
 * Every function gives a Vega-Lite specification: plain data that survives JSON, with a text alternative in `description`.
 * Nothing here draws; any renderer of Vega-Lite does.
 *
 * @module figure
 */

export { InputError } from "../base/input-error.js";
export { type CurveFigureOptions, type CurveToDraw, curveFigure, type TimedPoint } from "./curve-figure.js";
export type { AcceptedTimes } from "./curve-samples.js";
export { type ImpedanceFigureOptions, impedanceFigure, type NamedImpedance } from "./impedance-figure.js";
export type { PointVerdict } from "./marks.js";
export {
  type PhasesToDraw,
  type PhasorFigureOptions,
  type PhasorGroup,
  type PhasorSet,
  phasesAndComponents,
  phasorFigure,
} from "./phasor-figure.js";
export {
  type NamedPoint,
  type Outline,
  type PlaneAxis,
  type PlaneFigureOptions,
  type PlanePlace,
  planeFigure,
} from "./plane-figure.js";
export { type ProfileFigureOptions, type ProfileQuantity, profileFigure } from "./profile-figure.js";
export { type RecordFigure, type RecordFiguresOptions, recordFigures } from "./record-figures.js";
export { type RelayInSeries, type SeriesFigureOptions, seriesFigure } from "./series-figure.js";
export type {
  FigureLayer,
  FigureRow,
  FigureSpec,
  FigureView,
  FigureWhole,
  JsonValue,
  SideBySideFigure,
  SingleFigure,
  StackedFigure,
} from "./specification.js";
export { type ToleranceFigureOptions, toleranceFigure } from "./tolerance-figure.js";
export { type BegunState, type CapturedTrace, type TraceFigureOptions, traceFigure } from "./trace-figure.js";
export type { WaveQuantity } from "./wave-panels.js";
export { type WaveformFigureOptions, waveformFigure } from "./waveform-figure.js";
