/**
 * Input checks: each returns the value on the happy path and builds text only on failure. `what` names the quantity with
 * its article, as it stands in the sentence that a person reads: "a frequency", "a multiple of the setting". A −0 comes back
 * as 0, so that it cannot come out again where the value is handed on. `Number.isFinite` and `Number.isInteger` are true of
 * numbers alone, which their types do not say.
 */
import { InputError } from "./input-error.js";
import { type ProblemCode, printed } from "./problem.js";

/** Raises an `InputError` with one problem. */
export function fail(code: ProblemCode, path: string, expected: string, received: unknown): never {
  throw new InputError([{ code, path, expected, received: printed(received) }]);
}

/** Raises one for what is missing, or of another type. */
export function failType(path: string, expected: string, received: unknown): never {
  return fail(received === undefined ? "missing" : "wrong-type", path, expected, received);
}

function failNumber(path: string, expected: string, received: unknown): never {
  if (typeof received !== "number") return failType(path, expected, received);
  return fail(Number.isFinite(received) ? "out-of-range" : "not-finite", path, expected, received);
}

/** A finite number. */
export function finite(x: unknown, path: string, what: string): number {
  if (Number.isFinite(x)) return (x as number) + 0;
  return failNumber(path, `${what}, a finite number`, x);
}

/** A finite number above `floor`; `unit` is printed behind the floor. */
export function above(x: unknown, floor: number, path: string, what: string, unit = ""): number {
  if (Number.isFinite(x) && (x as number) > floor) return x as number;
  return failNumber(path, `${what} above ${floor}${unit && ` ${unit}`}`, x);
}

/** A finite number of `floor` or more; `unit` is printed behind the floor. */
export function atLeast(x: unknown, floor: number, path: string, what: string, unit = ""): number {
  if (Number.isFinite(x) && (x as number) >= floor) return (x as number) + 0;
  return failNumber(path, `${what} of ${floor}${unit && ` ${unit}`} or more`, x);
}

/** A whole number from `low` to `high`. */
export function whole(x: unknown, [low, high]: readonly [number, number], path: string, what: string): number {
  if (Number.isInteger(x) && (x as number) >= low && (x as number) <= high) return (x as number) + 0;
  return failNumber(path, `${what}, a whole number from ${low} to ${high}`, x);
}

/** One of the names that are keys of `table`; own keys only, so that `constructor` is no name. */
export function nameIn<K extends string>(name: unknown, table: Readonly<Record<K, unknown>>, path: string): K {
  if (typeof name === "string" && Object.hasOwn(table, name)) return name as K;
  return fail("unknown-name", path, `one of ${Object.keys(table).join(", ")}`, name);
}

/** Text, such as a name. */
export function text(value: unknown, path: string, what: string): string {
  return typeof value === "string" ? value : failType(path, what, value);
}

/** A plain object, not null, and neither an array nor a typed one. */
export function object<T extends object>(value: T, path: string, what: string): T {
  if (typeof value === "object" && value !== null && !Array.isArray(value) && !ArrayBuffer.isView(value)) return value;
  return failType(path, what, value);
}

/** A list of `least` items or more. It may have holes, over which `map` and `forEach` pass in silence: spread it first. */
export function list<T>(value: readonly T[], path: string, what: string, least = 0): readonly T[] {
  if (!Array.isArray(value)) return failType(path, what, value);
  return value.length >= least ? value : fail("wrong-length", path, what, value);
}

/** An object whose keys are all among `known`: a misspelt option must not pass in silence. */
export function options<T extends object>(value: T, known: readonly string[], path = ""): T {
  object(value, path, `an object with ${known.join(", ")}`);
  for (const key of Object.keys(value)) {
    if (!known.includes(key))
      fail("unknown-key", path === "" ? key : `${path}.${key}`, `one of ${known.join(", ")}`, key);
  }
  return value;
}
