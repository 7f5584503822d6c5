/** The shapes that typed values have on a sheet, for valibot. */
import * as v from "valibot";
import { type QuantityKind, quantityExample, quantityPattern } from "../base/quantity.js";

/** The message of a typed value names its quantity, from which `readSheet` makes the same problem as a reading would. */
const quantityMessage = (kind: QuantityKind): string => `quantity:${kind}`;

/** The quantity that a message names, if it does. */
export const quantityNamed = (message: string): QuantityKind | undefined =>
  message.startsWith("quantity:") ? (message.slice("quantity:".length) as QuantityKind) : undefined;

/** A typed quantity: a number, or text that an editor can check. */
export function typed(kind: QuantityKind, about: string) {
  const message = quantityMessage(kind);
  const text = v.pipe(v.string(), v.regex(new RegExp(quantityPattern(kind)), message));
  return v.pipe(
    v.union([v.number(), text], message),
    v.description(`${about}: a number in SI units, or text for ${quantityExample(kind)}.`),
  );
}

const lowered = (about: string): string => about.charAt(0).toLowerCase() + about.slice(1);
const asText = (about: string): string => `text: ${lowered(about)}`;

/** Text that is not empty. */
export const text = (about: string) =>
  v.pipe(v.string(asText(about)), v.nonEmpty(asText(about)), v.description(`${about}.`));

/** One of some names. */
export function oneOf<const T extends readonly string[]>(names: T, about: string) {
  return v.pipe(v.picklist(names, `one of ${names.join(", ")}`), v.description(`${about}.`));
}

/** A plain number. */
export const number = (about: string) => v.pipe(v.number(`a number: ${lowered(about)}`), v.description(`${about}.`));

/** The ratio of an instrument transformer. */
export const ratio = (example: string, about: string) =>
  v.pipe(
    v.string(`a ratio such as "${example}"`),
    v.regex(/^[^/:]+[/:][^/:]+$/, `a ratio such as "${example}"`),
    v.description(`${about}, such as "${example}".`),
  );

function toleranceOf(kind: QuantityKind) {
  return v.strictObject(
    {
      percent: v.optional(typed("percent", "Percent of the nominal value")),
      absolute: v.optional(typed(kind, "The absolute tolerance, at the relay")),
      combine: v.optional(oneOf(["greater", "sum"], "Which counts where both are given")),
      side: v.optional(oneOf(["both", "low", "high"], 'Which limit is declared; "high" for "at most"')),
    },
    'a tolerance such as { "percent": 5, "absolute": "40 ms" }',
  );
}

/** One for each kind, so that the JSON Schema says it once. */
export const tolerances = {
  current: toleranceOf("current"),
  voltage: toleranceOf("voltage"),
  frequency: toleranceOf("frequency"),
  rate: toleranceOf("rate"),
  angle: toleranceOf("angle"),
  activePower: toleranceOf("activePower"),
  impedance: toleranceOf("impedance"),
  ratio: toleranceOf("ratio"),
  time: toleranceOf("time"),
};

/** A typed time. */
export const time = (about: string) => typed("time", about);
