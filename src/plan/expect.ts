/** What must be measured, and how the band comes about. */

import type { Answer } from "../base/answer.js";
import type { Band } from "../base/band.js";
import { object } from "../base/check.js";
import { type Decimal, decimal, larger, smaller, toNumber } from "../base/exact.js";
import { written } from "../base/written.js";
import { type Curve, type CurveSetting, operateTime, standardCurve } from "../curve/index.js";
import {
  type Definition,
  definitionOf,
  dropoutLevel,
  type Edge,
  type ElementSetting,
  lawOf,
  type RelayInputs,
  startLevel,
} from "../element/index.js";
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
  definitionOf(object(setting, "setting", "the settings of a function").function) as unknown as Definition;

export const isInverse = ({ law: { curve } }: ElementSetting): boolean =>
  typeof curve === "string" || curve.form !== "definite";

/** Where a function starts. */
export const startOf = (setting: ElementSetting): Decimal => decimal(startLevel(setting), "pickup");

/** Whether a function is started by what stands on its inputs, and nothing blocks it. */
export function isStartedBy(setting: ElementSetting, inputs: RelayInputs): boolean {
  const { margin, blocked } = definition(setting).read(inputs, setting);
  return margin > 0 && !blocked;
}

/** The level at which a function must start. */
export function expectPickup(setting: ElementSetting): Expectation {
  const { unit } = definition(setting);
  const accepted = band(startOf(setting), setting.accuracy.pickup);
  const { startRatio = 1 } = setting.law;
  const start = startRatio === 1 ? "starts at the setting" : `starts at ${startRatio} × the setting`;
  const rule = `${start}; ${toleranceInWords(setting.accuracy.pickup, unit)}`;
  return { unit, band: accepted, rule, numbers: { setting: setting.pickup, startRatio, ...limitsOf(accepted) } };
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
  const accepted = band(decimal(at, "edge"), heldTo === "angle" ? { ...tolerance, period: 360 } : tolerance);
  const rule = `${name} limit at ${written(shortest(at), unit)}; ${toleranceInWords(tolerance, unit)}`;
  return { kind: "found", unit, band: accepted, rule, numbers: { at, ...limitsOf(accepted) } };
}

/** The level at which a function must let go, where the sheet declares one. */
export function expectDropout(setting: ElementSetting): Answer<Expectation, string> {
  const { unit } = definition(setting);
  if (setting.dropout === undefined)
    return { kind: "none", reason: "the sheet declares no dropout that a reading could be held against" };
  const tolerance = setting.accuracy.dropout ?? setting.accuracy.pickup;
  const accepted = band(dropoutLevel(setting), tolerance);
  const declared =
    "ratio" in setting.dropout
      ? `lets go at ${setting.dropout.ratio} × the start`
      : `lets go ${written(setting.dropout.difference, unit)} back from the start`;
  const rule = `${declared}; ${toleranceInWords(tolerance, unit)}`;
  const numbers = { start: startLevel(setting), ...limitsOf(accepted) };
  return { kind: "found", unit, band: accepted, rule, numbers };
}

/** The time in which a function must operate at a level, or why there is none. */
export function expectTime(setting: ElementSetting, level: number): Answer<Expectation, string> {
  const { unit, side } = definition(setting);
  if (level < 0) return { kind: "none", reason: `needs a level of ${written(level, unit)}` };
  const ratio = decimal(level, "level").div(decimal(setting.pickup, "pickup"));
  const multiple = toNumber(ratio, "level");
  if (!saysSomethingAt(setting.law, multiple))
    return { kind: "none", reason: `its drawn curve says nothing at ${shortest(multiple)} × the setting` };
  const time = nominalTime(lawOf(setting), ratio);
  if (time === undefined) {
    const start = toNumber(startOf(setting), "pickup");
    return {
      kind: "none",
      reason: `${written(level, unit)} is not ${side === "over" ? "above" : "below"} where ${setting.id} starts (${written(start, unit)})`,
    };
  }
  const accepted = withoutNegative(band(time, setting.accuracy.time));
  const place = isInverse(setting) ? `${shortest(multiple)} × the setting` : `${written(shortest(level), unit)}`;
  const rule = `${lawInWords(setting.law)}, at ${place}; ${toleranceInWords(setting.accuracy.time, "s")}`;
  return {
    kind: "found",
    unit: "s",
    band: accepted,
    rule,
    numbers: { level, setting: setting.pickup, multiple, ...limitsOf(accepted) },
  };
}

/** Whether a law has a time at a multiple: a drawn curve only between its ends, but for where it is declared flat. */
export function saysSomethingAt({ curve, ceilingMultiple = Number.POSITIVE_INFINITY }: CurveSetting, multiple: number) {
  if (typeof curve === "string" || curve.form !== "table") return true;
  const [first, last] = [curve.points[0]?.multiple ?? 0, curve.points.at(-1)?.multiple ?? 0];
  const taken = Math.min(multiple, ceilingMultiple);
  return taken >= first && taken <= last;
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
 * time, and one with an exponent of 1 or 2, whose multiple of 132/120 no double holds.
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
  const clamped =
    ceilingMultiple === undefined ? multiple : smaller(multiple, decimal(ceilingMultiple, "ceilingMultiple"));
  const powerOf = (x: Decimal, exponent: number) => (exponent === 1 ? x : exponent === 2 ? x.times(x) : undefined);
  switch (curve.form) {
    case "inverse":
    case "under": {
      const power = powerOf(clamped, curve.alpha);
      return power && decimal(curve.k, "k").div(power.minus(1).abs()).plus(decimal(curve.c, "c"));
    }
    case "excess": {
      const power = powerOf(clamped.minus(1), curve.power);
      return power && decimal(curve.k, "k").div(power);
    }
    case "energy": {
      const time = decimal(curve.k, "k").div(clamped.times(clamped));
      return curve.maximumTime === undefined ? time : smaller(time, decimal(curve.maximumTime, "maximumTime"));
    }
    default:
      return undefined;
  }
}

/**
 * An inverse time is known to 4 units in the last place. Where a decimal of 14 digits lies that near, it is the time:
 * 13.5/(3 − 1) · 0.2 s is 1.35 s, whatever the last bit of the product, and a reading on its limit is on it.
 */
function tidied(time: number): number {
  const short = Number(time.toPrecision(14));
  return Math.abs(time - short) <= 4 * Number.EPSILON * time ? short : time;
}

const NAMES: Readonly<Record<Curve["form"], string>> = {
  inverse: "a curve with constants of its own",
  under: "a curve with constants of its own",
  definite: "definite time",
  excess: "k/(M − 1)^power",
  energy: "M² · t = k",
  thermal: "thermal image from cold",
  table: "a drawn curve",
};

function lawInWords({ curve, multiplier, ceilingMultiple, minimumTime, addedTime }: CurveSetting): string {
  const added = addedTime === undefined ? "" : `, ${addedTime} s added`;
  if (typeof curve === "object" && curve.form === "definite") {
    return `${curve.time === 0 ? "without intended delay" : `definite time ${shortest(curve.time)} s`}${added}`;
  }
  const name = typeof curve === "string" ? curve : NAMES[curve.form];
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
  return side === "both" ? `± ${width}` : `at most ${width} ${side === "high" ? "more" : "less"}`;
}
