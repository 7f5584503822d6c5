/** The uncertainty with which a reading is judged. */
import { standardOfLimits } from "../base/limits-of-error.js";
import { unitOfReading } from "../base/reading-unit.js";
import { startLevel } from "../element/index.js";
import { band, propagate, type Tolerance } from "../grading/index.js";
import { type ElementSetting, expectTime, sourceErrorsOf, type Unit } from "../plan/index.js";
import type { Case } from "./case.js";
import type { Reading, ReadingUncertainty } from "./reading.js";

type Around = Pick<Case, "check" | "setting" | "settings" | "instruments">;

const USUAL_COVERAGE = 2;

/**
 * That of the reading itself, else of the instrument it was read on, else of the source; an instrument that says nothing of
 * the unit is not taken to be as good as the source. For an operate time also that of the injected level, which is the
 * source's where the instrument says nothing of levels, carried through the time law:
 *
 *     u² = u(t)² + (dt/dI · u(I))²
 *
 * @returns Nothing where nothing is known of the reading itself: the injection alone would make it look better than it is.
 * @source JCGM 100:2008 5.1.2; limits of error as rectangles, 4.3.7
 */
export function uncertaintyOf(reading: Reading, value: number, around: Around): ReadingUncertainty | undefined {
  const { check } = around;
  const unit = unitOfReading(check);
  const own = reading.uncertainty ?? fromLimits(value, toleranceOf({ unit, value }, reading, around));
  if (own === undefined || check.proves !== "operate-time") return own;
  const level = reading.injected ?? check.level;
  if (level === undefined) return own;
  const injected = { unit: check.unit, value: level };
  const levelTolerance = toleranceOf(injected, reading, around) ?? sourceTolerance(injected, around);
  const { standard = 0 } = reading.injectedUncertainty ?? fromLimits(level, levelTolerance) ?? {};
  const through = standard === 0 ? 0 : throughLaw(level, standard, around.setting);
  return through === 0 ? own : { ...own, standard: Math.sqrt(own.standard * own.standard + through * through) };
}

interface Measured {
  readonly unit: Unit;
  readonly value: number;
}

/** Limits of error of the instrument that is named, or of the source where none is. */
function toleranceOf(measured: Measured, { instrument }: Reading, around: Around): Tolerance | undefined {
  const { instruments } = around;
  return instrument === undefined
    ? sourceTolerance(measured, around)
    : instruments.find(({ id }) => id === instrument)?.accuracy?.[measured.unit];
}

/** Limits of error of the source: of a time its own, of a level those of all channels that make it. */
function sourceTolerance({ unit, value }: Measured, { check, settings }: Around): Tolerance | undefined {
  if (unit !== check.unit) return settings.sourceAccuracy[unit];
  const errors = sourceErrorsOf(settings, { check, level: value });
  return errors.length === 0 ? undefined : { absolute: Math.hypot(...errors) };
}

/** Limits of error as a rectangle. */
function fromLimits(value: number, tolerance: Tolerance | undefined): ReadingUncertainty | undefined {
  return tolerance && { standard: standardOfLimits(band(value, tolerance)), coverageFactor: USUAL_COVERAGE };
}

/** The standard uncertainty of the expected time that comes from that of the level; 0 where the time does not depend on it. */
function throughLaw(level: number, standard: number, setting: ElementSetting): number {
  const timeAt = (at: number) => {
    const expected = expectTime(setting, at);
    return expected.kind === "found" ? expected.band.nominal : undefined;
  };
  const nominal = timeAt(level);
  if (nominal === undefined) return 0;
  // Beside the start or the end of a drawn curve there is no time: what is known there is that of the level itself.
  const f = ({ level: at }: { readonly level: number }) => timeAt(at) ?? nominal;
  // The slope is that at the level itself, however far its uncertainty reaches beyond the start: steps of 16 u stay on this side.
  const within = Math.min(standard, Math.abs(level - startLevel(setting)) / 32);
  const { sensitivities } = propagate(f, { level: { value: level, standard: within } });
  return Math.abs(sensitivities["level"] ?? 0) * standard;
}
