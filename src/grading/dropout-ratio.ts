import { fail, finite, options } from "../base/check.js";
import { decimal, toNumber } from "../base/exact.js";

/** Where a function picked up, and where it let go. */
export interface PickupAndDropout {
  readonly pickup: number;
  readonly dropout: number;
}

/** How far apart they lie. */
export interface Dropout {
  /** dropout/pickup: below 1 of an over function, above 1 of an under function. */
  readonly ratio: number;
  /** dropout − pickup, in their unit: what counts for frequency. */
  readonly difference: number;
}

/**
 * How a function lets go, as ratio and as difference.
 *
 * @param measured - Both in one unit; the pickup not 0.
 * @throws A {@link InputError} for values that are not finite, a pickup of 0, and unknown keys.
 * Accuracy: the doubles nearest to the exact decimals.
 * @source IEC 60255-1 (ratio of reset to operating value), from memory
 *
 * @example
 * import { dropoutRatio } from "tripwright/grading";
 * dropoutRatio({ pickup: 4, dropout: 3.8 }); // → { ratio: 0.95, difference: -0.2 }
 * dropoutRatio({ pickup: 49, dropout: 49.05 }).difference; // → 0.05
 */
export function dropoutRatio(measured: PickupAndDropout): Dropout {
  const given = options(measured, ["pickup", "dropout"]);
  finite(given.pickup, "pickup", "a pickup");
  finite(given.dropout, "dropout", "a dropout");
  if (given.pickup === 0) fail("out-of-range", "pickup", "a pickup other than 0", given.pickup);
  const [pickup, dropout] = [decimal(given.pickup, "pickup"), decimal(given.dropout, "dropout")];
  return {
    ratio: toNumber(dropout.div(pickup), "pickup"),
    difference: toNumber(dropout.minus(pickup), "dropout"),
  };
}
