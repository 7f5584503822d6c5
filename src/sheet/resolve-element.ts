import { fail } from "../base/check.js";
import type { Collector } from "../base/collect.js";
import { type Decimal, decimal, toNumber } from "../base/exact.js";
import { within } from "../base/input-error.js";
import { type QuantityKind, readQuantity } from "../base/quantity.js";
import type { Hertz, Seconds } from "../base/units.js";
import type { CurveSetting } from "../curve/index.js";
import {
  checkedDefinition,
  type Definition,
  definitionOf,
  type ElementSetting,
  type LevelUnit,
  type OwnField,
} from "../element/index.js";
import { band, type Tolerance } from "../grading/index.js";
import type { Rotation } from "../phasor/index.js";
import { type ExactRatio, type Ratios, transformerBehind } from "./ratio.js";
import { resolveLaw, resolveTime } from "./resolve-law.js";
import type { SheetElement, Typed, TypedTolerance } from "./sheet.js";

/** The system that the values of a sheet refer to, and the side of the transformers they are written on. */
export interface System {
  readonly frequency: Hertz;
  readonly rotation: Rotation;
  readonly values: "primary" | "secondary";
  readonly ratios: Ratios;
}

const KINDS = { A: "current", V: "voltage", Hz: "frequency", "Hz/s": "rate", "1": "ratio" } as const satisfies Record<
  LevelUnit,
  QuantityKind
>;

/** One element of a sheet as settings at the relay; they are good only where no problem of it was collected. */
export function resolveElement(
  element: SheetElement,
  system: System,
  { attempt, problems }: Collector,
): ElementSetting {
  const before = problems.length;
  const definition = definitionOf(element.function) as unknown as Definition;
  const { unit, practice } = definition;
  const kind = KINDS[unit];
  const watches = element.watches ?? (definition.watches[0] as string);
  const own: Place = { system, values: element.values ?? system.values, watches, unit };
  // Accuracies are published for the relay, whatever side the settings are written on.
  const published: Place = { ...own, values: "secondary" };
  const { contact = "trip", startContact, accuracy, step } = element;
  const law = resolveLaw(element, definition, { frequency: system.frequency, attempt });
  const toleranceAt = (path: "pickup" | "dropout", typed: TypedTolerance) =>
    attempt(`accuracy.${path}`, {}, () => within(`accuracy.${path}`, () => tolerance(typed, kind, published)));
  const setting = {
    id: element.id,
    function: element.function,
    watches,
    pickup: attempt("pickup", 0, () => positive(element.pickup, kind, "pickup", own)),
    law,
    measuringDelay: attempt<Seconds>("measuringDelay", 0, () =>
      resolveTime(element.measuringDelay ?? `${practice.measuringCycles} cycles`, "measuringDelay", system.frequency),
    ),
    contact,
    ...(startContact !== undefined && {
      startContact: attempt("startContact", "", () => otherContact(startContact, contact)),
    }),
    ...(step !== undefined && { step: attempt("step", 1, () => positive(step, kind, "step", own)) }),
    ...dropoutOf(element, kind, own, attempt),
    accuracy: {
      pickup: toleranceAt("pickup", accuracy.pickup),
      time: attempt("accuracy.time", {}, () =>
        within("accuracy.time", () => timeTolerance(tolerance(accuracy.time, "time", published), law)),
      ),
      ...(accuracy.dropout && { dropout: toleranceAt("dropout", accuracy.dropout) }),
    },
    ...ownFields(element, definition, own, attempt),
    ...systemFields(definition, watches, system),
  } as ElementSetting;
  // What is left to check is how the settings go together.
  if (problems.length === before) attempt("", undefined, () => void checkedDefinition(setting));
  return setting;
}

type Attempt = Collector["attempt"];

/** The element's own fields as its definition lists them, beside those that every element has. */
function ownFields(element: SheetElement, { fields, unit }: Definition, own: Place, attempt: Attempt) {
  const typed = element as { readonly [F in OwnField]?: unknown };
  // Frequency functions are blocked by a voltage to neutral.
  const [kind, place] =
    unit === "A" ? (["current", own] as const) : (["voltage", unit === "V" ? own : toNeutral(own)] as const);
  const read = (field: OwnField) => {
    const value = typed[field];
    if (field === "phases") return value ?? "any";
    if (field === "direction" || field === "negativeSequenceFactor" || value === undefined) return value;
    return attempt(field, 0, () => positive(value as Typed, kind, field, place));
  };
  return Object.fromEntries(
    fields.map((field) => [field, read(field)] as const).filter(([, value]) => value !== undefined),
  );
}

