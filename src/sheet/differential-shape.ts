/** The shape of a differential zone and of differential slopes on a sheet, for valibot. */
import * as v from "valibot";
import { oneOf, ratio, typed } from "./typed-shape.js";

const side = {
  voltage: v.optional(typed("voltage", "Rated, line to line")),
  ratedCurrent: v.optional(typed("current", "Rated current in the secondary circuit")),
  clock: v.optional(
    v.pipe(
      v.picklist([0, 1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11], "a clock number, a whole number from 0 to 11"),
      v.description(
        "The clock number by which this side lags the other: that of the vector group on the low-voltage side.",
      ),
    ),
  ),
  zeroSequence: v.optional(oneOf(["kept", "removed"], "Whether the zero sequence of this side counts")),
};

/** What lies between two sides of current transformers. */
export const differentialZone = v.strictObject(
  {
    power: v.optional(typed("power", "Rated power of the transformer")),
    first: v.optional(v.strictObject(side, "a side { voltage, ratedCurrent, clock, zeroSequence }")),
    second: v.optional(
      v.strictObject(
        { ct: v.optional(ratio("400/5", "The ratio of the current transformers of the second side")), ...side },
        "a side { ct, voltage, ratedCurrent, clock, zeroSequence }",
      ),
    ),
  },
  "a differential zone { power, first, second }",
);

/** One or two slopes. */
export const slopes = v.pipe(
  v.array(
    v.strictObject(
      {
        slope: typed("ratio", "Rise over rise"),
        line: oneOf(["through-origin", "from-knee"], "Where the line of the slope goes"),
        begins: v.optional(typed("current", "The restraint at which it begins")),
      },
      "a slope { slope, line, begins }",
    ),
    "one or two slopes { slope, line, begins }",
  ),
  v.minLength(1, "one or two slopes { slope, line, begins }"),
  v.maxLength(2, "one or two slopes { slope, line, begins }"),
  v.description("One or two slopes of the characteristic, in the order in which they begin."),
);
