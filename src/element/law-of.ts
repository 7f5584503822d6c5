import type { CurveSetting } from "../curve/index.js";
import { dropoutLevel, startLevel } from "./dropout.js";
import type { ElementSetting } from "./setting.js";

/**
 * The time law of a function as its contacts follow it: it starts where the function does, also on a curve that would start
 * at nothing by itself (M² · t = k, a drawn one), and lets go where the function does.
 *
 * @throws A {@link InputError} for a dropout on the operating side of the start.
 * Accuracy: the dropout ratio is the quotient of two doubles.
 * @source definition
 *
 * @example
 * import { lawOf } from "tripwright/element";
 * const accuracy = { pickup: { percent: 5 }, time: { percent: 5 } };
 * const law = { curve: { form: "energy", k: 10 } } as const;
 * const setting = { id: "46", function: "46", watches: "I2", rotation: "ABC", pickup: 0.5, law, measuringDelay: 0.06, contact: "trip", accuracy } as const;
 * lawOf(setting); // → { startRatio: 1, dropoutRatio: 0.95, curve: { form: "energy", k: 10 } }
 */
export function lawOf(setting: ElementSetting): CurveSetting {
  return { startRatio: 1, dropoutRatio: dropoutLevel(setting) / startLevel(setting), ...setting.law };
}
