/** What the source at hand can make, and how well. */
import { fail } from "../base/check.js";
import { within } from "../base/input-error.js";
import type { LevelUnit, Setup } from "../element/index.js";
import type { Tolerance } from "../grading/index.js";
import type { ChannelLimits, InputRating } from "../timeline/index.js";
import type { InNumbers, RelaySettings } from "./relay-settings.js";
import type { Sheet } from "./sheet.js";
import type { SheetInputRating, SheetOutput, SheetSource } from "./sheet-source.js";
import type { Typed } from "./typed.js";
import { type Place, positive, type System, tolerance } from "./typed-value.js";

/** What the channels of the source can put out, at the relay. */
export function limitsOf({ source = {} }: Sheet, system: System): RelaySettings["sourceLimits"] {
  const { frequency, currentOutput, voltageOutput, maximumCurrent, maximumVoltage } = source;
  const range = frequency && { frequency: within("source.frequency", () => rangeOf(frequency, system)) };
  const channel = (unit: "A" | "V", typed: { readonly most: Typed | undefined; readonly output: SheetOutput }) => {
    const [kind, most, output] =
      unit === "A"
        ? (["current", "source.maximumCurrent", "source.currentOutput"] as const)
        : (["voltage", "source.maximumVoltage", "source.voltageOutput"] as const);
    const place = { system, values: "secondary", watches: "", unit } as const;
    return {
      ...(typed.most !== undefined && { rms: positive(typed.most, kind, most, place) }),
      ...within(output, () => outputOf(typed.output, kind, place)),
      ...range,
    };
  };
  const current = channel("A", { most: maximumCurrent, output: currentOutput ?? {} });
  const voltage = channel("V", { most: maximumVoltage, output: voltageOutput ?? {} });
  return { ...(isSaid(current) && { current }), ...(isSaid(voltage) && { voltage }) };
}

const isSaid = (limits: object): boolean => Object.keys(limits).length > 0;

function rangeOf({ minimum, maximum }: NonNullable<SheetSource["frequency"]>, system: System) {
  const place = { system, values: "secondary", watches: "", unit: "Hz" } as const;
  const range = {
    minimum: positive(minimum, "frequency", "minimum", place),
    maximum: positive(maximum, "frequency", "maximum", place),
  };
  if (range.maximum < range.minimum) fail("out-of-range", "maximum", "a frequency, not below the minimum", maximum);
  return range;
}

/** Power and compliance say nothing about a level unless the burden is known. */
function outputOf(output: SheetOutput, kind: "current" | "voltage", place: Place): InNumbers<ChannelLimits> {
  const { burden, power, compliance, duty } = output;
  if (burden === undefined && (power ?? compliance) !== undefined)
    fail("missing", "burden", 'what the channel feeds, such as "0.2 ohm": power and compliance need it', burden);
  return {
    ...(burden !== undefined && { burden: positive(burden, "impedance", "burden", place) }),
    ...(power !== undefined && { power: positive(power, "power", "power", place) }),
    ...(compliance !== undefined && { compliance: positive(compliance, "voltage", "compliance", place) }),
    ...(duty !== undefined && {
      duty: duty.map(({ above, atMost, restTime }, i) =>
        within(`duty[${i}]`, () => ({
          above: positive(above, kind, "above", place),
          atMost: positive(atMost, "time", "atMost", place),
          ...(restTime !== undefined && { restTime: positive(restTime, "time", "restTime", place) }),
        })),
      ),
    }),
  };
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
  const rated = (typed: SheetInputRating, unit: "A" | "V", watches: string, path: string): InNumbers<InputRating> =>
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

/** The largest current that the source makes on one channel, and that the current inputs carry for ever. */
export function largestCurrent(
  { current: limits = {} }: RelaySettings["sourceLimits"],
  { current: rating = {} }: RelaySettings["inputRatings"],
): Pick<Setup, "largestCurrent"> {
  const { rms, power, compliance, burden } = limits;
  const driven = burden && compliance && compliance / burden;
  const heated = burden && power && Math.sqrt(power / burden);
  const all = [rms, driven, heated, rating.continuous];
  const said = all.filter((most): most is number => most !== undefined && most > 0 && Number.isFinite(most));
  return said.length === 0 ? {} : { largestCurrent: Math.min(...said) };
}
