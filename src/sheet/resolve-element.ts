import { fail } from "../base/check.js";
import type { Collector } from "../base/collect.js";
import { toNumber } from "../base/exact.js";
import { retold, within } from "../base/input-error.js";
import { KIND_OF_UNIT, type QuantityKind } from "../base/quantity.js";
import type { Seconds } from "../base/units.js";
import type { CurveSetting } from "../curve/index.js";
import {
  checkedDefinition,
  type Definition,
  definitionOf,
  dropoutLevel,
  type ElementSetting,
  startLevel,
} from "../element/index.js";
import { band, type Tolerance } from "../grading/index.js";
import { comparedPlace, ownFields } from "./own-fields.js";
import { differentialZoneOf } from "./resolve-differential-zone.js";
import { resolveLaw, resolveTime } from "./resolve-law.js";
import type { SheetElement } from "./sheet.js";
import type { TypedTolerance } from "./typed.js";
import { type Place, positive, ratedOf, type System, tolerance } from "./typed-value.js";

/** One element of a sheet as settings at the relay; they are good only where no problem of it was collected. */
export function resolveElement(
  element: SheetElement,
  system: System,
  { attempt, problems }: Collector,
): ElementSetting {
  const before = problems.length;
  const definition = definitionOf(element.function);
  const { unit, practice } = definition;
  const kind = KIND_OF_UNIT[unit];
  const watches = element.watches ?? (definition.watches[0] as string);
  const own: Place = { system, values: element.values ?? system.values, watches, unit };
  // Accuracies are published for the relay, whatever side the settings are written on.
  const published: Place = { ...own, values: "secondary" };
  const { contact = definition.contact ?? "trip", startContact, step } = element;
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
      ...limitAccuracies(accuracy, published, attempt),
    },
    ...ownFields(element, definition, own, attempt),
    ...systemFields(definition, watches, system),
  } as ElementSetting;
  // What is left to check is how the settings go together.
  if (problems.length === before) attempt("", undefined, () => checkTogether(setting));
  return setting;
}

/** Of the limits that are not counted as the setting is. */
function limitAccuracies(accuracy: SheetElement["accuracy"], published: Place, attempt: Attempt) {
  return Object.fromEntries(
    (["angle", "voltage", "frequency"] as const).flatMap((kind) => {
      const typed = accuracy[kind];
      const path = `accuracy.${kind}`;
      return typed === undefined
        ? []
        : [
            [
              kind,
              attempt(path, {}, () =>
                within(path, () => tolerance(typed, kind, kind === "voltage" ? comparedPlace(published) : published)),
              ),
            ],
          ];
    }),
  );
}

/** A double holds 15 digits; a tolerance in the last of them is none that anybody could step through. */
const FINEST = 1e-12;

function checkTogether(setting: ElementSetting): void {
  namedAsOnSheet(() => checkedDefinition(setting));
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

const ON_SHEET: Readonly<Record<string, string>> = {
  "dropout.ratio": "dropoutRatio",
  "dropout.difference": "dropoutDifference",
  "law.curve.points": "curve.points",
};

/** Problems of a setting, with the field of the sheet that it was read from. */
const namedAsOnSheet = (check: () => void): void =>
  retold((problem) => ({ ...problem, path: ON_SHEET[problem.path] ?? problem.path }), check);

type Attempt = Collector["attempt"];

function systemFields({ system: fields }: Definition, watches: string, system: System) {
  const { frequency, rotation, ratios, zone } = system;
  const values = {
    zone: zone && differentialZoneOf(zone),
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
