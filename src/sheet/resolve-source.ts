/** What the source at hand can make, and how well. */
import { fail } from "../base/check.js";
import { toNumber } from "../base/exact.js";
import { within } from "../base/input-error.js";
import { readQuantity } from "../base/quantity.js";
import type { LevelUnit } from "../element/index.js";
import type { Tolerance } from "../grading/index.js";
import type { InputRating } from "../timeline/index.js";
import type { RelaySettings } from "./relay-settings.js";
import type { Sheet, SheetInputRating } from "./sheet.js";
import { positive, type System, tolerance } from "./typed-value.js";

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

/** What the inputs of the relay stand, at the relay. */
export function ratingsOf({ inputs = {} }: Sheet, system: System): RelaySettings["inputRatings"] {
  const { current, voltage, ground } = inputs;
  const rated = (typed: SheetInputRating, unit: "A" | "V", watches: string, path: string): InputRating =>
    within(`inputs.${path}`, () => {
      const place = { system, values: "secondary", watches, unit } as const;
      const kind = unit === "A" ? "current" : "voltage";
      const { continuous, shortTime } = typed;
      return {
        ...(continuous !== undefined && { continuous: positive(continuous, kind, "continuous", place) }),
        ...(shortTime !== undefined && {
          shortTime: {
            value: positive(shortTime.value, kind, "shortTime.value", place),
            time: positive(shortTime.time, "time", "shortTime.time", place),
          },
        }),
      };
    });
  return {
    ...(current && { current: rated(current, "A", "phase", "current") }),
    ...(voltage && { voltage: rated(voltage, "V", "line-to-line", "voltage") }),
    ...(ground && { inputs: { ig: rated(ground, "A", "ground", "ground") } }),
  };
}
