/** The shape of what a sheet says of the source and the inputs, for valibot. */
import * as v from "valibot";
import { time, tolerances, typed } from "./typed-shape.js";

function output(kind: "current" | "voltage") {
  const common = {
    burden: v.optional(typed("impedance", "What the channel feeds, leads included")),
    power: v.optional(typed("power", "What it puts into the burden at most")),
    duty: v.optional(
      v.array(
        v.strictObject(
          {
            above: typed(kind, "A level that it holds for a limited time"),
            atMost: time("For how long"),
            restTime: v.optional(time("The pause after which the time begins anew")),
          },
          "a duty { above, atMost, restTime }",
        ),
        "a list of { above, atMost, restTime }",
      ),
    ),
  };
  return kind === "current"
    ? v.strictObject(
        { ...common, compliance: v.optional(typed("voltage", "What it can drive across the burden")) },
        "the output of a channel { burden, power, compliance, duty }",
      )
    : v.strictObject(common, "the output of a channel { burden, power, duty }");
}

/** The test source at hand. */
export const source = v.strictObject(
  {
    currentChannels: v.optional(v.picklist([1, 3, 6], "1, 3 or 6")),
    voltageChannels: v.optional(v.picklist([1, 3], "1 or 3")),
    maximumCurrent: v.optional(typed("current", "The most that one current channel can put out")),
    maximumVoltage: v.optional(typed("voltage", "The most that one voltage channel can put out")),
    frequency: v.optional(
      v.strictObject(
        { minimum: typed("frequency", "The lowest"), maximum: typed("frequency", "The highest") },
        "a range { minimum, maximum }",
      ),
    ),
    currentOutput: v.optional(output("current")),
    voltageOutput: v.optional(output("voltage")),
    accuracy: v.optional(
      v.strictObject(
        {
          current: v.optional(tolerances.current),
          voltage: v.optional(tolerances.voltage),
          frequency: v.optional(tolerances.frequency),
          time: v.optional(tolerances.time),
        },
        "the accuracies of the source { current, voltage, frequency, time }",
      ),
    ),
  },
  "a source { currentChannels, voltageChannels, maximumCurrent, maximumVoltage, frequency, currentOutput, voltageOutput, accuracy }",
);

function inputRating(kind: "current" | "voltage") {
  return v.optional(
    v.strictObject(
      {
        continuous: v.optional(typed(kind, "What it carries for ever")),
        shortTime: v.optional(
          v.strictObject(
            { value: typed(kind, "What it carries from cold for a time"), time: time("For how long") },
            "a short-time rating { value, time }",
          ),
        ),
      },
      "the rating of an input { continuous, shortTime }",
    ),
  );
}

/** What the inputs of the relay stand. */
export const inputs = v.strictObject(
  { current: inputRating("current"), voltage: inputRating("voltage"), ground: inputRating("current") },
  "the ratings of the relay's inputs { current, voltage, ground }",
);
