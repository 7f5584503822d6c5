import { InputError, type Problem } from "tripwright";

/** The problems of the InputError that the work raises; any other error, or none, fails the test. */
export function problemsOf(work: () => unknown): readonly Problem[] {
  try {
    work();
  } catch (error) {
    if (error instanceof InputError) return error.problems;
    throw error;
  }
  throw new Error("expected an InputError, but nothing was thrown");
}