const toNeutral = (place: Place): Place => ({ ...place, watches: "line-to-neutral", unit: "V" });

function systemFields({ system: fields }: Definition, watches: string, { frequency, rotation, ratios }: System) {
  const values = {
    rotation,
    ratedFrequency: frequency,
    ratedVoltage: ratios.vt && toNumber(ratedOf(ratios.vt, "secondary", watches), "vt"),
  };
  return Object.fromEntries(fields.map((field) => [field, values[field]]));
}

function dropoutOf(element: SheetElement, kind: QuantityKind, own: Place, attempt: Attempt) {
  const { dropoutRatio: ratio, dropoutDifference: difference } = element;
  if (ratio !== undefined && difference !== undefined)
    attempt("dropoutDifference", undefined, () =>
      fail("conflict", "dropoutDifference", "either a ratio or a difference", difference),
    );
  if (ratio !== undefined)
    return { dropout: { ratio: attempt("dropoutRatio", 1, () => positive(ratio, "ratio", "dropoutRatio", own)) } };
  if (difference !== undefined)
    return {
      dropout: {
        difference: attempt("dropoutDifference", 0, () => positive(difference, kind, "dropoutDifference", own)),
      },
    };
  return {};
}

/** Where a value is written, and what it is a value of. */
interface Place {
  readonly system: System;
  readonly values: "primary" | "secondary";
  readonly watches: string;
  readonly unit: LevelUnit;
}

/** A typed value on the relay's side of the transformers, exactly. */
function atRelay(typed: Typed, kind: QuantityKind, path: string, place: Place): Decimal {
  const { system, values, watches, unit } = place;
  const { frequency } = system;
  if (kind !== "current" && kind !== "voltage") {
    const rated = kind === "frequency" ? { rated: decimal(frequency, "frequency") } : {};
    return readQuantity(typed, kind, path, { frequency, ...rated });
  }
  const ratio = system.ratios[transformerBehind(watches, unit)];
  // Nobody agrees what the rated value of three times a zero sequence is.
  const rated = ratio && watches !== "3V0" ? { rated: ratedOf(ratio, values, watches) } : {};
  const value = readQuantity(typed, kind, path, { frequency, ...rated });
  return ratio !== undefined && values === "primary" ? value.times(ratio.secondary).div(ratio.primary) : value;
}

const TO_NEUTRAL: readonly string[] = ["line-to-neutral", "V0", "V2"];

/** What is rated for the quantity that is watched: sequences and voltages to neutral are 1/√3 of what the ratio says. */
function ratedOf(ratio: ExactRatio, values: "primary" | "secondary", watches: string): Decimal {
  return TO_NEUTRAL.includes(watches) ? ratio[values].div(decimal(3, "").sqrt()) : ratio[values];
}

function positive(typed: Typed, kind: QuantityKind, path: string, place: Place): number {
  const value = atRelay(typed, kind, path, place);
  return value.gt(0) ? toNumber(value, path) : fail("out-of-range", path, `a ${kind} above 0`, typed);
}

const otherContact = (startContact: string, contact: string): string =>
  startContact !== contact
    ? startContact
    : fail("conflict", "startContact", "another contact than that of the time law", startContact);

function tolerance(typed: TypedTolerance, kind: QuantityKind, place: Place): Tolerance {
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

/** A percentage of no delay is nothing, and no relay is that fast. */
function timeTolerance(read: Tolerance, { curve, addedTime = 0 }: CurveSetting): Tolerance {
  const isNothing = typeof curve === "object" && curve.form === "definite" && curve.time === 0 && addedTime === 0;
  if (isNothing && read.absolute === undefined) {
    fail(
      "missing",
      "absolute",
      'an absolute tolerance such as "40 ms", since a percentage of no delay is nothing',
      undefined,
    );
  }
  return read;
}
