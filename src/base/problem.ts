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

/** Prints whatever came, in at most 60 characters, without ever failing on it. */
export function printed(value: unknown): string {
  if (value === undefined) return "nothing";
  if (typeof value === "function") return "a function";
  if (typeof value === "number") return Object.is(value, -0) ? "-0" : String(value);
  if (typeof value === "symbol" || typeof value === "bigint") return shortened(`the ${typeof value} ${String(value)}`);
  return shortened(asJson(value));
}

/** Half of a surrogate pair is left out rather than printed. */
function shortened(text: string): string {
  return text.length <= LONGEST_PRINT ? text : `${text.slice(0, LONGEST_PRINT - 1).replace(/[\uD800-\uDBFF]$/u, "")}…`;
}

/** JSON where there is any; cyclic objects, objects with hostile getters, revoked proxies and the like have none. */
function asJson(value: unknown): string {
  try {
    return JSON.stringify(value) ?? "an object without a printed form";
  } catch {
    return "an object without a printed form";
  }
}
