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
export function sentence({ line, path, expected, received }: Problem): string {
  const where = (line === undefined ? "" : `line ${line}: `) + (path && `${path}: `);
  return `${where}expected ${expected}, received ${received}`;
}

/**
 * Prints whatever came, in at most 60 characters, without ever failing on it: what has no printed form (a function, a big
 * integer, a cyclic object, a revoked proxy) is named by its type. No character is cut in half.
 */
export function printed(value: unknown): string {
  if (value === undefined) return "nothing";
  let text: string = typeof value;
  try {
    text = text === "number" ? String(value) : (JSON.stringify(value) ?? text);
  } catch {
    // What cannot be printed is named by its type.
  }
  const letters = [...text.slice(0, 122)];
  return letters.length > 60 ? `${letters.slice(0, 59).join("")}…` : text;
}
