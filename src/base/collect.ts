import { InputError } from "./input-error.js";
import type { Problem } from "./problem.js";

/** Gathers the problems of several pieces of work, so that one slip does not hide the next. */
export interface Collector {
  readonly problems: Problem[];
  /** Does the work; where it raises an `InputError`, its problems are kept and the stand-in takes the place of the result. */
  readonly attempt: <T>(standIn: T, work: () => T) => T;
}

/** A new, empty collector. */
export function collector(): Collector {
  const problems: Problem[] = [];
  return {
    problems,
    attempt: (standIn, work) => {
      try {
        return work();
      } catch (error) {
        if (!(error instanceof InputError)) throw error;
        problems.push(...error.problems);
        return standIn;
      }
    },
  };
}
