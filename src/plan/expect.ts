/** What must be measured, and how the band comes about. */
import type { Answer } from "../base/answer.js";
import type { Band } from "../base/band.js";
import { object } from "../base/check.js";
import { decimal, toNumber } from "../base/exact.js";
import { within } from "../base/input-error.js";
import { written } from "../base/written.js";
import {
  type Accuracy,
  checkedDefinition,
  dropoutLevel,
  type Edge,
  type ElementSetting,
  lawOf,
  startLevel,
} from "../element/index.js";
import { band } from "../grading/index.js";
import type { Unit } from "./check.js";
import { asTyped, lawInWords, toleranceInWords } from "./in-words.js";
import { multipleAt, nominalTime, saysSomethingAt } from "./nominal-time.js";
import { isInverse, startOf } from "./started.js";

/** A band with the rule and the numbers from which it came. */
export interface Expectation {
  readonly unit: Unit;
  readonly band: Band;
  readonly rule: string;
  readonly numbers: { readonly [name: string]: number };
}

/**
 * The level at which a function must start: startRatio × the setting, within the accuracy declared of the pickup. A limit at 0
 * or below is none.
 *
 * @returns The band in the unit of the setting, with the rule and the numbers from which it came.
 * @throws A {@link InputError} for a function number that this library does not know, and for settings that are none.
 * Accuracy: limits are the doubles nearest to exact decimals.
 * @source IEC 60255-151, IEC 60255-127, IEC 60255-181 (operate value)
 *
 * @example
 * import { expectPickup } from "tripwright/plan";
 * const accuracy = { pickup: { percent: 5 }, time: { percent: 5, absolute: 0.04 } };
 * const law = { curve: "iec-very-inverse", multiplier: 0.2 } as const;
 * const setting = { id: "51P", function: "51", watches: "phase", pickup: 4, law, measuringDelay: 0.04, contact: "trip", accuracy } as const;
 * expectPickup(setting).band; // → { nominal: 4, low: 3.8, high: 4.2 }
 */
export function expectPickup(setting: ElementSetting): Expectation {
  const { unit } = checkedDefinition(setting);
  const { pickup } = accuracyOf(setting);
  const accepted = withoutNegative(toleranceOfStart(setting));
  const { startRatio = 1 } = setting.law;
  const start = startRatio === 1 ? "starts at the setting" : `starts at ${startRatio} × the setting`;
  const rule = `${start}; ${toleranceInWords(pickup, unit)}`;
  return { unit, band: accepted, rule, numbers: { setting: setting.pickup, startRatio, ...limitsOf(accepted) } };
}

/** Where a relay that is right may start, with limits that no quantity reaches. */
export const toleranceOfStart = (setting: ElementSetting): Band =>
  within("accuracy.pickup", () => band(startOf(setting), accuracyOf(setting).pickup));

/**
 * Where a function has started, however late it starts within the accuracy declared of its pickup. A tolerance on the other
 * side alone leaves the start itself.
 *
 * @returns In the unit of the setting; 0 or below for an under function whose tolerance is as wide as its setting.
 * @throws A {@link InputError} as {@link expectPickup} does.
 * Accuracy: as {@link expectPickup}.
 * @source definition
 *
 * @example
 * import { latestStart } from "tripwright/plan";
 * const accuracy = { pickup: { percent: 5 }, time: { percent: 5, absolute: 0.04 } };
 * const law = { curve: "iec-very-inverse", multiplier: 0.2 } as const;
 * const setting = { id: "51P", function: "51", watches: "phase", pickup: 4, law, measuringDelay: 0.04, contact: "trip", accuracy } as const;
 * latestStart(setting); // → 4.2
 */
export function latestStart(setting: ElementSetting): number {
  const { side } = checkedDefinition(setting);
  const { nominal, low = nominal, high = nominal } = toleranceOfStart(setting);
  return side === "over" ? high : low;
}

/** Where a boundary must be crossed, where the sheet declares how well a limit in angle is kept. */
export function expectEdge(
  { name, at, unit, heldTo }: Edge,
  { accuracy }: ElementSetting,
): Answer<Expectation, string> {
  const tolerance = accuracy[heldTo];
  if (tolerance === undefined)
    return {
      kind: "none",
      reason: `the sheet declares no accuracy of the ${heldTo} that a reading could be held against`,
    };
  // An angle may be negative; a size may not.
  const accepted =
    heldTo === "angle"
      ? band(decimal(at, "edge"), { ...tolerance, period: 360 })
      : withoutNegative(band(decimal(at, "edge"), tolerance));
  const rule = `${name} limit at ${written(asTyped(at), unit)}; ${toleranceInWords(tolerance, unit)}`;
  return { kind: "found", unit, band: accepted, rule, numbers: { at, ...limitsOf(accepted) } };
}

