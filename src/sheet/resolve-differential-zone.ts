/** What lies between two sides of current transformers, as numbers at the relay. */
import { fail } from "../base/check.js";
import { type Decimal, decimal, toNumber } from "../base/exact.js";
import { readQuantity } from "../base/quantity.js";
import type { Zone, ZoneSide } from "../element/index.js";
import { type ExactRatio, readTyped } from "./ratio.js";
import type { Sheet, SheetElement } from "./sheet.js";
import type { SheetSecondSide, SheetZone, SheetZoneSide } from "./sheet-differential.js";
import type { Typed } from "./typed.js";

/** A side with its rated secondary current, exactly. */
interface ExactSide extends Pick<ZoneSide, "clock" | "zeroSequence"> {
  readonly ratedCurrent: Decimal;
}

/** A zone before its currents are rounded to doubles. */
export interface ExactZone {
  readonly first: ExactSide;
  readonly second: ExactSide;
}

/** Stands in for a zone that could not be read. */
export const plainZone = (): ExactZone => {
  const side = { ratedCurrent: decimal(1, ""), clock: 0, zeroSequence: "kept" } as const;
  return { first: side, second: side };
};

/** The zone of a sheet; two sides of the same current transformers, and nothing between them, where it says nothing. */
export function resolveDifferentialZone(
  { zone = {}, elements }: Sheet,
  ct: ExactRatio | undefined,
): ExactZone | undefined {
  if (ct === undefined) return undefined;
  const { first = {}, second = {} } = zone;
  const isTransformer = first.clock !== undefined || second.clock !== undefined;
  checkFunctions(elements, zone, isTransformer);
  if (first.clock && second.clock)
    fail("conflict", "zone.second.clock", "a clock number on one side alone, by which it lags the other", second.clock);
  const [one, other] = ratedCurrents(zone, ct, isTransformer);
  const sideOf = ({ clock = 0, zeroSequence }: SheetZoneSide, ratedCurrent: Decimal): ExactSide => ({
    ratedCurrent,
    clock,
    zeroSequence: zeroSequence ?? (isTransformer ? "removed" : "kept"),
  });
  return { first: sideOf(first, one), second: sideOf(second, other) };
}

/** The zone with currents as doubles. */
export const differentialZoneOf = ({ first, second }: ExactZone): Zone => ({
  first: { ...first, ratedCurrent: toNumber(first.ratedCurrent, "zone.first") },
  second: { ...second, ratedCurrent: toNumber(second.ratedCurrent, "zone.second") },
});

/** With a transformer in the zone it is 87T, which needs to know how it turns; without one it is 87. */
function checkFunctions(elements: readonly SheetElement[], { first, second }: SheetZone, isTransformer: boolean): void {
  const named = (name: string) => elements.find((element) => element?.function === name)?.id;
  const [plain, turned] = [named("87"), named("87T")];
  if (turned !== undefined && !isTransformer)
    fail(
      "missing",
      "zone.second.clock",
      `a clock number on one of the sides, which element ${turned} needs`,
      undefined,
    );
  const written = (["clock", "zeroSequence"] as const).flatMap((field) => [
    [`zone.first.${field}`, first?.[field]] as const,
    [`zone.second.${field}`, second?.[field]] as const,
  ]);
  const stray = written.find(([, value]) => value !== undefined);
  if (plain !== undefined && stray !== undefined)
    fail(
      "conflict",
      stray[0],
      `nothing beside element ${plain} of function 87; with a transformer it is 87T`,
      stray[1],
    );
}

type Pair = readonly [first: Decimal, second: Decimal];

function ratedCurrents(zone: SheetZone, ct: ExactRatio, isTransformer: boolean): Pair {
  const { power, first = {}, second = {} } = zone;
  const own = secondRatio(zone, ct);
  if (power !== undefined) return ofPower(power, [first, second], [ct, own]);
  for (const [name, { voltage }] of [
    ["first", first],
    ["second", second],
  ] as const) {
    if (voltage !== undefined)
      fail(
        "missing",
        "zone.power",
        `the rated power, without which the voltage of the ${name} side says nothing`,
        power,
      );
  }
  const one = given(first, "first", ct);
  const other = given(second, "second", own);
  if (isTransformer && (one === undefined || other === undefined))
    fail(
      "missing",
      `zone.${one === undefined ? "first" : "second"}.ratedCurrent`,
      "the rated current of both sides, or the power of the zone and both voltages",
      undefined,
    );
  const reference = one ?? ct.secondary;
  // The same current on the primary side of both.
  const same = reference.times(ct.primary).times(own.secondary).div(ct.secondary).div(own.primary);
  return [reference, other ?? same];
}

/** The current transformers of the second side; those of the first where it does not say. */
export const secondRatio = ({ second: { ct: own } = {} }: SheetZone, ct: ExactRatio): ExactRatio =>
  own === undefined ? ct : readTyped(own, "zone.second.ct", CT);

const CT = { kind: "current", example: 'a ratio such as "400/5"' } as const;

function given({ ratedCurrent }: SheetZoneSide, name: string, ct: ExactRatio): Decimal | undefined {
  if (ratedCurrent === undefined) return undefined;
  const path = `zone.${name}.ratedCurrent`;
  const read = readQuantity(ratedCurrent, "current", path, { rated: ct.secondary });
  return read.gt(0) ? read : fail("out-of-range", path, "a current above 0", ratedCurrent);
}

/** power/(√3 · voltage), on the secondary side. */
function ofPower(
  power: Typed,
  sides: readonly [SheetZoneSide, SheetSecondSide],
  ratios: readonly [ExactRatio, ExactRatio],
): Pair {
  const rated = above0(power, "power", "zone.power");
  const currents = sides.map(({ voltage, ratedCurrent }, i) => {
    const side = i === 0 ? "first" : "second";
    if (ratedCurrent !== undefined)
      fail("conflict", `zone.${side}.ratedCurrent`, "either the power of the zone or rated currents", ratedCurrent);
    if (voltage === undefined)
      fail("missing", `zone.${side}.voltage`, 'a rated voltage such as "33 kV", which the power needs', voltage);
    const { primary, secondary } = ratios[i] as ExactRatio;
    const line = above0(voltage as Typed, "voltage", `zone.${side}.voltage`);
    return rated.div(decimal(3, "").sqrt()).div(line).times(secondary).div(primary);
  });
  return currents as unknown as Pair;
}

function above0(typed: Typed, kind: "power" | "voltage", path: string): Decimal {
  const read = readQuantity(typed, kind, path);
  return read.gt(0) ? read : fail("out-of-range", path, `a ${kind} above 0`, typed);
}
