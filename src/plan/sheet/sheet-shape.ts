/**
 * The shape of a setting sheet for valibot: what `readSheet` holds a sheet against, and what the JSON Schema is made
 * from. The message of every schema says what is expected, so that problems read alike wherever they are found.
 */
import * as v from "valibot";
import { type QuantityKind, quantityExample, quantityPattern } from "../../base/quantity.js";
import { type CurveName, curveNames } from "../../curve/index.js";
import type { Sheet } from "./sheet.js";

/** The message of a typed value names its quantity, from which `readSheet` makes the same problem as a reading would. */
const quantityMessage = (kind: QuantityKind): string => `quantity:${kind}`;

/** The quantity that a message names, if it does. */
export const quantityNamed = (message: string): QuantityKind | undefined =>
  message.startsWith("quantity:") ? (message.slice("quantity:".length) as QuantityKind) : undefined;

function typed(kind: QuantityKind, about: string) {
  const message = quantityMessage(kind);
  const text = v.pipe(v.string(), v.regex(new RegExp(quantityPattern(kind)), message));
  return v.pipe(
    v.union([v.number(), text], message),
    v.description(`${about}: a number in SI units, or text for ${quantityExample(kind)}.`),
  );
}

const lowered = (about: string): string => about.charAt(0).toLowerCase() + about.slice(1);
const asText = (about: string): string => `text: ${lowered(about)}`;

const text = (about: string) => v.pipe(v.string(asText(about)), v.nonEmpty(asText(about)), v.description(`${about}.`));

function oneOf<const T extends readonly string[]>(names: T, about: string) {
  return v.pipe(v.picklist(names, `one of ${names.join(", ")}`), v.description(`${about}.`));
}

const number = (about: string) => v.pipe(v.number(`a number: ${lowered(about)}`), v.description(`${about}.`));

const ratio = (example: string, about: string) =>
  v.pipe(
    v.string(`a ratio such as "${example}"`),
    v.regex(/^[^/]+\/[^/]+$/, `a ratio such as "${example}"`),
    v.description(`${about}, such as "${example}".`),
  );

function tolerance(kind: QuantityKind) {
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

const constants = {
  k: number("The constant k in seconds"),
  alpha: number("The exponent"),
  c: number("The additive constant in seconds"),
};

const curve = v.pipe(
  v.union(
    [
      v.picklist(curveNames as readonly [CurveName, ...CurveName[]]),
      v.strictObject({ form: v.literal("inverse"), ...constants }),
      v.strictObject({ form: v.literal("under"), ...constants }),
    ],
    `one of ${curveNames.join(", ")}, or constants { form, k, alpha, c }`,
  ),
  v.description("A standard curve by name, or constants of t = k/(M^alpha − 1) + c."),
);

function common(kind: "current" | "voltage" | "frequency") {
  return {
    id: text("The name of the element on the sheet"),
    enabled: v.optional(v.boolean("true or false")),
    pickup: typed(kind, "The setting"),
    contact: v.optional(text("The contact that operates after the time law")),
    startContact: v.optional(text("The contact that follows the start without delay")),
    measuringDelay: v.optional(typed("time", "Response of the function apart from its time law")),
    accuracy: v.strictObject(
      { pickup: tolerance(kind), time: tolerance("time") },
      "the published accuracies { pickup, time }",
    ),
    delay: v.optional(typed("time", "A definite time")),
    curve: v.optional(curve),
    multiplier: v.optional(number("The time multiplier of the curve (IEC TMS, IEEE time dial)")),
    startRatio: v.optional(number("The curve starts only beyond this ratio to the setting")),
    ceilingMultiple: v.optional(number("The curve goes flat above this multiple")),
    minimumTime: v.optional(typed("time", "A floor on the curve's time")),
    addedTime: v.optional(typed("time", "Added to the time law")),
  };
}

const element = v.variant(
  "function",
  [
    v.strictObject({
      function: v.picklist(["50", "51"]),
      watches: v.optional(oneOf(["phase"], "The largest phase current")),
      ...common("current"),
    }),
    v.strictObject({
      function: v.picklist(["27", "59"]),
      watches: oneOf(["line-to-line", "line-to-neutral"], "Which voltages are measured"),
      phases: v.optional(oneOf(["any", "all"], "Whether one phase beyond the setting is enough")),
      blockBelow: v.optional(typed("voltage", "Blocked while every watched voltage is below this")),
      ...common("voltage"),
    }),
    v.strictObject({
      function: v.picklist(["81O", "81U"]),
      watches: v.optional(oneOf(["frequency"], "The frequency of the voltage")),
      blockBelow: v.optional(typed("voltage", "Blocked while every voltage to neutral is below this")),
      ...common("frequency"),
    }),
  ],
  "an element with a function, one of 50, 51, 27, 59, 81O, 81U",
);

const source = v.strictObject(
  {
    currentChannels: v.optional(v.picklist([1, 3], "1 or 3")),
    voltageChannels: v.optional(v.picklist([1, 3], "1 or 3")),
    maximumCurrent: v.optional(typed("current", "The most that one current channel can put out")),
    maximumVoltage: v.optional(typed("voltage", "The most that one voltage channel can put out")),
  },
  "a source { currentChannels, voltageChannels, maximumCurrent, maximumVoltage }",
);

/** The whole sheet. */
export const sheetShape = v.strictObject(
  {
    format: v.literal("tripwright/sheet@1", '"tripwright/sheet@1"'),
    $schema: v.optional(v.string("the address of a JSON Schema, as text")),
    substation: text("The substation"),
    feeder: text("The feeder or bay"),
    relay: text("The designation of the relay"),
    note: v.optional(v.string("a note, as text")),
    frequency: typed("frequency", "The frequency of the system"),
    rotation: v.optional(oneOf(["ABC", "ACB"], "The phase rotation")),
    values: oneOf(["primary", "secondary"], "On which side of the instrument transformers the settings are written"),
    ct: v.optional(ratio("400/5", "The current transformer ratio")),
    vt: v.optional(ratio("11 kV/110 V", "The voltage transformer ratio, line to line")),
    source: v.optional(source),
    decisionRule: v.optional(oneOf(["simple", "guarded", "three-way"], "How uncertainty enters the verdicts")),
    elements: v.pipe(
      v.array(element, "a list of elements"),
      v.nonEmpty("a list of one element or more"),
      v.description("The protective functions of the relay."),
    ),
  },
  "a setting sheet, an object",
) satisfies v.GenericSchema<unknown, Sheet>;
