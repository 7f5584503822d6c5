import { fail } from "../../base/check.js";
import type { Collector } from "../../base/collect.js";
import { type Decimal, decimal, toNumber } from "../../base/exact.js";
import { within } from "../../base/input-error.js";
import { type QuantityKind, readQuantity } from "../../base/quantity.js";
import type { Hertz, Seconds } from "../../base/units.js";
import type { CurveSetting } from "../../curve/index.js";
import { type Definition, definitionOf, type ElementSetting } from "../../element/index.js";
import { band, type Tolerance } from "../../grading/index.js";
import type { ExactRatio } from "./ratio.js";
import { resolveLaw, resolveTime } from "./resolve-law.js";
import type { SheetElement, Typed, TypedTolerance } from "./sheet.js";

/** The system that the values of a sheet refer to, and the side of the transformers they are written on. */
export interface Side {
  readonly frequency: Hertz;
  readonly values: "primary" | "secondary";
  readonly ct?: ExactRatio;
  readonly vt?: ExactRatio;
}

const KINDS = { A: "current", V: "voltage", Hz: "frequency" } as const satisfies Record<
  Definition["unit"],
  QuantityKind
>;

/** One element of a sheet as settings at the relay; they are good only where no problem of it was collected. */
export function resolveElement(element: SheetElement, side: Side, { attempt }: Collector): ElementSetting {
  const definition = definitionOf(element.function) as unknown as Definition;
  const { unit, practice } = definition;
  const kind = KINDS[unit];
  const watches = element.watches ?? (unit === "A" ? "phase" : "frequency");
  const own: Place = { side, watches };
  // Accuracies are published for the relay, whatever side the settings are written on.
  const published: Place = { side: { ...side, values: "secondary" }, watches };
  const { contact = "trip", startContact, accuracy } = element;
  const blockBelow = "blockBelow" in element ? element.blockBelow : undefined;
  const law = resolveLaw(element, definition, { frequency: side.frequency, attempt });
  const setting = {
    id: element.id,
    function: element.function,
    watches,
    pickup: attempt("pickup", 0, () => positive(element.pickup, kind, "pickup", own)),
    law,
    measuringDelay: attempt<Seconds>("measuringDelay", 0, () =>
      resolveTime(element.measuringDelay ?? `${practice.measuringCycles} cycles`, "measuringDelay", side.frequency),
    ),
    contact,
    ...(startContact !== undefined && {
      startContact: attempt("startContact", "", () => otherContact(startContact, contact)),
    }),
    accuracy: {
      pickup: attempt("accuracy.pickup", {}, () =>
        within("accuracy.pickup", () => tolerance(accuracy.pickup, kind, published)),
      ),
      time: attempt("accuracy.time", {}, () =>
        within("accuracy.time", () => timeTolerance(tolerance(accuracy.time, "time", published), law)),
      ),
    },
    // Frequency functions are blocked by a voltage to neutral.
    ...(blockBelow !== undefined && {
      blockBelow: attempt("blockBelow", 0, () =>
        positive(blockBelow, "voltage", "blockBelow", unit === "Hz" ? { side, watches: "line-to-neutral" } : own),
      ),
    }),
    ...(unit === "V" && { phases: ("phases" in element && element.phases) || "any" }),
  };
  return setting as ElementSetting;
}

/** Where a value is written, and which voltages "× rated" refers to. */
interface Place {
  readonly side: Side;
  readonly watches: string;
}

/** A typed value on the relay's side of the transformers, exactly. */
function atRelay(typed: Typed, kind: QuantityKind, path: string, { side, watches }: Place): Decimal {
  const ratio = kind === "current" ? side.ct : kind === "voltage" ? side.vt : undefined;
  const rated = ratio && (watches === "line-to-neutral" ? toNeutral(ratio[side.values]) : ratio[side.values]);
  const value = readQuantity(typed, kind, path, { frequency: side.frequency, ...(rated && { rated }) });
  return ratio !== undefined && side.values === "primary" ? value.times(ratio.secondary).div(ratio.primary) : value;
}

const toNeutral = (lineToLine: Decimal): Decimal => lineToLine.div(decimal(3, "").sqrt());

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
