import type { Collector } from "../base/collect.js";
import { toNumber } from "../base/exact.js";
import { readQuantity } from "../base/quantity.js";
import type { Seconds } from "../base/units.js";
import type { Definition, OwnField } from "../element/index.js";
import { distanceZoneOf, earthOf } from "./resolve-distance.js";
import { resolveTime } from "./resolve-law.js";
import type { SheetElement } from "./sheet.js";
import type { TypedSlope } from "./sheet-differential.js";
import type { TypedEarth, TypedZone } from "./sheet-distance.js";
import type { Typed } from "./typed.js";
import { notNegative, type Place, positive } from "./typed-value.js";

type Attempt = Collector["attempt"];

/** The element's own fields as its definition lists them, beside those that every element has. */
export function ownFields(element: SheetElement, { fields, unit }: Definition, own: Place, attempt: Attempt) {
  const typed = element as { readonly [F in OwnField]?: unknown };
  // Frequency functions are blocked by a voltage to neutral.
  const [kind, place] =
    unit === "A" ? (["current", own] as const) : (["voltage", unit === "V" ? own : toNeutral(own)] as const);
  const blocking: Reader = (value, field) => attempt(field, 0, () => positive(value as Typed, kind, field, place));
  const angle: Reader = (value, field) => attempt(field, 0, () => toNumber(readQuantity(value, "angle", field), field));
  const asTyped: Reader = (value) => value;
  const compared =
    (kind: "voltage" | "frequency"): Reader =>
    (value, field) =>
      attempt(field, 0, () => positive(value as Typed, kind, field, comparedPlace(own)));
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
    voltageDifference: compared("voltage"),
    slip: compared("frequency"),
    liveAbove: compared("voltage"),
    deadBelow: compared("voltage"),
    deadClosing: asTyped,
    closingTime: (value, field) =>
      attempt<Seconds>(field, 0, () => resolveTime(value as Typed, field, own.system.frequency)),
    // Without a good reach there is nothing to hold the rest of a zone against.
    zone: (value, field) =>
      attempt(field, value, () => attempt("pickup", value, () => distanceZoneOf(value as TypedZone, element.pickup))),
    earth: (value, field) => attempt(field, value, () => earthOf(value as TypedEarth)),
    minimumCurrent: (value, field) =>
      attempt(field, 0, () => positive(value as Typed, "current", field, { ...own, unit: "A", watches: "phase" })),
    restraint: asTyped,
    slopes: (value, field) =>
      attempt(field, [], () =>
        (value as readonly TypedSlope[]).map((slope, i) => slopeOf(slope, `slopes[${i}]`, own, attempt)),
      ),
    secondHarmonic: (value, field) => attempt(field, 1, () => positive(value as Typed, "ratio", field, own)),
  };
  const defaults: { readonly [F in OwnField]?: unknown } = { phases: "any" };
  return Object.fromEntries(
    fields
      .map((field) => [field, typed[field] ?? defaults[field]] as const)
      .filter(([, value]) => value !== undefined)
      .map(([field, value]) => [field, readers[field](value, field)]),
  );
}

/** A slope, with the restraint at which it begins as a current. */
function slopeOf({ slope, line, begins }: TypedSlope, path: string, own: Place, attempt: Attempt) {
  const [slopePath, beginsPath] = [`${path}.slope`, `${path}.begins`];
  return {
    slope: attempt(slopePath, 1, () => positive(slope, "ratio", slopePath, own)),
    line,
    ...(begins !== undefined && {
      begins: attempt(beginsPath, 0, () => notNegative(begins, "current", beginsPath, own)),
    }),
  };
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

/** A phase is compared to neutral, a pair between lines. */
export const comparedPlace = (place: Place): Place =>
  place.watches.length === 1 ? toNeutral(place) : { ...place, watches: "line-to-line", unit: "V" };

const toNeutral = (place: Place): Place => ({ ...place, watches: "line-to-neutral", unit: "V" });
