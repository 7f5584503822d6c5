import { within } from "../base/input-error.js";
import type { Seconds } from "../base/units.js";
import { operateTime } from "../curve/index.js";
import { checkedDefinition } from "./check-setting.js";
import { checkInputs, type RelayInputs } from "./inputs.js";
import type { ElementSetting } from "./setting.js";

/**
 * When a function operates on inputs that stand still from the start: its time law at the multiple that it reads. One that
 * waits to be armed is taken as armed.
 *
 * @param setting - Secondary values, SI units.
 * @param inputs - What the relay's inputs see; those that are not named see nothing.
 * @returns Seconds; `Infinity` where it does not operate, or is blocked.
 * @throws A {@link InputError} for settings outside their domain, for a law on the wrong side, and for inputs that are none
 * (`inputs.ia.re`).
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
  return blocked
    ? Number.POSITIVE_INFINITY
    : within("law", () => operateTime({ startRatio: 1, ...setting.law }, multiple));
}
