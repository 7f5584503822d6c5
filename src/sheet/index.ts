/**
 * What does the setting sheet say? From what a person typed to the settings of a relay as numbers. Not exported as a module
 * of its own: `plan` hands it on.
 *
 * @module sheet
 */

export { readSheet, settingsOf } from "./read-sheet.js";
export type { InNumbers, RelaySettings } from "./relay-settings.js";
export type {
  Sheet,
  SheetDifferentialElement,
  SheetDirectionalElement,
  SheetDistanceElement,
  SheetEarthFaultElement,
  SheetElement,
  SheetElementCommon,
  SheetFrequencyElement,
  SheetFrequencyRateElement,
  SheetNegativeSequenceCurrentElement,
  SheetNegativeSequenceVoltageElement,
  SheetOvercurrentElement,
  SheetPowerElement,
  SheetResidualVoltageElement,
  SheetSynchronismElement,
  SheetThermalElement,
  SheetUndercurrentElement,
  SheetUnrestrainedDifferentialElement,
  SheetVoltageElement,
  SheetVoltsPerHertzElement,
  TypedConstants,
  TypedCurve,
  TypedEnergyCurve,
  TypedExcessCurve,
  TypedInverseCurve,
  TypedReset,
  TypedTableCurve,
  TypedThermalCurve,
  TypedUnderCurve,
} from "./sheet.js";
export type {
  SheetDifferentialFields,
  SheetSecondSide,
  SheetZone,
  SheetZoneSide,
  TypedSlope,
} from "./sheet-differential.js";
export type { TypedEarth, TypedImpedance, TypedZone } from "./sheet-distance.js";
export { sheetSchema } from "./sheet-schema.js";
export type { SheetInputRating, SheetInputs, SheetOutput, SheetSource } from "./sheet-source.js";
export type { Typed, TypedTolerance } from "./typed.js";
