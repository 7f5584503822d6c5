import { fail } from "../base/check.js";
import { made, type Phasor } from "./phasor.js";
import { polar } from "./polar.js";

/** A phasor that was read, with the unit as it was written. */
export interface ParsedPhasor extends Phasor {
  readonly unit?: string;
}

const SIGN = /^[+-]/;
const NUMBER = /^(\d+\.?\d*|\.\d+)(e[+-]?\d+)?/i;
const IMAGINARY = /^[ij](?!\p{L})/u;
const DEGREE = /^[°º]|^deg(?!\p{L})/u;
/** Not j, nor a word that would make another angle of the one before it. */
const UNIT = /^(?![ij](?!\p{L})|º|deg|m?rad|gon|grad|lag|lead)\p{L}[\p{L}./]*|^%/u;

/**
 * Reads a phasor as people write it.
 *
 *     polar        66.4∠-120°   66.4 V ∠ -120
 *     rectangular  3+4j   3 - j4   3 + 4i Ω   5   j5
 *
 * Numbers have a decimal point and may have an exponent; spaces, the degree sign and the unit may be left out, the minus may
 * be typographic. The unit (letters, % and the signs . and /) stands behind the magnitude or at the end, and is given back
 * as it is written; nothing is converted. An angle leads: "lagging" behind it is an error, as radians are.
 *
 * @throws A {@link InputError} for anything else, with the place of the first character that does not fit and what was
 * expected there.
 * Accuracy: that of {@link polar}; rectangular, the doubles nearest to what was written.
 * @source common practice
 *
 * @example
 * import { parsePolar } from "tripwright/phasor";
 * parsePolar("66.4 V ∠ 90°"); // → { re: 0, im: 66.4, unit: "V" }
 * parsePolar("3 - j4"); // → { re: 3, im: -4 }
 * parsePolar("66,4∠30"); // throws InputError
 */
export function parsePolar(text: string): ParsedPhasor {
  if (typeof text !== "string") return fail("wrong-type", "text", 'text such as "66.4∠-120°"', text);
  let rest = text.replaceAll("−", "-");
  let place = 1;
  /** What comes next, spaces aside, where it fits; `place` is where it begins. */
  const take = (pattern: RegExp): string => {
    rest = rest.trimStart();
    place = text.length - rest.length + 1;
    const found = pattern.exec(rest)?.[0] ?? "";
    rest = rest.slice(found.length);
    return found;
  };
  const refuse = (expected: string): never => fail("unreadable", "text", `${expected} at character ${place}`, text);
  /** A number with its sign, and j where it is imaginary: before the number or behind it. */
  const part = (): readonly [number, string] => {
    const sign = take(SIGN);
    const before = take(IMAGINARY);
    const size = Number(take(NUMBER) || refuse("a number"));
    if (!Number.isFinite(size)) refuse("a smaller number");
    return [sign === "-" ? -size : size, before || take(IMAGINARY)];
  };

  const [first, j] = part();
  let unit = j ? "" : take(UNIT);
  let p = made(j ? 0 : first, j ? first : 0, "a phasor");
  let end = "the end";
  if (!j && first >= 0 && take(/^∠/)) {
    const [degrees, odd] = part();
    if (odd) refuse("an angle in degrees");
    p = polar(first, degrees);
    take(DEGREE);
    end = "the end of an angle in leading degrees";
  } else if (!j && !unit && SIGN.test(rest)) {
    const [im, second] = part();
    if (!second) refuse("j, a space before any unit,");
    p = made(first, im, "a phasor");
  } else if (!j) end = `${first < 0 ? "" : "∠, "}${unit ? "" : "± j, "}the end`;
  unit ||= take(UNIT);
  take(/^/);
  if (rest) refuse(end);
  return { ...p, ...(unit && { unit }) };
}
