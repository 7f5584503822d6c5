import { above, fail, nameIn, object } from "../base/check.js";
import { within } from "../base/input-error.js";
import type { Seconds } from "../base/units.js";
import { curveSide, operateTime } from "../curve/index.js";
import { instantaneousOvercurrent, timeOvercurrent } from "./current.js";
import type { Definition } from "./definition.js";
import { overfrequency, underfrequency } from "./frequency.js";
import { checkInputs, type RelayInputs } from "./inputs.js";
import type { ElementSetting, FunctionNumber, SettingOf } from "./setting.js";
import { overvoltage, undervoltage } from "./voltage.js";

/** Adding a function is adding its definition here and its data to `ElementSetting`; no branch elsewhere. */
const DEFINITIONS: { readonly [F in FunctionNumber]: Definition<SettingOf<F>> } = {
  "27": undervoltage,
  "50": instantaneousOvercurrent,
  "51": timeOvercurrent,
  "59": overvoltage,
  "81O": overfrequency,
  "81U": underfrequency,
};

/** The function numbers that this library knows. */
export const functionNumbers: readonly FunctionNumber[] = /* @__PURE__ */ Object.freeze(
  Object.keys(DEFINITIONS) as FunctionNumber[],
);

/**
 * The definition of a protective function: what it watches, how to pose it with a source, how it is checked.
 *
 * @throws A {@link InputError} for a function number that this library does not know.
 * @source IEEE C37.2 (device function numbers)
 *
 * @example
 * import { definitionOf } from "tripwright/element";
 * definitionOf("81U").side; // → "under"
 */
export function definitionOf<F extends FunctionNumber>(name: F): Definition<SettingOf<F>> {
  return DEFINITIONS[nameIn(name, DEFINITIONS, "function")] as unknown as Definition<SettingOf<F>>;
}

/**
 * When a function operates on inputs that stand still from the start: its time law at the multiple that it reads.
 *
 * @param setting - Secondary values, SI units.
 * @param inputs - What the relay's inputs see; those that are not named see nothing.
 * @returns Seconds; `Infinity` where it does not operate, or is blocked.
 * @throws A {@link InputError} for settings outside their domain and for a law on the wrong side.
 * Accuracy: that of the curve at the multiple as read.
 * @source IEC 60255-151, IEC 60255-127, IEC 60255-181
 *
 * @example
 * import { operateTimeOf } from "tripwright/element";
 * const accuracy = { pickup: { percent: 5 }, time: { percent: 5 } };
 * const law = { curve: "iec-very-inverse", multiplier: 0.2 } as const;
 * const setting = { id: "51P", function: "51", watches: "phase", pickup: 4, law, measuringDelay: 0.04, contact: "trip", accuracy } as const;
 * operateTimeOf(setting, { ia: { re: 12, im: 0, frequency: 50 } }); // → 1.35
 * operateTimeOf(setting, { ia: { re: 4, im: 0, frequency: 50 } }); // → Infinity
 */
export function operateTimeOf(setting: ElementSetting, inputs: RelayInputs): Seconds {
  const { read } = checkedDefinition(setting);
  checkInputs(inputs);
  const { multiple, blocked } = read(inputs, setting);
  return blocked ? Number.POSITIVE_INFINITY : within("law", () => operateTime(setting.law, multiple));
}

/** The definition that goes with a setting, after a look at the setting itself. */
export function checkedDefinition(setting: ElementSetting): Definition {
  object(setting, "", "the settings of a function");
  const definition = definitionOf(setting.function) as unknown as Definition;
  above(setting.pickup, 0, "pickup", "a pickup", definition.unit);
  definition.check(setting);
  const { curve } = object(setting.law, "law", "a time law");
  const side = within("law", () => curveSide(curve));
  if (side !== definition.side) {
    fail(
      "conflict",
      "law.curve",
      `a curve of the ${definition.side} side, as function ${setting.function} operates`,
      curve,
    );
  }
  return definition;
}
