import { nameIn } from "../base/check.js";
import type { Definition } from "./definition.js";
import { restrainedDifferential, transformerDifferential } from "./differential.js";
import { directionalEarthFault, directionalOvercurrent } from "./directional.js";
import { distance } from "./distance.js";
import { frequencyRate, overfrequency, underfrequency } from "./frequency.js";
import { negativeSequenceOvercurrent, negativeSequenceOvervoltage } from "./negative-sequence.js";
import {
  instantaneousEarthFault,
  instantaneousGround,
  instantaneousOvercurrent,
  timeEarthFault,
  timeGround,
  timeOvercurrent,
} from "./overcurrent.js";
import { activePower } from "./power.js";
import type { FunctionNumber, SettingOf } from "./setting.js";
import { synchronismCheck } from "./synchronism.js";
import { thermalOverload } from "./thermal.js";
import { undercurrent } from "./undercurrent.js";
import { unrestrainedDifferential } from "./unrestrained.js";
import { overvoltage, residualOvervoltage, undervoltage } from "./voltage.js";
import { voltsPerHertz } from "./volts-per-hertz.js";

/**
 * Adding a function is adding its definition here and its data to `ElementSetting`. What else branches on function numbers
 * is named where DEVELOPERS.md says how to add an element.
 */
const DEFINITIONS: { readonly [F in FunctionNumber]: Definition<SettingOf<F>> } = {
  "24": voltsPerHertz,
  "25": synchronismCheck,
  "27": undervoltage,
  "32": activePower,
  "37": undercurrent,
  "46": negativeSequenceOvercurrent,
  "47": negativeSequenceOvervoltage,
  "49": thermalOverload,
  "50": instantaneousOvercurrent,
  "50N": instantaneousEarthFault,
  "50G": instantaneousGround,
  "51": timeOvercurrent,
  "51N": timeEarthFault,
  "51G": timeGround,
  "59": overvoltage,
  "59N": residualOvervoltage,
  "67": directionalOvercurrent,
  "67N": directionalEarthFault,
  "81O": overfrequency,
  "81U": underfrequency,
  "81R": frequencyRate,
  "21": distance,
  "87": restrainedDifferential,
  "87T": transformerDifferential,
  "87U": unrestrainedDifferential,
};

/** The function numbers that this library knows. */
export const functionNumbers: readonly FunctionNumber[] = /* @__PURE__ */ Object.freeze(
  Object.keys(DEFINITIONS) as FunctionNumber[],
);

/**
 * The definition of a protective function: what it watches, how to pose it with a source, how it is checked.
 *
 * @throws A {@link InputError} for a function number that this library does not know.
 * Accuracy: exact; what its functions read and pose has that of phasor arithmetic.
 * @source IEEE C37.2 (device function numbers)
 *
 * @example
 * import { definitionOf } from "tripwright/element";
 * definitionOf("81U").side; // → "under"
 */
export function definitionOf<F extends FunctionNumber>(name: F): Definition<SettingOf<F>> {
  return DEFINITIONS[nameIn(name, DEFINITIONS, "function")] as unknown as Definition<SettingOf<F>>;
}
