import { type Problem, sentence } from "./problem.js";

/**
 * The brand is a registered symbol, so that `instanceof` is true across the ESM and CommonJS copies of this library and
 * across two installed versions of it.
 */
const BRAND = Symbol.for("tripwright.InputError");

/**
 * The one error of this library: an input is wrong. It carries every problem as data; the message is made from them.
 *
 * @example
 * import { InputError, cyclesToSeconds } from "tripwright";
 * try {
 *   cyclesToSeconds(12, { frequency: 0 });
 * } catch (error) {
 *   error instanceof InputError; // → true
 *   (error as InputError).problems[0]?.path; // → "frequency"
 *   (error as InputError).message; // → "frequency: expected a frequency above 0 Hz, received 0"
 * }
 */
export class InputError extends RangeError {
  /** What is wrong, at least one problem. */
  readonly problems: readonly Problem[];

  constructor(problems: readonly Problem[]) {
    super(problems.map(sentence).join("\n"));
    this.name = "InputError";
    this.problems = problems;
  }

  get [BRAND]() {
    return true;
  }

  /** Whether a value is an `InputError` of any copy of this library. */
  static override [Symbol.hasInstance](value: unknown): boolean {
    return typeof value === "object" && value !== null && BRAND in value;
  }
}

/** Runs `work`; the problems it raises are told as `tell` makes of them, since the caller knows what was given to it. */
export function retold<T>(tell: (problem: Problem) => Problem, work: () => T): T {
  try {
    return work();
  } catch (error) {
    if (!(error instanceof InputError)) throw error;
    throw new InputError(error.problems.map(tell));
  }
}

/** Runs `work`; the problems it raises get `prefix` in front of their paths, since the caller knows where they stand. */
export function within<T>(prefix: string, work: () => T): T {
  return retold((problem) => ({ ...problem, path: joinPaths(prefix, problem.path) }), work);
}

/** `joinPaths("elements[2]", "pickup")` is `elements[2].pickup`; an index needs no dot before it. */
export function joinPaths(prefix: string, path: string): string {
  if (prefix === "" || path === "") return prefix + path;
  return path.startsWith("[") ? prefix + path : `${prefix}.${path}`;
}
