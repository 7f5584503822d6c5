import { fail } from "../base/check.js";
import { type Decimal, decimal, toNumber } from "../base/exact.js";
import { within } from "../base/input-error.js";
import { type QuantityKind, readQuantity } from "../base/quantity.js";
import type { Hertz, Seconds } from "../base/units.js";
import { type CurveSetting, curveSide, operateTime } from "../curve/index.js";
import { type Accuracy, type Definition, definitionOf, type ElementSetting } from "../element/index.js";
import { band, type Tolerance } from "../grading/index.js";
import type { ExactRatio } from "./ratio.js";
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
const SQRT3 = /* @__PURE__ */ decimal(3, "").sqrt();

/** One element of a sheet as settings at the relay; every problem has its path within the element. */
export function resolveElement(element: SheetElement, side: Side): ElementSetting {
  const definition = definitionOf(element.function) as unknown as Definition;
  const kind = KINDS[definition.unit];
  const watches = element.watches ?? (definition.unit === "A" ? "phase" : "frequency");
  const setting = {
    id: element.id,
    function: element.function,
    watches,
    pickup: positive(
      atRelay(element.pickup, kind, "pickup", side, watches),
      "pickup",
      `a pickup above 0 ${definition.unit}`,
    ),
    law: lawOf(element, definition, side.frequency),
    measuringDelay: measuringDelayOf(element, definition, side.frequency),
    contact: element.contact ?? "trip",
    ...(element.startContact !== undefined && { startContact: startContactOf(element) }),
    accuracy: accuracyOf(element, kind, side, watches),
    ...("blockBelow" in element &&
      element.blockBelow !== undefined && {
        blockBelow: toNumber(
          atRelay(element.blockBelow, "voltage", "blockBelow", side, blockWatches(watches)),
          "blockBelow",
        ),
      }),
    ...(definition.unit === "V" && { phases: ("phases" in element && element.phases) || "any" }),
  };
  return setting as ElementSetting;
}

/** Frequency functions are blocked by a voltage to neutral. */
const blockWatches = (watches: string): string => (watches === "frequency" ? "line-to-neutral" : watches);

/** A typed value on the relay's side of the transformers, exactly. */
function atRelay(typed: Typed, kind: QuantityKind, path: string, side: Side, watches: string): Decimal {
  const ratio = kind === "current" ? side.ct : kind === "voltage" ? side.vt : undefined;
  const rated = ratio && (watches === "line-to-neutral" ? perPhase(ratio[side.values]) : ratio[side.values]);
  const value = readQuantity(typed, kind, path, { frequency: side.frequency, ...(rated && { rated }) });
  return ratio !== undefined && side.values === "primary" ? value.times(ratio.secondary).div(ratio.primary) : value;
}

const perPhase = (lineToLine: Decimal): Decimal => lineToLine.div(SQRT3);

function positive(value: Decimal, path: string, expected: string): number {
  return value.gt(0) ? toNumber(value, path) : fail("out-of-range", path, expected, value.toString());
}

const CURVE_FIELDS = ["multiplier", "startRatio", "ceilingMultiple", "minimumTime"] as const;

function lawOf(element: SheetElement, { side, practice }: Definition, frequency: Hertz): CurveSetting {
  const { curve, delay } = element;
  const addedTime =
    element.addedTime === undefined ? {} : { addedTime: timeOf(element.addedTime, "addedTime", frequency) };
  if (curve === undefined) {
    if (delay === undefined && element.function !== "50") fail("missing", "delay", "a delay or a curve", delay);
    const stray = CURVE_FIELDS.find((field) => element[field] !== undefined);
    if (stray !== undefined) fail("not-applicable", stray, "a curve beside it, or nothing", element[stray]);
    return { curve: { form: "definite", time: timeOf(delay ?? 0, "delay", frequency), side }, ...addedTime };
  }
  if (delay !== undefined) fail("conflict", "delay", "either a delay or a curve", delay);
  if (practice.multiples.length === 0)
    fail("not-applicable", "curve", "a delay, since this function has a definite time", curve);
  const { multiplier, startRatio, ceilingMultiple, minimumTime } = element;
  const law: CurveSetting = {
    curve,
    ...(multiplier !== undefined && { multiplier }),
    ...(startRatio !== undefined && { startRatio }),
    ...(ceilingMultiple !== undefined && { ceilingMultiple }),
    ...(minimumTime !== undefined && { minimumTime: timeOf(minimumTime, "minimumTime", frequency) }),
    ...addedTime,
  };
  if (curveSide(curve) !== side)
    fail("conflict", "curve", `a curve of the ${side} side, as function ${element.function} operates`, curve);
  operateTime(law, 1); // Its checks of the law are all that is wanted here.
  return law;
}

function timeOf(typed: Typed, path: string, frequency: Hertz): Seconds {
  const time = readQuantity(typed, "time", path, { frequency });
  return time.gte(0) ? toNumber(time, path) : fail("out-of-range", path, "a time of 0 s or more", typed);
}

function measuringDelayOf({ measuringDelay }: SheetElement, { practice }: Definition, frequency: Hertz): Seconds {
  return timeOf(measuringDelay ?? `${practice.measuringCycles} cycles`, "measuringDelay", frequency);
}

function startContactOf({ startContact, contact = "trip" }: SheetElement): string {
  return startContact !== contact
    ? (startContact as string)
    : fail("conflict", "startContact", "another contact than that of the time law", startContact);
}

function accuracyOf({ accuracy }: SheetElement, kind: QuantityKind, side: Side, watches: string): Accuracy {
  const secondary: Side = { ...side, values: "secondary" };
  const read = (name: "pickup" | "time", of: QuantityKind) =>
    within(`accuracy.${name}`, () => toleranceOf(accuracy[name], of, secondary, watches));
  return { pickup: read("pickup", kind), time: read("time", "time") };
}

function toleranceOf(typed: TypedTolerance, kind: QuantityKind, side: Side, watches: string): Tolerance {
  const { percent, absolute, combine } = typed;
  const tolerance: Tolerance = {
    ...(percent !== undefined && { percent: toNumber(readQuantity(percent, "percent", "percent"), "percent") }),
    ...(absolute !== undefined && {
      absolute: toNumber(atRelay(absolute, kind, "absolute", side, watches), "absolute"),
    }),
    ...(combine !== undefined && { combine }),
    ...(typed.side !== undefined && { side: typed.side }),
  };
  const { low, high, nominal } = within("", () => band(1, tolerance));
  if (low === nominal || high === nominal) fail("out-of-range", "", "a tolerance above 0", typed);
  return tolerance;
}
