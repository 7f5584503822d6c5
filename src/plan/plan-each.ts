import { fail } from "../base/check.js";
import { InputError } from "../base/input-error.js";
import type { Problem } from "../base/problem.js";
import { readSheet } from "../sheet/index.js";
import type { Plan } from "./check.js";
import { plan } from "./plan.js";

/** What came of one sheet of many: its plan, or why there is none. */
export type PlannedSheet =
  | { readonly index: number; readonly relay: string; readonly plan: Plan }
  | { readonly index: number; readonly problems: readonly Problem[] };

/**
 * Plans many sheets, one each time the caller asks for the next: nothing is done ahead, so that the caller sets the pace,
 * shows the progress and stops when it likes. A sheet that is not good stops nobody but itself.
 *
 * @param sheets - Whatever came out of JSON files, in any iterable; it may be endless.
 * @returns A generator of plans and problems, in the order of the sheets; `index` counts from 0.
 * @throws A {@link InputError}, as soon as the first is asked for, where `sheets` cannot be gone through one by one.
 * Accuracy: as {@link plan}.
 * @source design of this library
 *
 * @example
 * import { planEach } from "tripwright/plan";
 * const accuracy = { pickup: { percent: 5 }, time: { absolute: "40 ms" } };
 * const good = {
 *   format: "tripwright/sheet@1", substation: "Corriedale Junction", feeder: "Tannery Lane", relay: "F12",
 *   frequency: "50 Hz", values: "secondary", ct: "400/5",
 *   elements: [{ id: "50P", function: "50", pickup: "40 A", delay: "100 ms", accuracy }],
 * };
 * const planned = [...planEach([good, { ...good, frequency: "fifty" }])];
 * planned.map((item) => "plan" in item ? item.plan.checks.length : item.problems[0]?.path); // → [3, "frequency"]
 */
export function* planEach(sheets: Iterable<unknown>): Generator<PlannedSheet, void, undefined> {
  if (typeof (sheets as Iterable<unknown> | undefined)?.[Symbol.iterator] !== "function")
    fail("wrong-type", "sheets", "sheets that can be gone through one by one", sheets);
  let index = 0;
  for (const given of sheets) {
    yield plannedSheet(given, index);
    index++;
  }
}

function plannedSheet(given: unknown, index: number): PlannedSheet {
  try {
    const sheet = readSheet(given);
    return { index, relay: sheet.relay, plan: plan(sheet) };
  } catch (error) {
    if (!(error instanceof InputError)) throw error;
    return { index, problems: error.problems };
  }
}
