/** Readings for tests. */
import type { Reading } from "tripwright/record";

/** The first reading of a check, as found. */
export const taken = (check: string, value: Reading["value"], more: Partial<Reading> = {}): Reading => ({
  check,
  stage: "as-found",
  repeat: 1,
  value,
  ...more,
});
