/** Readings with what stands around them, and how far each may lie off without anything being wrong. */
import { halfWidth } from "../base/band.js";
import { finite } from "../base/check.js";
import { standardOfLimits } from "../base/limits-of-error.js";
import { unitOfReading } from "../base/reading-unit.js";
import { type ElementSetting, startLevel } from "../element/index.js";
import { band } from "../grading/index.js";
import { type Check, type RelaySettings, sourceErrorsOf } from "../plan/index.js";
import type { Judged, ReadingKey, Stage, TestRecord } from "../record/index.js";

/** A reading, or an injection that may be made, of an element of the sheet. */
export interface Taken {
  readonly check: Check;
  /** As the sheet has it. */
  readonly setting: ElementSetting;
  readonly key: ReadingKey;
  /** The level that was injected as it is written, for an operate time or where nothing may happen. */
  readonly level: number;
  readonly value: number | "never" | "operated";
  readonly uncertainty: Allowed;
}

/** How far a reading may lie off, as standard uncertainties. */
export interface Allowed {
  /** Of the relay itself, the same in every repeat of a check. */
  readonly relay: number;
  /** Of the single reading: measurement, repeatability, the step of a sweep. */
  readonly single: number;
  /** Of the level at which the element starts. */
  readonly start: number;
}

/**
 * How much of its declared accuracy a sound relay uses, as a standard deviation: of its lasting error, and from one
 * injection to the next. A limit that is declared on one side only says less of where the middle lies.
 *
 * @source choices of this library: a declared accuracy is a limit at five standard deviations
 */
const LASTING = 0.2;
const LASTING_ONE_SIDED = 0.5;
const REPEATED = 0.05;

/** The readings of one stage, in the order of the record; what was graded without a number comes along as a word. */
export function takenAt(stage: Stage, { verdicts, plan }: TestRecord, settings: RelaySettings): Taken[] {
  return verdicts.flatMap((verdict) => {
    const check = plan.checks.find(({ id }) => id === verdict.check);
    const setting = settings.elements.find(({ id }) => id === check?.element);
    if (verdict.status !== "graded" || verdict.stage !== stage || check === undefined || setting === undefined)
      return [];
    return verdict.readings.map((judged) => takenOf(judged, check, setting));
  });
}

function takenOf({ reading, uncertainty }: Judged, check: Check, setting: ElementSetting): Taken {
  const { stage, repeat, value, injected } = reading;
  checkLevels(check);
  const told = value as Taken["value"];
  const isNumber = typeof told === "number" && check.proves !== "no-operation";
  return {
    check,
    setting,
    key: { check: check.id, stage, repeat },
    level: injected ?? check.level ?? 0,
    value: typeof told === "number" && !isNumber ? "operated" : told,
    uncertainty: allowedAt(isNumber ? told : undefined, check, { setting, measured: uncertainty?.standard ?? 0 }),
  };
}

/** A plan may have been through other hands; levels are what everything here is counted from. */
function checkLevels({ id, sweep, level = 0 }: Check): void {
  const path = `plan.checks.${id}`;
  finite(level, `${path}.level`, "a level");
  if (sweep === undefined) return;
  for (const part of ["from", "to", "step"] as const) finite(sweep[part], `${path}.sweep.${part}`, "a level");
}

/**
 * What is allowed at a value. It is taken at what was read and not at what an explanation predicts, so that all
 * explanations are held against the same uncertainty.
 */
export function allowedAt(
  value: number | undefined,
  { proves, expect, sweep, unit }: Check,
  { setting, measured }: { readonly setting: ElementSetting; readonly measured: number },
): Allowed {
  const { pickup, time, dropout = pickup, angle = pickup, voltage = pickup, frequency = pickup } = setting.accuracy;
  const edge = { V: voltage, Hz: frequency, "°": angle }[unit as string] ?? pickup;
  const tolerance = { pickup, dropout, edge, "operate-time": time, "no-operation": pickup }[proves];
  const nominal = expect.form === "band" ? expect.band.nominal : startLevel(setting);
  // A percentage of nothing allows nothing; then what is allowed at the nominal value counts.
  const half = halfWidth(band(value ?? nominal, tolerance)) || halfWidth(band(nominal, tolerance));
  const lasting = tolerance.side === undefined || tolerance.side === "both" ? LASTING : LASTING_ONE_SIDED;
  // Where the element started between two levels is not known: a rectangle as wide as the step.
  const step = sweep === undefined ? 0 : sweep.step / Math.sqrt(12);
  return {
    relay: lasting * half,
    single: Math.hypot(measured, REPEATED * half, step),
    start: LASTING * halfWidth(band(startLevel(setting), pickup)),
  };
}

/** What the source may be off in what a check asks for, as a standard uncertainty: limits of error as a rectangle. */
export function sourceUncertainty(value: number, check: Check, settings: RelaySettings): number {
  const unit = unitOfReading(check);
  const tolerance =
    unit === check.unit
      ? { absolute: Math.hypot(...sourceErrorsOf(settings, { check, level: value })) }
      : settings.sourceAccuracy[unit];
  return tolerance === undefined ? 0 : standardOfLimits(band(value, tolerance));
}
