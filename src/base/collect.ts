import { InputError, joinPaths } from "./input-error.js";
import type { Problem } from "./problem.js";

/** Gathers the problems of several pieces of work, so that one slip does not hide the next. */
export interface Collector {
  /** All of them, with full paths. */
  readonly problems: readonly Problem[];
  /**
   * Does the work at a path; where it raises an `InputError`, its problems are kept and the stand-in takes the place of
   * the result. Work on a path that is known to be bad is not done at all.
   */
  readonly attempt: <T>(path: string, standIn: T, work: () => T) => T;
  /** The same collector for what lies below a place: paths are seen from there. */
  readonly below: (place: string) => Collector;
}

/** A new, empty collector. `badPaths` are places whose problems are known already. */
export const collector = (badPaths: readonly string[]): Collector => collectorAt("", badPaths, []);

function collectorAt(place: string, badPaths: readonly string[], problems: Problem[]): Collector {
  const isBad = (path: string) => badPaths.some((bad) => isWithin(bad, path) || isWithin(path, bad));
  return {
    problems,
    attempt: (path, standIn, work) => {
      if (isBad(joinPaths(place, path))) return standIn;
      try {
        return work();
      } catch (error) {
        if (!(error instanceof InputError)) throw error;
        problems.push(...error.problems.map((problem) => ({ ...problem, path: joinPaths(place, problem.path) })));
        return standIn;
      }
    },
    below: (further) => collectorAt(joinPaths(place, further), badPaths, problems),
  };
}

/** Whether a path is a place or lies below it. */
const isWithin = (path: string, place: string): boolean =>
  path === place || path.startsWith(`${place}.`) || path.startsWith(`${place}[`);
