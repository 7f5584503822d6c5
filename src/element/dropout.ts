/** Where functions start, and where they let go. */
import { object } from "../base/check.js";
import { type Decimal, decimal, toNumber } from "../base/exact.js";
import { checkedDefinition } from "./check-setting.js";
import type { Definition } from "./definition.js";
import type { Distance, ElementSetting } from "./setting.js";

/**
 * Where a function starts: startRatio × pickup.
 *
 * @returns In the unit of the setting.
 * @throws A {@link InputError} for what is no setting, and a start beyond the range of a double.
 * Accuracy: the double nearest to the exact product.
 * @source definition
 *
 * @example
 * import { startLevel } from "tripwright/element";
 * const accuracy = { pickup: { percent: 5 }, time: { percent: 5 } };
 * const law = { curve: "iec-inverse", startRatio: 1.1 } as const;
 * startLevel({ id: "51P", function: "51", watches: "phase", pickup: 4, law, measuringDelay: 0.04, contact: "trip", accuracy }); // → 4.4
 */
export function startLevel(setting: ElementSetting): number {
  object(object(setting, "", "the settings of a function").law, "law", "a time law");
  return toNumber(exactStart(setting), "pickup");
}

/**
 * Where a function lets go: its dropout ratio × start, or start ∓ its dropout difference; what is usual for the function
 * where the setting does not say.
 *
 * @returns In the unit of the setting.
 * @throws A {@link InputError} for a dropout on the operating side of the start.
 * Accuracy: the double nearest to the exact result.
 * @source definition; usual values are common practice
 *
 * @example
 * import { dropoutLevel } from "tripwright/element";
 * const accuracy = { pickup: { absolute: 0.01 }, time: { percent: 5 } };
 * const law = { curve: { form: "definite", time: 0.5, side: "under" } } as const;
 * dropoutLevel({ id: "81U", function: "81U", watches: "frequency", pickup: 49, dropout: { difference: 0.02 }, law, measuringDelay: 0.1, contact: "trip", accuracy }); // → 49.02
 */
export function dropoutLevel(setting: ElementSetting): number {
  return toNumber(exactDropout(setting, checkedDefinition(setting)), "dropout");
}

const exactStart = ({ pickup, law }: ElementSetting): Decimal =>
  decimal(pickup, "pickup").times(decimal(law.startRatio ?? 1, "law.startRatio"));

function exactDropout(setting: ElementSetting, { side, practice }: Definition): Decimal {
  const start = exactStart(setting);
  const distance: Distance = setting.dropout ?? practice.dropout;
  if ("ratio" in distance) return start.times(decimal(distance.ratio, "dropout.ratio"));
  const difference = decimal(distance.difference, "dropout.difference");
  return side === "over" ? start.minus(difference) : start.plus(difference);
}
