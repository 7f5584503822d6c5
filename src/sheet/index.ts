/**
 * What does the setting sheet say? From what a person typed to the settings of a relay as numbers. Not exported as a module
 * of its own: `plan` hands it on.
 *
 * @module sheet
 */

export { readSheet } from "./read-sheet.js";
export type { RelaySettings } from "./relay-settings.js";
export { settingsOf } from "./settings.js";
export type {
  Sheet,
  SheetEarthFaultElement,
  SheetElement,
  SheetElementCommon,
  SheetFrequencyElement,
  SheetFrequencyRateElement,
  SheetInputRating,
  SheetInputs,
  SheetNegativeSequenceCurrentElement,
  SheetNegativeSequenceVoltageElement,
  SheetOvercurrentElement,
  SheetResidualVoltageElement,
  SheetSource,
  SheetThermalElement,
  SheetUndercurrentElement,
  SheetVoltageElement,
  SheetVoltsPerHertzElement,
  Typed,
  TypedCurve,
  TypedReset,
  TypedThermalCurve,
  TypedTolerance,
} from "./sheet.js";
export { sheetSchema } from "./sheet-schema.js";