/**
 * The level at which a function must let go, within the accuracy declared of the dropout, else of the pickup.
 *
 * @returns As {@link expectPickup}; none where the settings declare no dropout.
 * @throws A {@link InputError} as {@link expectPickup} does, and for a dropout on the operating side of the start.
 * Accuracy: as {@link expectPickup}.
 * @source IEC 60255-151, IEC 60255-127, IEC 60255-181 (reset value)
 *
 * @example
 * import { expectDropout } from "tripwright/plan";
 * const accuracy = { pickup: { percent: 5 }, time: { percent: 5, absolute: 0.04 } };
 * const law = { curve: "iec-very-inverse", multiplier: 0.2 } as const;
 * const setting = { id: "51P", function: "51", watches: "phase", pickup: 4, dropout: { ratio: 0.95 }, law, measuringDelay: 0.04, contact: "trip", accuracy } as const;
 * const expected = expectDropout(setting);
 * expected.kind === "found" && expected.band; // → { nominal: 3.8, low: 3.61, high: 3.99 }
 */
export function expectDropout(setting: ElementSetting): Answer<Expectation, string> {
  const { unit } = checkedDefinition(setting);
  if (setting.dropout === undefined)
    return { kind: "none", reason: "the sheet declares no dropout that a reading could be held against" };
  const accuracy = accuracyOf(setting);
  const heldTo = accuracy.dropout === undefined ? "pickup" : "dropout";
  const dropout = accuracy.dropout ?? accuracy.pickup;
  const level = dropoutLevel(setting);
  const accepted = withoutNegative(within(`accuracy.${heldTo}`, () => band(level, dropout)));
  const declared =
    "ratio" in setting.dropout
      ? `lets go at ${setting.dropout.ratio} × the start`
      : `lets go ${written(setting.dropout.difference, unit)} back from the start`;
  const rule = `${declared}; ${toleranceInWords(dropout, unit)}`;
  const numbers = { start: startLevel(setting), ...limitsOf(accepted) };
  return { kind: "found", unit, band: accepted, rule, numbers };
}

/**
 * The time in which a function must operate at a level, within the accuracy declared of its time. A limit at 0 s or before is none.
 *
 * @param level - In the unit of the setting.
 * @returns The band in seconds, with the rule and the numbers from which it came; none at a level at which the function does not
 * start, and where a drawn curve says nothing.
 * @throws A {@link InputError} as {@link expectPickup} does, and for a level that is no number.
 * Accuracy: definite times, and curves with an exponent of 1 or 2, are exact decimals; others as `operateTime`.
 * @source IEC 60255-151, IEC 60255-127, IEC 60255-181 (operate time)
 *
 * @example
 * import { expectTime } from "tripwright/plan";
 * const accuracy = { pickup: { percent: 5 }, time: { percent: 5, absolute: 0.04 } };
 * const law = { curve: "iec-very-inverse", multiplier: 0.2 } as const;
 * const setting = { id: "51P", function: "51", watches: "phase", pickup: 4, law, measuringDelay: 0.04, contact: "trip", accuracy } as const;
 * const expected = expectTime(setting, 12);
 * expected.kind === "found" && expected.band; // → { nominal: 1.35, low: 1.2825, high: 1.4175 }
 */
export function expectTime(setting: ElementSetting, level: number): Answer<Expectation, string> {
  const { unit, side } = checkedDefinition(setting);
  if (level < 0) return { kind: "none", reason: `needs a level of ${written(level, unit)}` };
  const ratio = multipleAt(level, setting.pickup);
  const multiple = toNumber(ratio, "level");
  if (!saysSomethingAt(setting.law, multiple))
    return { kind: "none", reason: `its drawn curve says nothing at ${asTyped(multiple)} × the setting` };
  const law = lawOf(setting);
  const time = within("law", () => nominalTime(law, ratio));
  if (time === undefined) {
    const start = toNumber(startOf(setting), "pickup");
    return {
      kind: "none",
      reason: `${written(level, unit)} is not ${side === "over" ? "above" : "below"} where ${setting.id} starts (${written(start, unit)})`,
    };
  }
  const accuracy = accuracyOf(setting);
  const accepted = withoutNegative(within("accuracy.time", () => band(time, accuracy.time)));
  const place = isInverse(setting) ? `${asTyped(multiple)} × the setting` : `${written(asTyped(level), unit)}`;
  const rule = `${lawInWords(setting.law)}, at ${place}; ${toleranceInWords(accuracy.time, "s")}`;
  return {
    kind: "found",
    unit: "s",
    band: accepted,
    rule,
    numbers: { level, setting: setting.pickup, multiple, ...limitsOf(accepted) },
  };
}

const accuracyOf = ({ accuracy }: ElementSetting): Accuracy =>
  object(accuracy, "accuracy", "what is declared { pickup, time }");

/** No time and no size lies below 0, so that a limit there is none. */
function withoutNegative(accepted: Band): Band {
  const { low, ...rest } = accepted;
  return low !== undefined && low <= 0 ? rest : accepted;
}

const limitsOf = ({ nominal, low, high }: Band) => ({
  nominal,
  ...(low !== undefined && { low }),
  ...(high !== undefined && { high }),
});
