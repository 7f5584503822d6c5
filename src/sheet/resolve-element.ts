import { fail } from "../base/check.js";
import type { Collector } from "../base/collect.js";
import { toNumber } from "../base/exact.js";
import { within } from "../base/input-error.js";
import { KIND_OF_UNIT, type QuantityKind, readQuantity } from "../base/quantity.js";
import type { Seconds } from "../base/units.js";
import type { CurveSetting } from "../curve/index.js";
import {
  checkedDefinition,
  type Definition,
  definitionOf,
  dropoutLevel,
  type ElementSetting,
  type OwnField,
  startLevel,
} from "../element/index.js";
import { band, type Tolerance } from "../grading/index.js";
import { resolveLaw, resolveTime } from "./resolve-law.js";
import type { SheetElement } from "./sheet.js";
import type { Typed, TypedTolerance } from "./typed.js";
import { type Place, positive, ratedOf, type System, tolerance } from "./typed-value.js";

/** One element of a sheet as settings at the relay; they are good only where no problem of it was collected. */
export function resolveElement(
  element: SheetElement,
  system: System,
  { attempt, problems }: Collector,
): ElementSetting {
  const before = problems.length;
  const definition = definitionOf(element.function) as unknown as Definition;
  const { unit, practice } = definition;
  const kind = KIND_OF_UNIT[unit];
  const watches = element.watches ?? (definition.watches[0] as string);
  const own: Place = { system, values: element.values ?? system.values, watches, unit };
  // Accuracies are published for the relay, whatever side the settings are written on.
  const published: Place = { ...own, values: "secondary" };
  const { contact = "trip", startContact, step } = element;
  // Without any, that is a known problem, and nothing below it is looked at.
  const accuracy = element.accuracy ?? { pickup: {}, time: {} };
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
      ...(accuracy.angle && {
        angle: attempt("accuracy.angle", {}, () =>
          within("accuracy.angle", () => tolerance(accuracy.angle as TypedTolerance, "angle", published)),
        ),
      }),
    },
    ...ownFields(element, definition, own, attempt),
    ...systemFields(definition, watches, system),
  } as ElementSetting;
  // What is left to check is how the settings go together.
  if (problems.length === before) attempt("", undefined, () => checkTogether(setting));
  return setting;
}

/** A double holds 15 digits; a tolerance in the last of them is none that anybody could step through. */
const FINEST = 1e-12;

function checkTogether(setting: ElementSetting): void {
  checkedDefinition(setting);
  const { pickup, dropout = pickup } = setting.accuracy;
  const levels = [
    ["pickup", startLevel(setting), pickup],
    ["dropout", dropoutLevel(setting), dropout],
  ] as const;
  for (const [path, level, allowed] of levels) {
    const { low = 0, high = Number.POSITIVE_INFINITY } = band(level, allowed);
    if (level - low <= FINEST * level || high - level <= FINEST * level)
      fail("out-of-range", `accuracy.${path}`, `a tolerance that is more than the last digits of ${level}`, allowed);
  }
}

type Attempt = Collector["attempt"];

/** The element's own fields as its definition lists them, beside those that every element has. */
function ownFields(element: SheetElement, { fields, unit }: Definition, own: Place, attempt: Attempt) {
  const typed = element as { readonly [F in OwnField]?: unknown };
  // Frequency functions are blocked by a voltage to neutral.
  const [kind, place] =
    unit === "A" ? (["current", own] as const) : (["voltage", unit === "V" ? own : toNeutral(own)] as const);
  const blocking: Reader = (value, field) => attempt(field, 0, () => positive(value as Typed, kind, field, place));
  const angle: Reader = (value, field) => attempt(field, 0, () => toNumber(readQuantity(value, "angle", field), field));
  const asTyped: Reader = (value) => value;
  const readers: { readonly [F in OwnField]: Reader } = {
    phases: asTyped,
    direction: asTyped,
    negativeSequenceFactor: asTyped,
    polarising: asTyped,
    operates: asTyped,
    measures: asTyped,
    blockBelow: blocking,
    armAbove: blocking,
    characteristicAngle: angle,
    leading: angle,
    lagging: angle,
    minimumVoltage: (value, field) => {
      const watches = POLARISING_VOLTAGE[typed.polarising as keyof typeof POLARISING_VOLTAGE] ?? "line-to-neutral";
      return attempt(field, 0, () => positive(value as Typed, "voltage", field, { ...own, unit: "V", watches }));
    },
  };
  const defaults: { readonly [F in OwnField]?: unknown } = { phases: "any" };
  return Object.fromEntries(
    fields
      .map((field) => [field, typed[field] ?? defaults[field]] as const)
      .filter(([, value]) => value !== undefined)
      .map(([field, value]) => [field, readers[field](value, field)]),
  );
}

type Reader = (value: unknown, field: OwnField) => unknown;

/** What the polarising quantity is a value of. */
const POLARISING_VOLTAGE = {
  self: "line-to-neutral",
  quadrature: "line-to-line",
  "-3V0": "3V0",
  "3V0": "3V0",
  "-V2": "V2",
} as const;

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

const otherContact = (startContact: string, contact: string): string =>
  startContact !== contact
    ? startContact
    : fail("conflict", "startContact", "another contact than that of the time law", startContact);

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
