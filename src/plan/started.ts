/** Where the function of a setting starts, and whether something starts it. */
import { object } from "../base/check.js";
import { type Decimal, decimal } from "../base/exact.js";
import { written } from "../base/written.js";
import { type Definition, definitionOf, type ElementSetting, type RelayInputs, startLevel } from "../element/index.js";

/** The definition that goes with a setting, which may have been through other hands. */
export const definition = (setting: ElementSetting): Definition =>
  definitionOf(object(setting, "setting", "the settings of a function").function);

/** A value with the unit of a setting. */
export const inItsUnit = (value: number | string, setting: ElementSetting): string =>
  written(value, definition(setting).unit);

/** Whether its time depends on the quantity. */
export const isInverse = ({ law: { curve } }: ElementSetting): boolean =>
  typeof curve === "string" || curve.form !== "definite";

/** The level that a function has to see before it does anything; nothing where it does not wait. */
export const armingLevelOf = (setting: ElementSetting): number | undefined =>
  "armAbove" in setting ? setting.armAbove : undefined;

/** The level below which a function is blocked; nothing where no level blocks it. */
export const blockingLevelOf = (setting: ElementSetting): number | undefined =>
  "blockBelow" in setting ? setting.blockBelow : undefined;

/** Where a function starts. */
export const startOf = (setting: ElementSetting): Decimal => decimal(startLevel(setting), "pickup");

/** Whether a function is started by what stands on its inputs, and nothing blocks it. */
export function isStartedBy(setting: ElementSetting, inputs: RelayInputs): boolean {
  const { margin, blocked } = definition(setting).read(inputs, setting);
  return margin > 0 && !blocked;
}
