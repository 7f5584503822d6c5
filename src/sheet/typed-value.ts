/** From a typed value to a number at the relay, by what it is a value of. */
import { fail } from "../base/check.js";
import { type Decimal, decimal, toNumber } from "../base/exact.js";
import { type QuantityKind, readQuantity } from "../base/quantity.js";
import type { Hertz } from "../base/units.js";
import type { LevelUnit } from "../element/index.js";
import { band, type Tolerance } from "../grading/index.js";
import type { Rotation } from "../phasor/index.js";
import { type ExactRatio, type Ratios, transformerBehind } from "./ratio.js";
import type { ExactZone } from "./resolve-differential-zone.js";
import type { Typed, TypedTolerance } from "./typed.js";

/** The system that the values of a sheet refer to, and the side of the transformers they are written on. */
export interface System {
  readonly frequency: Hertz;
  readonly rotation: Rotation;
  readonly values: "primary" | "secondary";
  readonly ratios: Ratios;
  /** What a differential function compares; absent where nothing says the rated currents. */
  readonly zone?: ExactZone;
}

/** Where a value is written, and what it is a value of. */
export interface Place {
  readonly system: System;
  readonly values: "primary" | "secondary";
  readonly watches: string;
  readonly unit: LevelUnit;
}

/** A typed value on the relay's side of the transformers, exactly. */
function atRelay(typed: Typed, kind: QuantityKind, path: string, place: Place): Decimal {
  const { system, values, watches, unit } = place;
  const { frequency } = system;
  if (kind === "activePower") {
    const { ct, vt } = system.ratios;
    const carried = readQuantity(typed, kind, path);
    if (values === "secondary" || ct === undefined || vt === undefined) return carried;
    return carried.times(ct.secondary).times(vt.secondary).div(ct.primary).div(vt.primary);
  }
  if (kind === "impedance" && unit === "ohm" && values === "primary") {
    const { ct, vt } = system.ratios;
    const primary = readQuantity(typed, kind, path);
    if (ct === undefined || vt === undefined) return primary;
    return primary.times(ct.primary).times(vt.secondary).div(ct.secondary).div(vt.primary);
  }
  if (kind !== "current" && kind !== "voltage") {
    const rated = kind === "frequency" ? { rated: decimal(frequency, "frequency") } : {};
    return readQuantity(typed, kind, path, { frequency, ...rated });
  }
  const ratio = system.ratios[transformerBehind(watches, unit)];
  const rated = ratio && ratedAt(place, ratio);
  const value = readQuantity(typed, kind, path, { frequency, ...(rated && { rated }) });
  return ratio !== undefined && values === "primary" ? value.times(ratio.secondary).div(ratio.primary) : value;
}

/** What "× rated" refers to; nobody agrees what the rated value of three times a zero sequence is. */
function ratedAt({ system: { zone }, values, watches }: Place, ratio: ExactRatio): Decimal | undefined {
  if (watches === "3V0") return undefined;
  if (watches !== "differential" || zone === undefined) return ratedOf(ratio, values, watches);
  const { ratedCurrent } = zone.first;
  return values === "primary" ? ratedCurrent.times(ratio.primary).div(ratio.secondary) : ratedCurrent;
}

const TO_NEUTRAL: readonly string[] = ["line-to-neutral", "V0", "V2"];

/** What is rated for the quantity that is watched: sequences and voltages to neutral are 1/√3 of what the ratio says. */
export function ratedOf(ratio: ExactRatio, values: "primary" | "secondary", watches: string): Decimal {
  return TO_NEUTRAL.includes(watches) ? ratio[values].div(decimal(3, "").sqrt()) : ratio[values];
}

export function positive(typed: Typed, kind: QuantityKind, path: string, place: Place): number {
  const value = atRelay(typed, kind, path, place);
  return value.gt(0) ? toNumber(value, path) : fail("out-of-range", path, `a ${kind} above 0`, typed);
}

/** The same where nothing is a value too. */
export function notNegative(typed: Typed, kind: QuantityKind, path: string, place: Place): number {
  const value = atRelay(typed, kind, path, place);
  return value.gte(0) ? toNumber(value, path) : fail("out-of-range", path, `a ${kind} of 0 or more`, typed);
}

/** A published tolerance as numbers at the relay. */
export function tolerance(typed: TypedTolerance, kind: QuantityKind, place: Place): Tolerance {
  const { percent, absolute, combine, side } = typed;
  const read: Tolerance = {
    ...(percent !== undefined && { percent: toNumber(readQuantity(percent, "percent", "percent"), "percent") }),
    ...(absolute !== undefined && { absolute: toNumber(atRelay(absolute, kind, "absolute", place), "absolute") }),
    ...(combine !== undefined && { combine }),
    ...(side !== undefined && { side }),
  };
  const { low, high, nominal } = band(1, read);
  if (low === nominal || high === nominal) fail("out-of-range", "", "a tolerance above 0", typed);
  return read;
}
