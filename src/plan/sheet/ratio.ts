import { fail } from "../../base/check.js";
import { type Decimal, decimal } from "../../base/exact.js";
import { readQuantity } from "../../base/quantity.js";
import type { SheetElement } from "./sheet.js";

/** The ratio of an instrument transformer, exactly. */
export interface ExactRatio {
  readonly primary: Decimal;
  readonly secondary: Decimal;
}

/** Stands in for a ratio that could not be read. */
export const unity = (): ExactRatio => ({ primary: decimal(1, ""), secondary: decimal(1, "") });

/** Reads "400/5" or "11 kV/110 V"; nothing is needed where no element needs it. */
export function readRatio(
  typed: string | undefined,
  path: "ct" | "vt",
  neededBy: SheetElement | undefined,
): ExactRatio | undefined {
  const kind = path === "ct" ? "current" : "voltage";
  const example = path === "ct" ? 'a ratio such as "400/5"' : 'a ratio such as "11 kV/110 V"';
  if (typed === undefined) {
    if (neededBy === undefined) return undefined;
    return fail("missing", path, `${example}, which element ${neededBy.id} needs`, typed);
  }
  const [primary, secondary] = typed.split("/").map((part) => readQuantity(part, kind, path, { bareText: true }));
  if (!primary?.gt(0) || !secondary?.gt(0)) return fail("out-of-range", path, `${example}, both above 0`, typed);
  return { primary, secondary };
}
