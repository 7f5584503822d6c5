/** What may come out of a public function, whatever went in. */
import { InputError } from "tripwright";
import { CallersOwnError, PROTOTYPE_KEYS } from "./odd.js";

/** Longest pieces of a result that are looked at, so that a big answer costs no second. */
const MOST_LOOKED_AT = 200_000;

/**
 * The first thing in a result that breaks a promise: NaN or −0 anywhere; Infinity or a typed array inside an object. What
 * the caller gave and merely gets back is the caller's: an object that is one of the input's own, and extra keys of data.
 *
 * @param {unknown} result
 * @param {unknown} args
 * @returns {string | undefined} What it is and where.
 */
export function brokenPromise(result, args) {
  /** @type {{ value: unknown, path: string, inside: boolean }[]} */
  const open = [{ value: result, path: "", inside: false }];
  const seen = objectsIn(args);
  if (seen.has(result)) seen.delete(result);
  let looked = 0;
  for (let next = open.pop(); next !== undefined && looked++ < MOST_LOOKED_AT; next = open.pop()) {
    const { value, path, inside } = next;
    if (typeof value === "number") {
      if (Number.isNaN(value)) return `NaN at ${path || "the result itself"}`;
      if (Object.is(value, -0)) return `−0 at ${path || "the result itself"}`;
      if (inside && !Number.isFinite(value)) return `${value} at ${path}`;
    } else if (ArrayBuffer.isView(value)) {
      if (seen.has(value)) continue;
      if (inside) return `a typed array at ${path}`;
      const numbers = /** @type {Float64Array} */ (value);
      for (let i = 0; i < numbers.length; i++) {
        if (Number.isNaN(numbers[i])) return `NaN at [${i}]`;
      }
    } else if (typeof value === "object" && value !== null && !seen.has(value)) {
      seen.add(value);
      for (const [key, inner] of Object.entries(value)) {
        const place = /^\d+$/.test(key) ? "[]" : `.${key}`;
        if (!PROTOTYPE_KEYS.includes(key)) open.push({ value: inner, path: `${path}${place}`, inside: true });
      }
    }
  }
  return undefined;
}

/** Every object of the input, found without running a getter. @param {unknown} args @returns {Set<unknown>} */
function objectsIn(args) {
  const found = new Set();
  const open = [args];
  for (let next = open.pop(); next !== undefined && found.size < MOST_LOOKED_AT; next = open.pop()) {
    if (typeof next !== "object" || next === null || found.has(next)) continue;
    found.add(next);
    if (ArrayBuffer.isView(next)) continue;
    try {
      for (const { value } of Object.values(Object.getOwnPropertyDescriptors(next)))
        if (typeof value === "object" && value !== null) open.push(value);
    } catch {
      // A proxy that does not let itself be looked at.
    }
  }
  return found;
}

/**
 * What is wrong with an error that a public function raised; undefined for an InputError that says what it should, and
 * for the caller's own errors.
 *
 * @param {unknown} error
 * @returns {string | undefined}
 */
export function wrongError(error) {
  if (error instanceof CallersOwnError) return undefined;
  if (!(error instanceof InputError)) {
    // Whatever touches a revoked proxy throws, and so does a class in place of a function: the caller's own doing, too.
    if (error instanceof TypeError && /revoked|^Class constructor/.test(error.message)) return undefined;
    const text = error instanceof Error ? `${error.name}: ${error.message}` : String(error);
    return (text.split("\n")[0] ?? "").replace(/\d+/g, "0").slice(0, 160);
  }
  const complete = error.problems.every(
    ({ path, expected, received }) => typeof path === "string" && expected !== "" && received !== "",
  );
  if (error.problems.length === 0 || !complete)
    return `an InputError with nothing to say: ${error.message}`.slice(0, 160);
  return undefined;
}
