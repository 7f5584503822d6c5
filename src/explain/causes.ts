/** Every cause that is tried. */
import { armingLevel, blockingLevel } from "./causes-blocking.js";
import { breakerTime, cyclesForSeconds, diskNotReset, otherFrequency, timerFromPrefault } from "./causes-clock.js";
import { characteristicAngle, directionSetting, sectorLimit } from "./causes-direction.js";
import { allCurrentsReversed, neighbourFirst, polarityReversed, rotationReversed } from "./causes-phase.js";
import { ctSecondary, ctTap, lineToLine, primaryForSecondary } from "./causes-ratio.js";
import {
  anotherCurve,
  ceiling,
  delaySetting,
  dropoutSetting,
  minimumTime,
  pickupSetting,
  timeMultiplier,
} from "./causes-setting.js";
import { averageMeter, drift, peakForRms, rampTooFast, sourceGain, sourceOffset } from "./causes-source.js";
import type { Cause } from "./situation.js";

export const CAUSES: readonly Cause[] = [
  pickupSetting,
  timeMultiplier,
  delaySetting,
  dropoutSetting,
  anotherCurve,
  ceiling,
  minimumTime,
  ctSecondary,
  ctTap,
  primaryForSecondary,
  lineToLine,
  peakForRms,
  averageMeter,
  sourceGain,
  sourceOffset,
  rampTooFast,
  timerFromPrefault,
  breakerTime,
  cyclesForSeconds,
  otherFrequency,
  diskNotReset,
  rotationReversed,
  polarityReversed,
  allCurrentsReversed,
  directionSetting,
  characteristicAngle,
  sectorLimit,
  blockingLevel,
  armingLevel,
  neighbourFirst,
  drift,
];
