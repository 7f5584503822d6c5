/** What the source at hand can make, and how well. */
import { fail } from "../base/check.js";
import { toNumber } from "../base/exact.js";
import { within } from "../base/input-error.js";
import { readQuantity } from "../base/quantity.js";
import type { LevelUnit } from "../element/index.js";
import type { Tolerance } from "../grading/index.js";
import type { RelaySettings } from "./relay-settings.js";
import type { Sheet } from "./sheet.js";
import { type System, tolerance } from "./typed-value.js";

/** The most that one channel can put out; what is not given is not known. */
export function limitsOf({ source = {} }: Sheet): RelaySettings["limits"] {
  const limit = (kind: "current" | "voltage", name: "maximumCurrent" | "maximumVoltage") => {
    const typed = source[name];
    if (typed === undefined) return undefined;
    const most = toNumber(readQuantity(typed, kind, `source.${name}`), `source.${name}`);
    return most > 0 ? most : fail("out-of-range", `source.${name}`, `a ${kind} above 0`, typed);
  };
  const [current, voltage] = [limit("current", "maximumCurrent"), limit("voltage", "maximumVoltage")];
  return { ...(current !== undefined && { current }), ...(voltage !== undefined && { voltage }) };
}

const KINDS = { A: "current", V: "voltage", Hz: "frequency", s: "time" } as const;

/** How far off the source may be, by unit. */
export function accuracyOf({ source = {} }: Sheet, system: System): RelaySettings["sourceAccuracy"] {
  const { accuracy = {} } = source;
  const place = { system, values: "secondary", watches: "", unit: "1" } as const;
  const entries = Object.entries(KINDS).flatMap(([unit, kind]): [LevelUnit | "s", Tolerance][] => {
    const typed = accuracy[kind];
    if (typed === undefined) return [];
    const at = { ...place, unit: unit === "A" || unit === "V" ? unit : "1" } as const;
    return [[unit as LevelUnit | "s", within(`source.accuracy.${kind}`, () => tolerance(typed, kind, at))]];
  });
  return Object.fromEntries(entries);
}
