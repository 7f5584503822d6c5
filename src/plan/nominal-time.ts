/** The nominal operate time, in exact decimals wherever the law itself is one. */
import { type Decimal, decimal, isTyped, larger, smaller, toNumber } from "../base/exact.js";
import { type CurveSetting, operateTime, standardCurve } from "../curve/index.js";

/** Whether a law has a time at a multiple: a drawn curve only between its ends, but for where it is declared flat. */
export function saysSomethingAt({ curve, ceilingMultiple = Number.POSITIVE_INFINITY }: CurveSetting, multiple: number) {
  if (typeof curve === "string" || curve.form !== "table") return true;
  const [first, last] = [curve.points[0]?.multiple ?? 0, curve.points.at(-1)?.multiple ?? 0];
  const taken = Math.min(multiple, ceilingMultiple);
  return taken >= first && taken <= last;
}

/**
 * The nominal operate time; nothing where it never operates. In exact decimals wherever the law itself is one: a definite
 * time, and one with an exponent of 1 or 2, whose multiple of 132/120 no double holds.
 */
export function nominalTime(law: CurveSetting, multiple: Decimal): Decimal | undefined {
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
const tidied = (time: number): number => shortNear(time) ?? time;

/** A decimal of 14 digits that lies within 4 units in the last place. */
function shortNear(x: number): number | undefined {
  const short = Number(x.toPrecision(14));
  return Math.abs(x - short) <= 4 * Number.EPSILON * x ? short : undefined;
}

/**
 * A level over the setting, exactly where both were typed. A double of more digits only stands for what is meant, such as 80 %
 * of 110 V/√3: where a decimal of 14 digits lies within what it is rounded by, that is the multiple, and a reading on its limit
 * is on it.
 */
export function multipleAt(level: number, pickup: number): Decimal {
  const ratio = decimal(level, "level").div(decimal(pickup, "pickup"));
  if (isTyped(level) && isTyped(pickup)) return ratio;
  const short = shortNear(toNumber(ratio, "level"));
  return short === undefined ? ratio : decimal(short, "level");
}
