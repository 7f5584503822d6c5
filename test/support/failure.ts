import { InputError, type Problem } from "tripwright";
import { expect } from "vitest";

/** What was expected reads on behind "expected": it begins with a word or a figure, and no part of it is left out. */
const READS_ON = /^[^\s,:;.](?!.* {2})(.*\S)?$/s;

/** The problems of the InputError that the work raises; any other error, or none, fails the test. */
export function problemsOf(work: () => unknown): readonly Problem[] {
  try {
    work();
  } catch (error) {
    if (!(error instanceof InputError)) throw error;
    for (const { expected } of error.problems) expect(expected).toMatch(READS_ON);
    return error.problems;
  }
  throw new Error("expected an InputError, but nothing was thrown");
}
