/** What kind of problem it is; a closed union, so that a caller can switch on it. */
export type ProblemCode =
  | "missing"
  | "unknown-key"
  | "wrong-type"
  | "not-finite"
  | "out-of-range"
  | "unreadable"
  | "wrong-unit"
  | "decimal-comma"
  | "unknown-name"
  | "duplicate"
  | "wrong-length"
  | "too-many"
  | "conflict"
  | "not-applicable";

/** One thing that is wrong with an input, as data. */
export interface Problem {
  readonly code: ProblemCode;
  /** Which field, such as `elements[2].pickup`; empty when the input itself is meant. */
  readonly path: string;
  /** What was expected, with its unit. */
  readonly expected: string;
  /** What came, as printed text. */
  readonly received: string;
  /** The line of a text file on which it stands, counted from 1. */
  readonly line?: number;
}

/** The sentence that a problem makes: `line 7: elements[2].pickup: expected …, received …`. */
export function sentence(problem: Problem): string {
  const line = problem.line === undefined ? "" : `line ${problem.line}: `;
  const path = problem.path === "" ? "" : `${problem.path}: `;
  return `${line}${path}expected ${problem.expected}, received ${problem.received}`;
}

const LONGEST_PRINT = 60;

/**
 * Prints whatever came, in at most 60 characters, without ever failing on it: cyclic objects, hostile getters and
 * revoked proxies have no printed form. Half of a surrogate pair is left out rather than printed.
 */
export function printed(value: unknown): string {
  if (value === undefined) return "nothing";
  if (typeof value === "function") return "a function";
  if (Object.is(value, -0)) return "-0";
  if (typeof value === "bigint") return shortened(`${value}n`);
  let text: string | undefined;
  try {
    text = typeof value === "object" || typeof value === "string" ? JSON.stringify(value) : String(value);
  } catch {
    // What cannot be printed is said to be so.
  }
  return shortened(text ?? "an object without a printed form");
}

const shortened = (text: string): string =>
  text.length <= LONGEST_PRINT ? text : `${text.slice(0, LONGEST_PRINT - 1).replace(/[\uD800-\uDBFF]$/u, "")}…`;
