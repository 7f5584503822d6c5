/** Quantities as people type them: SI numbers, or text with a unit such as "4 A", "250 ms", "12 cycles", "0.8 × rated", "80 % of nominal". */
import { fail, failType } from "./check.js";
import { type Decimal, decimal, toNumber } from "./exact.js";
import { InputError } from "./input-error.js";
import type { Problem } from "./problem.js";
import type { Hertz } from "./units.js";

interface Kind {
  /** The quantity with its article and an example, as it stands in the sentence that a person reads. */
  readonly what: string;
  /** Unit → factor to SI. Case matters: mA is not MA. */
  readonly units: { readonly [unit: string]: string };
  /** Whether "0.8 × rated" means something. */
  readonly ofRated?: true;
}

const KINDS = {
  current: { what: 'a current such as "4 A"', units: { A: "1", mA: "0.001", kA: "1000" }, ofRated: true },
  voltage: { what: 'a voltage such as "63.5 V"', units: { V: "1", mV: "0.001", kV: "1000" }, ofRated: true },
  time: {
    what: 'a time such as "250 ms" or "12 cycles"',
    units: { s: "1", ms: "0.001", µs: "0.000001", μs: "0.000001", us: "0.000001", min: "60", cycles: "1", cycle: "1" },
  },
  frequency: { what: 'a frequency such as "49.5 Hz"', units: { Hz: "1", mHz: "0.001" }, ofRated: true },
  rate: { what: 'a rate of change such as "0.5 Hz/s"', units: { "Hz/s": "1", "mHz/s": "0.001" } },
  ratio: { what: 'a ratio such as "1.1" or "110 %"', units: { "": "1", "%": "0.01", percent: "0.01", pu: "1" } },
  activePower: { what: 'an active power such as "20 W"', units: { W: "1", mW: "0.001", kW: "1000", MW: "1000000" } },
  power: { what: 'an apparent power such as "150 VA"', units: { VA: "1", mVA: "0.001", kVA: "1000", MVA: "1000000" } },
  impedance: {
    what: 'an impedance such as "0.2 ohm"',
    // The letter omega and the ohm sign look alike.
    units: {
      ohm: "1",
      "\u03a9": "1",
      "\u2126": "1",
      mohm: "0.001",
      "m\u03a9": "0.001",
      "m\u2126": "0.001",
      kohm: "1000",
    },
  },
  angle: { what: 'an angle such as "-120°"', units: { "°": "1", deg: "1", degrees: "1" } },
  percent: { what: 'a percentage such as "5 %"', units: { "%": "1", percent: "1" } },
} as const satisfies { [kind: string]: Kind };

/** Which quantity is meant. */
export type QuantityKind = keyof typeof KINDS;

/** The quantity that is counted in a unit; a ratio has none. */
export const KIND_OF_UNIT = {
  A: "current",
  V: "voltage",
  Hz: "frequency",
  "Hz/s": "rate",
  "°": "angle",
  W: "activePower",
  ohm: "impedance",
  "1": "ratio",
  s: "time",
} as const satisfies { readonly [unit: string]: QuantityKind };

/** What a typed value may refer to. */
export interface QuantityContext {
  /** The frequency of the system, which cycles need. */
  readonly frequency?: Hertz;
  /** What "× rated" refers to, exactly. */
  readonly rated?: Decimal;
  /** Whether text without a unit is an SI number, as in the cell of a table. */
  readonly bareText?: boolean;
}

/** The quantity with an example: `a current such as "4 A"`. */
export const quantityExample = (kind: QuantityKind): string => KINDS[kind].what;

