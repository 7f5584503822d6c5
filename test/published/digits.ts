/**
 * Compares a double with digits on paper. Doubles are taken with all their binary digits, so that the comparison itself
 * rounds nothing; the library's own exact decimals are not used, since they are among what is checked.
 */
import { Decimal as DecimalJs } from "decimal.js";
import { ulpOf } from "../support/distance.js";

const D = DecimalJs.clone({ defaults: true, precision: 120 });

/** How far from digits that are known beyond a double an answer may lie; of relative and absolute the greater counts. */
export type Bound = { readonly ulps: number } | { readonly relative?: number; readonly absolute?: number };

export interface Comparison {
  /** Ours − the digits, rounded to a double for printing. */
  readonly difference: number;
  /** How far it might have been, as a double for printing. */
  readonly slack: number;
  readonly within: boolean;
}

/** Digits as a source prints them: the answer rounds to them, within half a unit of the last one (300 has its unit at the last 0). */
export function againstPrinted(ours: number, printed: string): Comparison {
  return compared(ours, printed, lastUnit(printed).div(2));
}

/** Digits beyond those of a double: the answer lies within a named bound. */
export function againstExact(ours: number, digits: string, bound: Bound): Comparison {
  const size = read(digits).abs();
  if ("ulps" in bound) return compared(ours, digits, new D(bound.ulps).times(ulpOf(size.toNumber())));
  const { relative = 0, absolute = 0 } = bound;
  return compared(ours, digits, D.max(size.times(relative), absolute));
}

/** What the bound allows, in words. */
export function boundText(bound: Bound): string {
  if ("ulps" in bound) return `${bound.ulps} units in the last place`;
  const { relative, absolute } = bound;
  const texts = [relative === undefined ? "" : `${relative} of the value`, absolute === undefined ? "" : `${absolute}`];
  return texts.filter((part) => part !== "").join(" or ");
}

function compared(ours: number, digits: string, slack: DecimalJs): Comparison {
  const difference = new D(ours.toPrecision(100)).minus(read(digits));
  return { difference: difference.toNumber(), slack: slack.toNumber(), within: difference.abs().lte(slack) };
}

const NUMBER = /^[+-]?\d+(?:\.(\d+))?(?:[eE]([+-]?\d+))?$/;

function parts(digits: string): RegExpExecArray {
  const match = NUMBER.exec(digits);
  if (match === null) throw new Error(`"${digits}" is not a decimal number`);
  return match;
}

const read = (digits: string): DecimalJs => new D(parts(digits)[0]);

/** 0.01 for 2.97 and 2.90, 1 for 300, 10 for 28.86e3. */
function lastUnit(digits: string): DecimalJs {
  const [, decimals = "", exponent = "0"] = parts(digits);
  return new D(10).pow(Number(exponent) - decimals.length);
}
