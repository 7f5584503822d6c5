import { fail } from "../base/check.js";
import { type Decimal, decimal } from "../base/exact.js";
import { readQuantity } from "../base/quantity.js";
import type { LevelUnit } from "../element/index.js";
import type { SheetElement } from "./sheet.js";

/** The ratio of an instrument transformer, exactly. */
export interface ExactRatio {
  readonly primary: Decimal;
  readonly secondary: Decimal;
}

/** The instrument transformers that a sheet may name. */
export const TRANSFORMERS = {
  ct: { kind: "current", example: "400/5" },
  vt: { kind: "voltage", example: "11 kV/110 V" },
  groundCt: { kind: "current", example: "100/1" },
  openDeltaVt: { kind: "voltage", example: "11 kV/110 V" },
} as const;

/** Which instrument transformer is meant. */
export type Transformer = keyof typeof TRANSFORMERS;

/** The ratios by transformer, as far as the sheet gives them. */
export type Ratios = { readonly [T in Transformer]?: ExactRatio };

/** The transformer behind the quantity that a function watches; frequency is measured on a voltage. */
export function transformerBehind(watches: string, unit: LevelUnit): Transformer {
  if (watches === "ground") return "groundCt";
  if (watches === "open-delta") return "openDeltaVt";
  return unit === "A" ? "ct" : "vt";
}

/** Stands in for a ratio that could not be read. */
export const unity = (): ExactRatio => ({ primary: decimal(1, ""), secondary: decimal(1, "") });

/** Reads "400/5", "400:5" or "11 kV/110 V"; nothing is needed where no element needs it. */
export function readRatio(
  typed: string | undefined,
  path: Transformer,
  neededBy: SheetElement | undefined,
): ExactRatio | undefined {
  const { kind, example: ratio } = TRANSFORMERS[path];
  const example = `a ratio such as "${ratio}"`;
  if (typed === undefined) {
    if (neededBy === undefined) return undefined;
    return fail("missing", path, `${example}, which element ${neededBy.id} needs`, typed);
  }
  return readTyped(typed, path, { kind, example });
}

/** Reads the ratio of any instrument transformer. */
export function readTyped(
  typed: string,
  path: string,
  { kind, example }: { readonly kind: "current" | "voltage"; readonly example: string },
): ExactRatio {
  const [primary, secondary] = typed.split(/[/:]/).map((part) => readQuantity(part, kind, path, { bareText: true }));
  if (!primary?.gt(0) || !secondary?.gt(0)) return fail("out-of-range", path, `${example}, both above 0`, typed);
  // Values in primary would come out thousands of times too large, and nothing else would show it.
  if (primary.lt(secondary))
    return fail("out-of-range", path, `${example}, the primary first and no smaller than the secondary`, typed);
  return { primary, secondary };
}