const NUMBER = String.raw`[+\-−]?(?:\d+(?:\.\d*)?|\.\d+)(?:[eE][+\-]?\d{1,3})?`;
const NUMBER_AND_UNIT = new RegExp(String.raw`^(${NUMBER})\s*(.*)$`, "su");
const NUMBER_WITH_COMMA = /^[+\-−]?\d+,\d+/u;
/** "0.8 × rated", "80 % of nominal" or "0.8 pu": what the factor before it is worth; a bare "80 %" does not say of what. */
const OF_RATED: readonly (readonly [pattern: string, worth: string])[] = [
  [String.raw`[×x*]\s*(?:rated|nominal)`, "1"],
  ["pu", "1"],
  [String.raw`%\s*of\s+(?:rated|nominal)`, "0.01"],
];
const worthOfRated = (unit: string): string | undefined =>
  OF_RATED.find(([pattern]) => new RegExp(`^${pattern}$`, "u").test(unit))?.[1];

/**
 * Reads one quantity, exactly.
 *
 * @throws A {@link InputError} that says which kind of quantity was expected, with an example.
 */
export function readQuantity(value: unknown, kind: QuantityKind, path: string, context: QuantityContext = {}): Decimal {
  const { what } = KINDS[kind];
  if (typeof value === "number") return decimal(value, path, what);
  if (typeof value !== "string") return failType(path, what, value);
  const text = value.trim();
  const parts = NUMBER_AND_UNIT.exec(text);
  if (NUMBER_WITH_COMMA.test(text)) return fail("decimal-comma", path, `${what}, with a decimal point`, value);
  if (parts === null) return fail("unreadable", path, what, value);
  const number = decimal((parts[1] as string).replace("−", "-"), path, what);
  return inSi(number, parts[2] as string, kind, { value, path, context });
}

interface Typed {
  readonly value: string;
  readonly path: string;
  readonly context: QuantityContext;
}

function inSi(number: Decimal, unit: string, kind: QuantityKind, { value, path, context }: Typed): Decimal {
  const { what, units, ofRated }: Kind = KINDS[kind];
  if (unit === "" && context.bareText) return number;
  const worth = ofRated && worthOfRated(unit);
  if (worth) {
    if (context.rated === undefined) return fail("not-applicable", path, `${what}; nothing says what rated is`, value);
    return number.times(worth).times(context.rated);
  }
  if (!Object.hasOwn(units, unit)) {
    const isPercent = ofRated && Object.hasOwn(KINDS.percent.units, unit);
    const expected = isPercent ? `${what}, or "${number} % of rated"` : what;
    return fail(unit === "" || isUnit(unit) ? "wrong-unit" : "unreadable", path, expected, value);
  }
  if (unit !== "cycles" && unit !== "cycle") return number.times(units[unit] as string);
  if (context.frequency === undefined)
    return fail("not-applicable", path, `${what}; nothing says the frequency`, value);
  return number.div(decimal(context.frequency, "frequency"));
}

const isUnit = (unit: string): boolean =>
  worthOfRated(unit) !== undefined || Object.values(KINDS).some(({ units }) => Object.hasOwn(units, unit));

/** The same as a double: the one nearest to what was typed. */
export const quantity = (value: unknown, kind: QuantityKind, path: string, context: QuantityContext = {}): number =>
  toNumber(readQuantity(value, kind, path, context), path);

/** What is wrong with a typed value, if anything, apart from what it refers to. */
export function quantityProblem(value: unknown, kind: QuantityKind, path: string): Problem | undefined {
  try {
    readQuantity(value, kind, path, { frequency: 50, rated: decimal(1, "") });
    return undefined;
  } catch (error) {
    if (error instanceof InputError) return error.problems[0];
    throw error;
  }
}

/** A regular expression that an editor can hold against typed text, and an example, for the JSON Schema of a sheet. */
export function quantityPattern(kind: QuantityKind): string {
  const { units, ofRated }: Kind = KINDS[kind];
  const all = [...Object.keys(units), ...(ofRated ? OF_RATED.map(([pattern]) => pattern) : [])];
  return String.raw`^\s*${NUMBER}\s*(?:${all.join("|")})\s*$`;
}
