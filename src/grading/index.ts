/**
 * Is it good enough? Tolerances, bands and verdicts, exact at the limit; uncertainties, probabilities and risks of
 * conformity; repeatability, rounding, and values as they are written.
 *
 * @module grading
 */

export type { Band } from "../base/band.js";
export type { DecimalObject, Exact } from "../base/exact.js";
export { InputError } from "../base/input-error.js";
export type { Problem, ProblemCode } from "../base/problem.js";
export type { Percent, Seconds } from "../base/units.js";
export { type Acceptance, type AcceptanceRisks, acceptanceRisks } from "./acceptance-risks.js";
export { type BandOptions, band } from "./band.js";
export { betweenGroups, type GroupScatter } from "./between-groups.js";
export {
  type BreakerFailureMargin,
  type BreakerFailureTimes,
  breakerFailureMargin,
  type NamedTime,
} from "./breaker-failure.js";
export { type Change, changeBetween, type KnownValue, type Stages } from "./change-between.js";
export {
  type CombinedUncertainty,
  type Contribution,
  type Correlation,
  combineUncertainty,
  type UncertaintyBudget,
} from "./combine-uncertainty.js";
export { conformanceProbability, type Known } from "./conformance.js";
export { type Coverage, coverageFactor } from "./coverage-factor.js";
export { degreesOfFreedomFrom, deviationUncertainty } from "./deviation-uncertainty.js";
export { type DatedReading, type Drift, driftPerYear, type LimitReached } from "./drift-per-year.js";
export { type Dropout, dropoutRatio, type PickupAndDropout } from "./dropout-ratio.js";
export { type EstimatesTogether, estimatesOf } from "./estimates.js";
export { fitLine, type Line, type LinePoint, valueOnLine } from "./fit-line.js";
export { formatMeasured, type MeasuredFormat } from "./format-measured.js";
export { type DecisionRule, type Grade, type GradeOptions, grade } from "./grade.js";
export { type GradeAllOptions, gradeAll, verdicts } from "./grade-all.js";
export type { Guarding, GuardName } from "./guard.js";
export { guardBand, type WantedRisk } from "./guard-band.js";
export {
  type BandwidthError,
  bandwidthError,
  type LateContacts,
  lateContacts,
  skewAngle,
} from "./instrument-errors.js";
export { type MagnitudeBias, magnitudeBias } from "./magnitude-bias.js";
export {
  type Estimate,
  type Estimates,
  type Propagated,
  type PropagatedTogether,
  type PropagateOptions,
  propagate,
  type ValuesOf,
} from "./propagate.js";
export { type Converter, effectiveBits, type Quantization, quantization } from "./quantization.js";
export { type Repeatability, type RepeatedErrors, repeatability, type Trend } from "./repeatability.js";
export { type Rounding, roundTo } from "./round-to.js";
export { type Distribution, type Evaluation, standardUncertainty } from "./standard-uncertainty.js";
export { type AccuracyAt, type ReadingOnRange, type StatedAccuracy, statedAccuracy } from "./stated-accuracy.js";
export type { LopsidedTolerance, Tolerance } from "./tolerance.js";
export { uncertaintyRatio } from "./uncertainty-ratio.js";
