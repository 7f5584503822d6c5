/** What must be measured, and how the band comes about. */

import type { Answer } from "../base/answer.js";
import type { Band } from "../base/band.js";
import { type Decimal, decimal, larger, smaller, toNumber } from "../base/exact.js";
import { type CurveSetting, operateTime, standardCurve } from "../curve/index.js";
import { type Definition, definitionOf, type ElementSetting } from "../element/index.js";
import { band, type Tolerance } from "../grading/index.js";
import type { Unit } from "./check.js";

/** A band with the rule and the numbers from which it came. */
export interface Expectation {
  readonly unit: Unit;
  readonly band: Band;
  readonly rule: string;
  readonly numbers: { readonly [name: string]: number };
}

export const definition = (setting: ElementSetting): Definition =>
  definitionOf(setting.function) as unknown as Definition;

export const isInverse = ({ law: { curve } }: ElementSetting): boolean =>
  typeof curve === "string" || curve.form !== "definite";

/** Where a function starts: startRatio × setting, exactly. */
export const startOf = ({ pickup, law }: ElementSetting): Decimal =>
  decimal(pickup, "pickup").times(law.startRatio ?? 1);

/** The level at which a function must start. */
export function expectPickup(setting: ElementSetting): Expectation {
  const { unit } = definition(setting);
  const accepted = band(startOf(setting), setting.accuracy.pickup);
  const { startRatio = 1 } = setting.law;
  const start = startRatio === 1 ? "starts at the setting" : `starts at ${startRatio} × the setting`;
  const rule = `${start}; ${toleranceInWords(setting.accuracy.pickup, unit)}`;
  return { unit, band: accepted, rule, numbers: { setting: setting.pickup, startRatio, ...limitsOf(accepted) } };
}

/** The time in which a function must operate at a level, or why there is none. */
export function expectTime(setting: ElementSetting, level: number): Answer<Expectation, string> {
  const { unit, side } = definition(setting);
  const ratio = decimal(level, "level").div(decimal(setting.pickup, "pickup"));
  const multiple = toNumber(ratio, "level");
  const time = nominalTime(setting.law, ratio);
  if (time === undefined) {
    const start = toNumber(startOf(setting), "pickup");
    return {
      kind: "none",
      reason: `${level} ${unit} is not ${side === "over" ? "above" : "below"} where ${setting.id} starts (${start} ${unit})`,
    };
  }
  const accepted = withoutNegative(band(time, setting.accuracy.time));
  const place = isInverse(setting) ? `${shortest(multiple)} × the setting` : `${shortest(level)} ${unit}`;
  const rule = `${lawInWords(setting.law)}, at ${place}; ${toleranceInWords(setting.accuracy.time, "s")}`;
  return {
    kind: "found",
    unit: "s",
    band: accepted,
    rule,
    numbers: { level, setting: setting.pickup, multiple, ...limitsOf(accepted) },
  };
}

/** No time lies below 0, so that a limit there is none. */
function withoutNegative(accepted: Band): Band {
  const { low, ...rest } = accepted;
  return low !== undefined && low <= 0 ? rest : accepted;
}

const limitsOf = ({ nominal, low, high }: Band) => ({
  nominal,
  ...(low !== undefined && { low }),
  ...(high !== undefined && { high }),
});

/**
 * The nominal operate time; nothing where it never operates. In exact decimals wherever the law itself is one: a definite
 * time, and an inverse one with exponent 1 or 2, whose multiple of 132/120 no double holds.
 */
function nominalTime(law: CurveSetting, multiple: Decimal): Decimal | undefined {
  const time = operateTime(law, toNumber(multiple, "level"));
  if (!Number.isFinite(time)) return undefined;
  const exact = exactTime(law, multiple);
  if (exact === undefined) return decimal(tidied(time), "time");
  const { multiplier = 1, minimumTime = 0, addedTime = 0 } = law;
  const scaled = exact.times(decimal(multiplier, "multiplier"));
  return larger(scaled, decimal(minimumTime, "minimumTime")).plus(decimal(addedTime, "addedTime"));
}

/** The curve's own time where it is a rational function of the multiple. */
function exactTime({ curve: given, ceilingMultiple }: CurveSetting, multiple: Decimal): Decimal | undefined {
  const curve = typeof given === "string" ? standardCurve(given) : given;
  if (curve.form === "definite") return decimal(curve.time, "time");
  if ((curve.form !== "inverse" && curve.form !== "under") || (curve.alpha !== 1 && curve.alpha !== 2))
    return undefined;
  const clamped =
    ceilingMultiple === undefined ? multiple : smaller(multiple, decimal(ceilingMultiple, "ceilingMultiple"));
  const power = (curve.alpha === 1 ? clamped : clamped.times(clamped)).minus(1).abs();
  return decimal(curve.k, "k").div(power).plus(decimal(curve.c, "c"));
}

/**
 * An inverse time is known to 4 units in the last place. Where a decimal of 14 digits lies that near, it is the time:
 * 13.5/(3 − 1) · 0.2 s is 1.35 s, whatever the last bit of the product, and a reading on its limit is on it.
 */
function tidied(time: number): number {
  const short = Number(time.toPrecision(14));
  return Math.abs(time - short) <= 4 * Number.EPSILON * time ? short : time;
}

function lawInWords({ curve, multiplier, ceilingMultiple, minimumTime, addedTime }: CurveSetting): string {
  const added = addedTime === undefined ? "" : `, ${addedTime} s added`;
  if (typeof curve === "object" && curve.form === "definite") {
    return `${curve.time === 0 ? "without intended delay" : `definite time ${shortest(curve.time)} s`}${added}`;
  }
  const name = typeof curve === "string" ? curve : "a curve with constants of its own";
  const ceiling = ceilingMultiple === undefined ? "" : `, flat above ${ceilingMultiple} ×`;
  const floor = minimumTime === undefined ? "" : `, at least ${minimumTime} s`;
  return `${name}, time multiplier ${multiplier ?? 1}${ceiling}${floor}${added}`;
}

/** For reading: a computed number in at most 6 digits, a typed one as typed. */
const shortest = (x: number): string => (String(x).length <= 8 ? String(x) : String(Number(x.toPrecision(6))));

function toleranceInWords({ percent, absolute, combine, side = "both" }: Tolerance, unit: Unit): string {
  const parts = [
    ...(percent === undefined ? [] : [`${percent} %`]),
    ...(absolute === undefined ? [] : [`${shortest(Number(absolute))} ${unit}`]),
  ];
  const combined = combine === "sum" ? "the sum of" : "the greater of";
  const width = parts.length === 1 ? parts[0] : `${combined} ${parts.join(" and ")}`;
  return side === "both" ? `± ${width}` : `at most ${width} ${side === "high" ? "above" : "below"}`;
}
