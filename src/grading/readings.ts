import { fail } from "../base/check.js";
import { finiteDoubles } from "../base/doubles.js";

/** Repeated readings as numbers: a list of at least so many, a typed one too. */
export function readingsOf(given: ArrayLike<number>, path: string, least: number): readonly number[] {
  // Added to 0, a −0 is 0.
  const readings = Array.from(finiteDoubles(given, path, "a reading"), (reading) => reading + 0);
  if (readings.length < least)
    fail("wrong-length", path, `${least} reading${least === 1 ? "" : "s"} or more`, readings.length);
  return readings;
}
